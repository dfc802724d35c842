// Every screen and every dialog of the page, one after another; `visit(name, page)` is called on each. In four parts, so
// that no test takes long.

import {check, until, sampleRig} from './harness.mjs';
import {Hand, counting, screen} from './hand.mjs';

const dialog = name => `dialog[data-dialog="${name}"]`;

async function opened(bench, server) {
  const page = await bench.page(await bench.context(), server.origin);
  await page.addInitScript(counting);
  return new Hand(page);
}

/// The rig with one reading whose digits are swapped, so that something does not fit.
export function blundered() {
  const sheet = sampleRig();
  sheet.states[1].readings.find(reading => reading.id === 'r26').load = 479;
  return sheet;
}

export async function setUpScreens(bench, visit) {
  const server = await bench.serve(), hand = await opened(bench, server), page = hand.page;
  const sheet = sampleRig();
  await hand.open(server);
  await page.waitForSelector(screen('desk'));
  await visit('desk, empty', page);
  await hand.act('new');
  await page.waitForSelector(screen('setup-client'));
  await visit('client', page);
  await hand.act('next-step');
  await page.waitForSelector('#faults');
  await visit('client, missing', page);
  await hand.enter('client.name', sheet.client.name);
  await hand.next('setup-rig');
  await hand.rig(sheet.rig);
  await hand.act('new-modification');
  await hand.enter('modifications.0.what', 'long-range tank');
  await visit('rig', page);
  await hand.next('setup-scales');
  await hand.scale(0, {...sheet.scales[0], check_weights: [{mass: 500, load: 501}]});
  await visit('scales', page);
  await hand.next('setup-limits');
  await visit('ratings, none', page);
  const limits = sheet.rig.limits.filter(l => ['tow_gross', 'coupling_share_minimum', 'wheel.trailer.1'].includes(l.of));
  for (const [i, limit] of limits.entries()) await hand.limit(i, limit);
  await hand.limit(3, sheet.rig.limits[8]);
  await visit('ratings', page);
  await hand.next('setup-day');
  await visit('day', page);
  await hand.next('setup-state');
  await visit('state', page);
  await hand.state('states.0', sheet.states[0]);
  await visit('state, apart', page);
  await hand.act('discard');
  await page.waitForSelector('dialog[open]');
  await visit('discard', page);
  await hand.close();
}

export async function weighingScreens(bench, visit) {
  const sheet = blundered();
  delete sheet.states[1].slope;
  const id = bench.sheet(sheet), server = await bench.serve(), hand = await opened(bench, server), page = hand.page;
  await hand.open(server);
  await page.waitForSelector(`[data-session="${id}"]`);
  await visit('desk', page);
  await hand.tap(`[data-session="${id}"]`);
  await page.waitForSelector(screen('cautions'));
  await visit('cautions', page);
  await hand.act('acknowledge');
  await page.waitForSelector('[data-part="suspects"]');
  await hand.tap(`[data-state="${sheet.states[1].name}"]`);
  await page.waitForSelector('[data-suspect="true"]');
  await visit('weighing', page);
  await hand.tap('[data-suspect="true"]');
  await page.waitForSelector(dialog('entry'));
  await visit('entry', page);
  await hand.act('strike');
  await page.waitForSelector(dialog('strike'));
  await hand.act('strike-it');
  await visit('strike', page);
  await hand.tap(`${dialog('strike')} [data-act="close"]`);
  await hand.close();
  await page.locator('details[data-k^="whole"] > summary').tap();
  await hand.tap('[data-place="tow.1"]');
  await page.waitForSelector(dialog('entry'));
  await visit('entry of an axle', page);
  await hand.close();
  await hand.act('another-state');
  await page.waitForSelector(dialog('state'));
  await hand.act('keep-state');
  await page.waitForSelector('#faults');
  await visit('another state', page);
  await hand.close();
  await hand.act('complete-state');
  await page.waitForSelector(dialog('complete'));
  await visit('complete a state', page);
  await hand.close();
  for (const what of ['scales', 'check_weights', 'limits', 'modifications']) {
    await hand.act(`add-${what}`);
    await page.waitForSelector(dialog(what));
    await hand.act('add-it');
    await page.waitForSelector('#faults');
    await visit(`add ${what}`, page);
    await hand.close();
  }
}

