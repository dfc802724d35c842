// What a weigher's hand does on the page: taps, and the figures of a sheet entered field by field.

import {check, until} from './harness.mjs';

/// The id of the field for a place in the sheet, as form.js makes it.
export const field = place => '#f-' + place.replace(/[^A-Za-z0-9_]+/g, '-');
export const screen = name => `main[data-screen="${name}"]`;
const quoted = text => `"${text.replace(/["\\]/g, '\\$&')}"`;
const act = name => `[data-act="${name}"]`;

export class Hand {
  constructor(page) { this.page = page; }

  tap(selector) { return this.page.locator(selector).first().tap(); }
  /// One of a few side by side; whichever of control and label lies on top.
  choose(label) { return this.tap(`.chip:has(> ${label})`); }
  act(name) { return this.tap(act(name)); }
  async type(selector, text) {
    await this.tap(selector);
    await this.page.locator(selector).fill(''); // what stood there is taken out
    await this.page.keyboard.insertText(String(text));
  }
  /// Enters a value where the sheet has one; a field within folded details is unfolded first.
  async enter(place, value) {
    if (value === undefined || value === '') return;
    const selector = field(place), control = this.page.locator(selector);
    await control.waitFor({state: 'attached'});
    for (let i = 0; i < 3 && !await control.isVisible(); ++i)
      await control.locator('xpath=ancestor::details[not(@open)][1]/summary').last().tap();
    const kind = await control.evaluate(e => e.tagName === 'SELECT' ? 'select' : e.type);
    if (kind === 'select') await control.selectOption(String(value));
    else if (kind === 'checkbox') { if (await control.isChecked() !== value) await control.tap(); }
    else if (kind === 'date' || kind === 'datetime-local') await control.fill(String(value));
    else await this.type(selector, value);
  }
  async measured(place, value) {
    if (value === undefined) return;
    const m = typeof value === 'number' ? {value} : value;
    await this.enter(`${place}.value`, m.value);
    await this.enter(`${place}.u`, m.u);
  }
  async open(server, hash = '') { await this.page.goto(server.page + hash); }
  /// The weighing screen of a session that is in the store.
  async weigh(server, id) {
    await this.page.goto(`${server.page}#/s/${id}`);
    await this.page.waitForSelector(`${screen('cautions')}, ${screen('weigh')}`);
    if (await this.page.locator(screen('cautions')).count()) await this.act('acknowledge');
    await this.page.waitForSelector(`${screen('weigh')} [data-part="keys"]`);
  }
  async next(name) { await this.act('next-step'); await this.page.waitForSelector(screen(name)); }

