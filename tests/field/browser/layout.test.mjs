// At 320 px, and where the page is zoomed to 200 % on a phone and on a small desktop: nothing has to be scrolled sideways,
// everything can be reached, and whatever is pressed is at least 48 CSS px high and wide.

import {test, main, check, phone} from './harness.mjs';
import {parts} from './screens.mjs';

const sizes = [{width: 195, height: 422}, {width: 320, height: 640}, {width: 640, height: 360}, {width: 390, height: 844}];

/// In the page: what overflows, what is too small, what something else lies over.
function faults() {
  const out = [], box = [...document.querySelectorAll('dialog[open]')].pop(), within = box || document.body;
  const name = e => `<${e.tagName.toLowerCase()} ${e.id || e.dataset.act || e.dataset.k || e.className || ''}> “${(e.innerText || e.value || '').trim().slice(0, 40)}”`;
  const root = document.scrollingElement;
  for (const e of [root, ...document.querySelectorAll('dialog[open]')])
    if (e.scrollWidth > e.clientWidth) {
      const widest = [...e.querySelectorAll('*')].filter(c => !c.closest('.unseen, svg') && c.getBoundingClientRect().right > e.getBoundingClientRect().left + e.clientWidth + 0.5).pop();
      out.push(`${e === root ? 'the page' : 'a dialog'} is ${e.scrollWidth} px wide in ${e.clientWidth}${widest ? `: ${name(widest)}` : ''}`);
    }
  const shown = e => e.checkVisibility({visibilityProperty: true}) && !e.closest('.skip, [inert]');
  const scrolled = scrollY, inner = box && box.scrollTop;
  for (const e of within.querySelectorAll('button, input, select, textarea, summary, a[href]')) {
    if (!shown(e)) continue;
    const rects = [e, ...(e.type === 'checkbox' || e.type === 'radio' ? e.labels : [])].map(part => part.getBoundingClientRect());
    const width = Math.max(...rects.map(r => r.right)) - Math.min(...rects.map(r => r.left));
    const height = Math.max(...rects.map(r => r.bottom)) - Math.min(...rects.map(r => r.top));
    if (width < 47.9 || height < 47.9) out.push(`${name(e)} is ${Math.round(width)} × ${Math.round(height)} px`);
    e.scrollIntoView({block: 'center', behavior: 'instant'});
    const r = e.getBoundingClientRect(), x = r.left + r.width / 2, y = r.top + r.height / 2, hit = document.elementFromPoint(x, y);
    const own = hit && (e.contains(hit) || [...(e.labels || [])].some(label => label.contains(hit)) || (e.closest('.chip') && e.closest('.chip').contains(hit)));
    if (!own) out.push(`${name(e)} at ${Math.round(x)}, ${Math.round(y)} cannot be reached${hit ? `: ${name(hit)} lies over it` : ''}`);
  }
  scrollTo(0, scrolled);
  if (box) box.scrollTop = inner;
  return out;
}

for (const [part, walk] of Object.entries(parts))
  test(`layout: ${part}`, async bench => {
    const found = [];
    let screens = 0;
    await walk(bench, async (name, page) => {
      screens += 1;
      for (const size of sizes) {
        await page.setViewportSize(size);
        await page.evaluate(() => Promise.race([new Promise(done => setTimeout(done, 500)), new Promise(done => requestAnimationFrame(() => requestAnimationFrame(done)))]));
        for (const fault of await page.evaluate(faults)) found.push(`${name} at ${size.width} × ${size.height}: ${fault}`);
      }
      await page.setViewportSize(phone.viewport);
    });
    console.log(`  ${screens} screens at ${sizes.length} sizes`);
    check(found.length === 0, `${found.length} faults of layout:\n${found.join('\n')}`);
  });

await main();
