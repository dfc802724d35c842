// Parts of the page asked for by themselves, in the page: numbers as people type them, units, what a draft lacks, and
// entries of which a state was refused. Each figure by hand; 1 lb = 0.45359237 kg and 1 in = 25.4 mm by definition.

import {test, main, check, same, until, sampleRig} from './harness.mjs';
import {Hand, counting} from './hand.mjs';

async function opened(bench) {
  const server = await bench.serve(), page = await bench.page(await bench.context(), server.origin);
  await page.addInitScript(counting);
  await page.goto(server.page);
  return [server, page];
}

test('numbers as people type them', async bench => {
  const [, page] = await opened(bench);
  const read = await page.evaluate(async () => {
    const {number} = await import('/units.js');
    return ['1850', '1 234,5', '1234.5', '-0,5', '−3', '4,500', '12,500,000', '1e3', '', '1.2.3', '0,25'].map(number);
  });
  same(read, [1850, 1234.5, 1234.5, -0.5, -3, null, null, null, null, null, 0.25], 'as numbers');
});

test('what is taken over in other units stays what it was', async bench => {
  const [, page] = await opened(bench);
  const [rig, state] = await page.evaluate(async () => {
    const {rigIn, changeUnits} = await import('/draft.js');
    const vehicle = {axles: [{at: 0, group: 'front'}, {at: 120, group: 'rear'}]};
    const taken = rigIn({tow_vehicle: vehicle, limits: [{of: 'mass_ratio', value: 0.85, against: 4600, source: 'x'}, {of: 'tow_gross', value: 7000, source: 'x'}]},
      {load: 'lb', length: 'in'}, {load: 'kg', length: 'mm'});
    const draft = {root: {units: {load: 'kg', length: 'mm'}, rig: {tow_vehicle: {axles: [{at: 0, group: 'front'}, {at: 3048, group: 'rear'}]}, limits: []}, scales: [],
      states: [{name: 'apart', coupling_height: {value: 508}, ride_heights: {front_left: 457.2}}]}, keep() {}};
    changeUnits(draft, {load: 'lb', length: 'in'});
    return [taken, draft.root.states[0]];
  });
  same(rig.limits.map(l => [l.value, l.against ?? null, l.unit]), [[0.85, 4600, 'lb'], [7000, null, 'lb']], 'ratings keep the unit of their plate');
  same(rig.tow_vehicle.axles[1].at, 3048, '120 in');
  same([state.coupling_height.value, state.ride_heights.front_left], [20, 18], '508 mm and 457.2 mm, in inches');
});

test('a field that is not there any more holds nothing up', async bench => {
  const [, page] = await opened(bench);
  const places = await page.evaluate(async () => {
    const {missing} = await import('/draft.js');
    const {draftOf} = await import('/form.js');
    const draft = draftOf({client: {name: 'Tallow Creek Water Board'}, weighed: {at: '2026-10-03T08:40:00+02:00'}, scales: [], states: [{name: 'apart', hitched: false}],
      rig: {tow_vehicle: {axles: [{at: 0, group: 'front'}, {at: 'x', group: 'rear'}]}, limits: []}});
    draft.bad.add('rig.limits.0.load_index').add('rig.tow_vehicle.axles.1.at');
    return missing(draft).map(m => m.place);
  });
  check(!places.some(p => p.includes('load_index')), `${places}`);
  check(places.some(p => p.includes('axles')), `${places}`);
});

test('a rating that holds only without weight distribution', async bench => {
  const id = bench.sheet(sampleRig(() => false)), server = await bench.serve();
  const page = await bench.page(await bench.context(), server.origin), hand = new Hand(page);
  await hand.weigh(server, id);
  await page.goto(`${server.page}#/s/${id}/correct/limits`);
  await hand.enter('rig.limits[0].with_weight_distribution', 'false');
  await hand.act('send');
  await hand.type('#f-why', 'the rating holds with slack bars only');
  await hand.type('#f-by', 'T. Marama');
  await hand.act('record');
  await page.waitForSelector('main[data-screen="weigh"]');
  same(bench.json('show', id).rig.limits[0].with_weight_distribution, false, 'as stored');
  await page.goto(`${server.page}#/s/${id}/correct/limits`);
  await page.waitForSelector('main[data-screen="setup-limits"]');
  same(await page.inputValue('#f-rig-limits-0-with_weight_distribution'), 'false', 'as shown again');
});

test('readings of a state that was refused wait for a person', async bench => {
  const id = bench.sheet(sampleRig(() => false)), server = await bench.serve();
  bench.linkMayFail = true; // the refusal is a line in the console
  const page = await bench.page(await bench.context(), server.origin), hand = new Hand(page);
  await page.addInitScript(counting);
  await hand.weigh(server, id);
  // Another phone's state of that name stands there, arranged otherwise.
  await page.evaluate(async session => {
    const queue = await import('/queue.js');
    queue.add('state', session, {name: 'as driven', hitched: true, weight_distribution: false});
    queue.add('reading', session, {state: 'as driven', id: 'k7m2q-9xd0f', at: 'tow.2', load: 1790, unit: 'kg'});
  }, id);
  await until(async () => await page.evaluate(async session => (await (await import('/queue.js')).apart(session)).length, id) === 2, 'both are set apart');
  const states = bench.json('show', id).states;
  same(states.flatMap(s => s.readings.map(r => r.id)), [], 'nothing was stored');
});

await main();