  /// The whole set-up of a sheet, from the desk to the first weighing screen.
  async setUp(sheet) {
    await this.fillIn(sheet);
    await this.page.waitForSelector(screen('cautions'));
    await this.act('acknowledge');
    await this.page.waitForSelector(screen('weigh'));
  }
  /// The steps of a set-up alone, from the desk until it is sent.
  async fillIn(sheet) {
    await this.act('new');
    await this.page.waitForSelector(screen('setup-client'));
    await this.choose(`label[data-value="${sheet.units.load}"]`);
    await this.enter('client.name', sheet.client.name);
    await this.enter('client.reference', sheet.client.reference);
    await this.next('setup-rig');
    await this.rig(sheet.rig);
    for (const [i, one] of (sheet.modifications || []).entries()) {
      await this.act('new-modification');
      for (const name of ['what', 'mass', 'at', 'certificate']) await this.enter(`modifications.${i}.${name}`, one[name]);
    }
    await this.next('setup-scales');
    for (const [i, scale] of sheet.scales.entries()) await this.scale(i, scale);
    await this.next('setup-limits');
    for (const [i, limit] of sheet.rig.limits.entries()) await this.limit(i, limit);
    await this.next('setup-day');
    await this.day(sheet);
    await this.next('setup-state');
    await this.state('states.0', sheet.states[0]);
    await this.act('send');
  }
  async rig(rig) {
    const tow = rig.tow_vehicle, at = 'rig.tow_vehicle';
    await this.enter(`${at}.label`, tow.label);
    await this.enter(`${at}.registration`, tow.registration);
    for (const [i, axle] of tow.axles.entries()) {
      if (i) await this.enter(`${at}.axles.${i}.at`, axle.at);
      await this.enter(`${at}.axles.${i}.group`, axle.group);
    }
    await this.measured(`${at}.overhang`, tow.overhang);
    await this.enter(`${at}.wheelbase_u`, tow.wheelbase_u);
    await this.measured(`${at}.cg_height`, tow.cg_height);
    if (!rig.trailer) return;
    const trailer = rig.trailer, t = 'rig.trailer';
    await this.choose('label[for="has-trailer-0"]');
    await this.enter(`${t}.label`, trailer.label);
    await this.enter(`${t}.registration`, trailer.registration);
    await this.enter(`${t}.axles`, trailer.axles);
    if (trailer.axles > 1) await this.choose(`label[data-value="${trailer.suspension}"]`);
    await this.measured(`${t}.coupling_to_axles`, trailer.coupling_to_axles);
    await this.measured(`${t}.coupling_to_jockey`, trailer.coupling_to_jockey);
  }
  async scale(i, scale) {
    await this.act('new-scale');
    for (const name of ['id', 'serial', 'capacity', 'division', 'certificate', 'calibrated', 'due', 'repeatability', 'zero_before'])
      await this.enter(`scales.${i}.${name}`, scale[name]);
    if (scale.gain_u !== undefined) await this.enter(`scales.${i}.gain_u`, Number((scale.gain_u * 100).toPrecision(12))); // per cent
    for (const [k, weight] of (scale.check_weights || []).entries()) {
      const card = this.page.locator('section.card').nth(i);
      if (!k) await card.locator('summary').last().tap();
      await card.locator(act('new-weight')).tap();
      for (const name of ['mass', 'load']) await this.enter(`scales.${i}.check_weights.${k}.${name}`, weight[name]);
    }
  }
  async limit(i, limit) {
    const at = `rig.limits.${i}`, ratio = /share|restoration/.test(limit.of);
    await this.act('new-limit');
    await this.enter(`${at}.of`, limit.of);
    if (limit.load_index !== undefined) {
      await this.page.locator('section.card').nth(i).locator('button.link').tap();
      await this.enter(`${at}.load_index`, limit.load_index);
      if (limit.tyres > 1) await this.enter(`${at}.tyres`, limit.tyres); // silent: one
    } else await this.enter(`${at}.value`, ratio ? Number((limit.value * 100).toPrecision(12)) : limit.value);
    for (const name of ['part', 'source', 'edition', 'read_by', 'with_weight_distribution', 'advice']) await this.enter(`${at}.${name}`, limit[name]);
  }
  async day(sheet) {
    const [, when, offset] = /^(.{16}):\d\d(.*)$/.exec(sheet.weighed.at);
    await this.page.fill('#f-weighed-at', when);
    await this.type('#weighed-offset', offset);
    for (const name of ['place', 'technician', 'purpose']) await this.enter(`weighed.${name}`, sheet.weighed[name]);
    for (const name of ['surface', 'wind']) await this.enter(`conditions.${name}`, sheet.conditions[name]);
    for (const name of ['fuel_percent', 'occupants', 'note']) await this.enter(`carried.${name}`, sheet.carried[name]);
  }
  /// A state by its preset, in the set-up or in the dialog for another one.
  async state(at, state) {
    const preset = this.page.locator(`[data-preset=${quoted(state.name)}]`);
    if (await preset.count()) await preset.tap();
    else {
      await this.enter(`${at}.name`, state.name);
      await this.choose(`label[for="${at}-hitched-${state.hitched ? 1 : 0}"]`);
    }
    await this.enter(`${at}.weight_distribution`, state.weight_distribution);
    await this.measured(`${at}.coupling_height`, state.coupling_height);
    await this.measured(`${at}.slope`, state.slope);
    for (const [corner, height] of Object.entries(state.ride_heights || {})) await this.enter(`${at}.ride_heights.${corner}`, height);
  }
  async anotherState(state) {
    await this.act('another-state');
    await this.page.waitForSelector('dialog[data-dialog="state"]');
    await this.state('states.0', state);
    await this.act('keep-state');
    await this.page.waitForSelector(`[data-state=${quoted(state.name)}][aria-current]`);
  }
  /// Makes the keys of a place stand open, by the walk that the page proposes or by the key of the place.
  async at(state, place) {
    const entry = this.page.locator('dialog[data-dialog="entry"]');
    if (await entry.count()) {
      const here = await entry.evaluate(e => [e.dataset.state, e.dataset.at]);
      if (here[0] === state && here[1] === place) return true;
      await entry.locator(act('close')).tap();
    }
    const tab = this.page.locator(`button[data-state=${quoted(state)}]`);
    if (await tab.getAttribute('aria-current') === null) await tab.tap();
    const key = this.page.locator(`[data-place="${place}"]`);
    if (!await key.isVisible()) await this.page.locator('details[data-k^="whole"] > summary').tap();
    await key.tap();
    await entry.waitFor();
    return false;
  }
  /// One reading, by the keys of the page; returns whether the page had gone to the place by itself.
  async read(state, reading) {
    const led = await this.at(state, reading.at);
    await this.keys(reading.load);
    for (const scale of [reading.scale].flat().filter(Boolean)) {
      const chip = this.page.locator(`#entry-scales .chip:has(> label[data-scale="${scale}"])`);
      if (!await chip.locator('input').isChecked()) await chip.tap();
    }
    const before = await this.kept();
    await this.tap(`dialog ${act('save')}`);
    await until(async () => await this.kept() > before, `the reading ${reading.load} at ${reading.at} is kept`);
    return led;
  }
  async keys(load) {
    for (const sign of String(load)) await this.tap(`[data-key="${sign}"]`);
    check(await this.page.inputValue('#entry-load') === String(load), `the display shows ${await this.page.inputValue('#entry-load')} after ${load}`);
  }
  async close() {
    const entry = this.page.locator('dialog[open] >> ' + act('close'));
    while (await entry.count()) await entry.last().tap();
  }
  /// How many readings this page has put into its queue so far.
  kept() { return this.page.evaluate(() => window.countOfKept || 0); }
}

/// Counts what is put into the queue, before the page's own scripts run.
export const counting = () => {
  const put = Storage.prototype.setItem;
  Storage.prototype.setItem = function (key, value) {
    if (key.startsWith('steelyard.queue.') && !value.includes('"refused"')) window.countOfKept = (window.countOfKept || 0) + 1;
    put.call(this, key, value);
  };
};
