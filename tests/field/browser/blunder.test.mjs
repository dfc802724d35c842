// Two digits swapped while typing. The test does what the page says and nothing else, and the weighing ends well.

import {test, main, check, same, until, sampleRig} from './harness.mjs';
import {Hand, counting} from './hand.mjs';

const at = 'tow.2.right', state = 'together';
const true_ = 749, typed = 479; // the second reading there; its digits 7 and 4 swapped

test('a swapped pair of digits is found, explained, struck and weighed again', async bench => {
  const sheet = sampleRig(reading => reading.id !== 'r26');
  same(sampleRig().states[1].readings.find(r => r.id === 'r26').load, true_, 'the reading in the sheet');
  const id = bench.sheet(sheet), server = await bench.serve();
  const page = await bench.page(await bench.context(), server.origin);
  await page.addInitScript(counting);
  const hand = new Hand(page);
  await hand.weigh(server, id);
  await until(async () => (await page.textContent('[data-part="trust"]')).includes('agree'), 'the readings agree so far');
  await hand.read(state, {at, load: typed, scale: 'P4'});
  await hand.close();

  await page.waitForSelector('[data-part="suspects"]');
  check((await page.textContent('#strip')).includes('does not fit'), 'the strip says that something does not fit');
  await until(async () => (await page.textContent('#alarm')).includes('does not fit'), 'it is said to a screen reader');
  const said = await page.innerText('[data-part="suspects"]');
  check(/tow vehicle axle 2, right/i.test(said) && said.includes(state), `the place is named: ${said}`);
  check(said.includes('digits swapped') && said.includes(String(typed)) && said.includes(String(true_)), `the swapped digits are explained: ${said}`);
  same(await page.getAttribute(`[data-place="${at}"]`, 'data-suspect'), 'true', 'the key of the place');

  // What the page opens, with what the scale shows there.
  await hand.act('read-suspect');
  const entry = page.locator('dialog[data-dialog="entry"]');
  await entry.waitFor();
  const here = await entry.evaluate(e => [e.dataset.state, e.dataset.at]);
  const shows = sampleRig().states.find(s => s.name === here[0]).readings.filter(r => r.at === here[1]).pop();
  check(shows, `the page leads to a place that can be read: ${here}`);
  await hand.keys(shows.load);
  await hand.act('save');
  await hand.close();

  // The one that is named is struck.
  await page.locator(`button[data-state="${state}"]`).tap();
  await page.waitForSelector('[data-suspect="true"]');
  await hand.tap('[data-suspect="true"]');
  const named = entry.locator('li[data-reading]', {hasText: 'does not fit'});
  await until(async () => await named.count() === 1, 'one reading is marked');
  check((await named.innerText()).includes(String(typed)), 'it is the one with the swapped digits');
  await named.locator('[data-act="strike"]').tap();
  await hand.act('strike-it'); // without a reason nothing is struck
  await until(async () => (await page.textContent('#strike-told')).length > 0, 'a reason is asked for');
  await hand.tap('[data-reason="typed wrong"]');
  await hand.act('strike-it');
  await entry.locator('li.struck', {hasText: 'typed wrong'}).waitFor();
  await hand.close();
  await until(async () => await page.locator('[data-part="suspects"]').count() === 0 && (await page.textContent('[data-part="trust"]')).includes('agree'), 'the readings agree again');

  const stored = bench.json('show', id).states.find(s => s.name === state).readings.filter(r => r.struck);
  same(stored.map(r => [r.at, r.load, r.struck.why || r.struck]), [[at, typed, 'typed wrong']], 'the struck reading on record');
  const result = bench.json('reconcile', id);
  same([result.suspects.length, result.fit.consistent], [0, true], 'suspects, consistent');
});

await main();
