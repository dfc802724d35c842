// Every screen and dialog held against WCAG 2.2 AA and best practice by axe-core, light and dark.

import {test, main, check, axeSource} from './harness.mjs';
import {parts} from './screens.mjs';

const runOnly = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'];

for (const [part, walk] of Object.entries(parts))
  test(`accessible: ${part}`, async bench => {
    const found = [];
    let rules = 0;
    await walk(bench, async (name, page) => {
      for (const colorScheme of ['light', 'dark']) {
        await page.emulateMedia({colorScheme});
        // Colours are those at rest; a frame may never come to a page that the browser takes for hidden.
        await page.evaluate(() => Promise.race([new Promise(done => setTimeout(done, 500)),
          new Promise(done => requestAnimationFrame(() => done(Promise.allSettled(document.getAnimations().map(a => a.finished)))))]));
        if (!await page.evaluate(() => Boolean(window.axe))) await page.evaluate(`${axeSource};0`);
        const result = await page.evaluate(tags => window.axe.run(document, {runOnly: tags, resultTypes: ['violations']}), runOnly);
        rules = Math.max(rules, result.passes.length);
        for (const v of result.violations)
          for (const node of v.nodes) found.push(`${name}, ${colorScheme}: ${v.id}: ${node.html.slice(0, 200)}: ${node.failureSummary.replace(/\s+/g, ' ').slice(0, 300)}`);
      }
      await page.emulateMedia({colorScheme: 'light'});
    });
    check(rules > 20, `only ${rules} rules were passed: nothing was looked at`);
    check(found.length === 0, `${found.length} faults:\n${found.slice(0, 30).join('\n')}`);
  });

await main();
