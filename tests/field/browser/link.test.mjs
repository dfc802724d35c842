// The link to the laptop goes away in the middle of typing, in every way it can: what was entered waits, is counted,
// outlives the page, and arrives once and in order.

import {test, main, check, same, until, sampleRig} from './harness.mjs';
import {Hand, counting, screen} from './hand.mjs';

const loads = (bench, id, state) => bench.json('show', id).states.find(s => s.name === state).readings.map(r => [r.at, r.load]);
const waits = page => page.evaluate(() => Number((document.querySelector('[data-part="waits"]') || {dataset: {}}).dataset.count || 0));
const told = async (page, number) => {
  await until(async () => await waits(page) === number, `${number} are said to wait`);
  const words = await page.textContent('#waiting');
  check(words.includes(`${number} wait`), `the strip says: ${words}`);
};
const sent = page => until(() => page.evaluate(() => !Object.keys(localStorage).some(key => key.startsWith('steelyard.queue.'))), 'everything is sent');

test('entries wait while the link is cut and the laptop is down', async bench => {
  bench.linkMayFail = true;
  const sheet = sampleRig(), [apart] = sheet.states, typed = apart.readings.slice(0, 9);
  const id = bench.sheet(sampleRig(() => false)), server = await bench.serve();
  const context = await bench.context(), page = await bench.page(context, server.origin);
  await page.addInitScript(counting);
  const hand = new Hand(page);
  await hand.weigh(server, id);
  await hand.read('apart', typed[0]);
  await sent(page);

  await context.setOffline(true);
  for (const reading of typed.slice(1, 3)) await hand.read('apart', reading);
  await hand.close();
  await told(page, 2);
  same(await page.locator('[data-waiting="1"]').count(), 2, 'keys that show a reading that waits');
  await server.kill();
  await context.setOffline(false);
  for (const reading of typed.slice(3, 5)) await hand.read('apart', reading);
  await hand.close();
  await told(page, 4);
  await until(async () => await page.getAttribute('#link', 'data-link') === 'lost', 'the page says that the link is lost');

  // The laptop is back; readings do not get through yet, and the page is loaded anew.
  await context.route('**/readings', route => route.abort());
  await server.start();
  await page.reload();
  await page.waitForSelector(screen('weigh'));
  await told(page, 4);
  await hand.read('apart', typed[5]);
  await hand.close();
  await told(page, 5);
  same(loads(bench, id, 'apart').length, 1, 'readings in the store while the others wait');

  // One gets through, and its acknowledgement is lost: it is sent again and counted once.
  let lost = 0;
  await context.unroute('**/readings');
  await context.route('**/readings', async route => { await route.fetch(); lost += 1; await route.abort(); }, {times: 1});
  await sent(page);
  same(lost, 1, 'acknowledgements lost');
  for (const reading of typed.slice(6)) await hand.read('apart', reading);
  await hand.close();
  await sent(page);
  same(loads(bench, id, 'apart'), typed.map(r => [r.at, r.load]), 'the readings in the store, in their order');
  await until(() => page.evaluate(() => document.getElementById('waiting').hidden), 'nothing is said to wait');
  await until(async () => await page.getAttribute('#link', 'data-link') === 'live', 'the link is live again');
});

test('a state and a striking wait as readings do', async bench => {
  bench.linkMayFail = true;
  const id = bench.sheet(sampleRig((reading, state) => state.name === 'apart')), server = await bench.serve();
  const context = await bench.context(), page = await bench.page(context, server.origin);
  await page.addInitScript(counting);
  const hand = new Hand(page);
  const sheet = sampleRig();
  await hand.weigh(server, id);
  await context.setOffline(true);
  await hand.anotherState({name: 'adjusted', hitched: true, weight_distribution: true});
  const last = sheet.states[2].readings.slice(0, 2);
  for (const reading of last) await hand.read('adjusted', reading);
  await hand.at('apart', 'coupling');
  await hand.act('strike');
  await hand.tap('dialog [data-reason="misread"]');
  await hand.act('strike-it');
  await hand.close();
  await told(page, 4);
  await context.setOffline(false);
  await sent(page);
  same(loads(bench, id, 'adjusted'), last.map(r => [r.at, r.load]), 'readings of the state that waited');
  const struck = bench.json('show', id).states[0].readings.filter(r => r.struck);
  same(struck.map(r => [r.at, r.struck.why || r.struck]), [['coupling', 'misread']], 'the struck reading');
});

test('a page closed with entries waiting and a set-up half typed goes on where it was', async bench => {
  bench.linkMayFail = true;
  const sheet = sampleRig(), id = bench.sheet(sampleRig(() => false)), server = await bench.serve();
  const context = await bench.context();
  let page = await bench.page(context, server.origin), hand = new Hand(page);
  await page.addInitScript(counting);
  await hand.weigh(server, id);
  await context.setOffline(true);
  const typed = sheet.states[0].readings.slice(0, 3);
  for (const reading of typed) await hand.read('apart', reading);
  await page.close();
  await context.route('**/readings', route => route.abort());
  await context.setOffline(false);

  page = await bench.page(context, server.origin);
  hand = new Hand(page);
  await hand.open(server);
  await told(page, 3);
  await hand.act('new');
  await page.waitForSelector(screen('setup-client'));
  await hand.enter('client.name', 'Tallow Creek Water Board');
  await hand.next('setup-rig');
  await hand.enter('rig.tow_vehicle.label', 'survey utility 12');
  await hand.enter('rig.tow_vehicle.axles.1.at', '30');
  await page.close();

  page = await bench.page(context, server.origin);
  hand = new Hand(page);
  await context.unroute('**/readings');
  await hand.open(server);
  await page.waitForSelector(screen('desk'));
  check((await page.textContent('[data-act="new"]')).includes('Go on'), 'the desk says that a set-up waits');
  await hand.act('new');
  await page.waitForSelector(screen('setup-client'));
  same(await page.inputValue('#f-client-name'), 'Tallow Creek Water Board', 'the client');
  await hand.next('setup-rig');
  same([await page.inputValue('#f-rig-tow_vehicle-label'), await page.inputValue('#f-rig-tow_vehicle-axles-1-at')], ['survey utility 12', '30'], 'the rig');
  await sent(page);
  same(loads(bench, id, 'apart'), typed.map(r => [r.at, r.load]), 'the readings in the store');
});

await main();
