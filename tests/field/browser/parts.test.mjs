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
  const [rig, state, fitted, weight] = await page.evaluate(async () => {
    const {rigIn, changeUnits} = await import('/draft.js');
    const vehicle = {axles: [{at: 0, group: 'front'}, {at: 120, group: 'rear'}]};
    const taken = rigIn({tow_vehicle: vehicle, limits: [{of: 'mass_ratio', value: 0.85, against: 4600, source: 'x'}, {of: 'tow_gross', value: 7000, source: 'x'}]},
      {load: 'lb', length: 'in'}, {load: 'kg', length: 'mm'});
    const draft = {root: {units: {load: 'kg', length: 'mm'}, rig: {tow_vehicle: {axles: [{at: 0, group: 'front'}, {at: 3048, group: 'rear'}]}, limits: []}, scales: [],
      states: [{name: 'apart', coupling_height: {value: 508}, ride_heights: {front_left: 457.2}}], modifications: [{what: 'tank', mass: 45.359237, at: 2540}]}, keep() {}};
    draft.root.scales.push({id: 'P1', check_weights: [{mass: 453.59237, load: 454}]});
    changeUnits(draft, {load: 'lb', length: 'in'});
    return [taken, draft.root.states[0], draft.root.modifications[0], draft.root.scales[0].check_weights[0].mass];
  });
  same(rig.limits.map(l => [l.value, l.against ?? null, l.unit]), [[0.85, 4600, 'lb'], [7000, null, 'lb']], 'ratings keep the unit of their plate');
  same(rig.tow_vehicle.axles[1].at, 3048, '120 in');
  same([state.coupling_height.value, state.ride_heights.front_left], [20, 18], '508 mm and 457.2 mm, in inches');
  same([fitted.mass, fitted.at, weight], [100, 100, 1000], '45.359237 kg, 2540 mm and 453.59237 kg, in pounds and inches');
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
  same(places.filter(p => p === 'rig.tow_vehicle.axles[1].at').length, 1, 'what is no number is said once');
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

test('check weights, modifications and ride heights of a weighing under way', async bench => {
  const sheet = sampleRig(() => false);
  sheet.states[0].ride_heights = {front_left: 500};
  bench.linkMayFail = true; // what the laptop refuses is a line in the console
  const id = bench.sheet(sheet), server = await bench.serve();
  const page = await bench.page(await bench.context(), server.origin), hand = new Hand(page);
  const gone = () => page.waitForSelector('dialog', {state: 'detached'});
  await hand.weigh(server, id);
  for (const [scale, mass, load] of [['P2', '500', '502'], ['P2', '1000', '1003']]) {
    await hand.act('add-check_weights');
    await hand.enter('scales[0].id', scale);
    await hand.enter('scales[0].check_weights[0].mass', mass);
    await hand.act('add-it'); // what the scale shows is missing
    await page.waitForSelector('#faults');
    await hand.enter('scales[0].check_weights[0].load', mass === '500' ? '1700' : load); // above its capacity
    if (mass === '500') {
      await hand.act('add-it');
      await until(async () => (await page.locator('#faults').textContent()).includes('capacity'), 'the laptop refuses it');
      await hand.enter('scales[0].check_weights[0].load', load);
    }
    await hand.act('add-it');
    await gone();
  }
  const weights = bench.json('show', id).scales[1].check_weights;
  same(weights.map(w => [w.mass, w.load]), [[500, 502], [1000, 1003]], 'the check weights');
  check(weights.every(w => /^20\d\d-.*[+-]\d\d:\d\d$/.test(w.taken_at)), 'each says when');
  await hand.act('add-check_weights');
  await hand.enter('scales[0].id', 'P2');
  same(await page.locator('[data-part="weights"] li').allTextContents(), ['500 kg: showed 502 kg', '1000 kg: showed 1003 kg'], 'what is there already');
  await hand.close();

  await hand.act('add-modifications');
  await hand.enter('modifications[0].mass', '-12,5');
  await hand.act('add-it');
  await page.waitForSelector('#faults');
  await hand.enter('modifications[0].what', 'spare wheel');
  await hand.enter('modifications[0].at', '4100');
  await hand.act('add-it');
  await gone();
  same(bench.json('show', id).modifications, [{at: 4100, mass: -12.5, what: 'spare wheel'}], 'the modification');

  await hand.tap('[data-state="apart"]');
  await hand.act('complete-state');
  check(await page.locator('#f-states-0-ride_heights-front_left').count() === 0, 'what was measured is not asked for');
  await hand.enter('states.0.ride_heights.rear_left', '538,5');
  await hand.act('complete');
  await gone();
  await until(async () => (await page.textContent('[data-part="ride-heights"]')).includes('rear left 538.5 mm'), 'the page shows the height');
  same(bench.json('show', id).states[0].ride_heights, {front_left: 500, rear_left: 538.5}, 'the heights');
});

test('what was fitted to a rig comes along with it', async bench => {
  const sheet = sampleRig(() => false);
  sheet.modifications = [{what: 'long-range tank', mass: 45.359237, at: 2540, certificate: 'C-114'}];
  bench.sheet(sheet);
  const server = await bench.serve(), page = await bench.page(await bench.context(), server.origin), hand = new Hand(page);
  await hand.open(server);
  await hand.act('new');
  await hand.choose('label[data-value="lb"]');
  await hand.enter('client.name', 'Tallow Creek Water Board');
  await hand.next('setup-rig');
  await page.selectOption('#earlier-rig', {index: 1});
  const shown = async () => Promise.all(['what', 'mass', 'at', 'certificate'].map(name => page.inputValue(`#f-modifications-0-${name}`)));
  same(await shown(), ['long-range tank', '100', '100', 'C-114'], 'the modification, in pounds and inches');
  await page.selectOption('#earlier-rig', {index: 0});
  same(await page.locator('#f-modifications-0-what').count(), 0, 'a new rig has none');
});

test('a session whose id holds a slash', async bench => {
  const sheet = sampleRig(() => false);
  sheet.id = 'depot/2026-10/50% %2F \\ 7';
  const id = bench.sheet(sheet), server = await bench.serve();
  const page = await bench.page(await bench.context({acceptDownloads: true}), server.origin), hand = new Hand(page);
  await page.addInitScript(counting);
  await hand.open(server);
  await hand.tap('[data-session]');
  await page.waitForSelector('main[data-screen="cautions"]');
  await hand.act('acknowledge');
  await page.waitForSelector('[data-part="keys"]');
  await hand.read('apart', {at: 'tow.1.left', load: 640, scale: 'P1'});
  await hand.close();
  await until(() => bench.json('show', id).states[0].readings.length === 1, 'the reading is stored');
  await page.reload();
  await page.waitForSelector('[data-place="tow.1.left"][data-read="1"]');
  await hand.act('finish');
  await page.waitForSelector('[data-part="seal"]');
  await hand.act('correct');
  await page.waitForSelector('main[data-screen="setup-client"]');
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