export async function troubledScreens(bench, visit) {
  bench.linkMayFail = true;
  const id = bench.sheet(sampleRig(() => false)), server = await bench.serve('--listen', '127.0.0.1'), hand = await opened(bench, server), page = hand.page;
  await hand.open(server);
  await page.waitForSelector(screen('enter'));
  await hand.type('#code', '2222-2222');
  await hand.act('enter');
  await until(async () => (await page.textContent('#code-fault')).length > 0, 'the code is refused');
  await visit('access code, refused', page);
  await hand.type('#code', server.code);
  await hand.act('enter');
  await page.waitForSelector(screen('desk'));
  await page.goto(`${server.page}#/s/there-is-none`);
  await page.waitForSelector(`${screen('cautions')}, ${screen('trouble')}`);
  if (await page.locator(screen('cautions')).count()) await hand.act('acknowledge');
  await page.waitForSelector(screen('trouble'));
  await visit('no such session', page);
  await hand.weigh(server, id);
  await visit('weighing, nothing read', page);
  // One entry that the laptop refuses and one that waits.
  await page.context().route('**/readings', route => route.fulfill({status: 422, contentType: 'application/json', body: JSON.stringify({error: 'This was not stored: mend it.', faults: [{place: 'load', what: 'must be below 1500 kg'}]})}));
  await hand.read('apart', {at: 'tow.1.left', load: 657, scale: 'P1'});
  await hand.close();
  await page.waitForSelector('[data-part="refused"]');
  await page.context().unroute('**/readings');
  await page.context().route('**/readings', route => route.abort());
  await hand.read('apart', {at: 'tow.1.right', load: 665, scale: 'P2'});
  await hand.close();
  await page.waitForSelector('[data-part="waits"]');
  await visit('weighing, entries wait', page);
  await hand.act('show-waiting');
  await page.waitForSelector(dialog('waiting'));
  await visit('entries that wait', page);
  await hand.act('mend');
  await page.locator('dialog[open]').nth(1).waitFor();
  await visit('mend', page);
  await page.locator('dialog[open] >> [data-act="close"]').last().tap();
  await hand.act('discard-item');
  await page.locator('dialog[open]').nth(1).waitFor();
  await visit('discard an entry', page);
  await hand.close();
}

export async function lastScreens(bench, visit) {
  const id = bench.sheet(blundered()), server = await bench.serve(), hand = await opened(bench, server), page = hand.page;
  await hand.weigh(server, id);
  await hand.act('finish');
  await page.waitForSelector(`${screen('finish')} [data-part="suspects"]`);
  await visit('finish', page);
  await hand.act('correct');
  await page.waitForSelector(screen('setup-client'));
  await visit('correct', page);
  await page.locator('[data-act="send"]').first().tap();
  await page.waitForSelector('dialog[open]');
  await visit('why it is corrected', page);
  await hand.close();
  await hand.act('discard');
  await hand.tap('dialog[open] .strong');
  await page.waitForSelector(screen('weigh'));
  await hand.act('finish');
  await page.waitForSelector('[data-part="seal"]');
  await hand.type('#f-by', 'R. Okoye');
  await hand.type('#f-received_by', 'Ama Botha');
  await hand.act('seal');
  await page.waitForSelector('[data-act="seal-now"]');
  await visit('seal', page);
  await hand.act('seal-now');
  await page.waitForSelector('[data-part="report"]');
  await visit('report', page);
  await page.goto(`${server.page}#/s/${id}`);
  await page.waitForSelector(`${screen('weigh')} [data-part="sealed"]`);
  await visit('weighing, sealed', page);
  await hand.tap('[data-place="tow.1.left"]');
  await page.waitForSelector(dialog('entry'));
  check(await page.locator('[data-key]').count() === 0, 'nothing can be typed once it is sealed');
  await visit('entry, sealed', page);
  await hand.close();
  await page.goto(`${server.page}#/`);
  await page.waitForSelector(`${screen('desk')} [data-session]`);
  await visit('desk, sealed', page);
}

export const parts = {'set-up': setUpScreens, weighing: weighingScreens, trouble: troubledScreens, last: lastScreens};
