// Names made to break out of text, to turn the line around or to burst the layout: they are shown as text, run nothing,
// and the page stays as wide as the phone.

import {test, main, check, same, until, sampleRig} from './harness.mjs';
import {Hand, counting, screen} from './hand.mjs';

const texts = [
  ['markup: an image', '<img src=x onerror="window.ran=1"><svg onload="window.ran=1">'],
  ['markup: a script', '"><script>window.ran=1</script><b title=\''],
  ['letters: turned around', '\u202Edriver \u202Dright\u2066 to left \u05D0\u05D1\u05D2 \u0627\u0644\u0639'],
  ['letters: joined', 'Tallow🚚🏋️‍♀️👩🏽‍🔧 e\u0301\u0323 '],
  ['letters: without a break', 'x'.repeat(1900)],
  ['markup: templates and escapes', 'javascript:window.ran=1 {{7*7}} ${7*7} %s %n \\u003cscript\\u003e &lt;b&gt; &amp;']];

/// In the page: whether anything ran, and what is wider than the page.
function harmed() {
  const root = document.scrollingElement, out = [];
  if (window.ran) out.push('a script ran');
  for (const e of [root, ...document.querySelectorAll('dialog[open]')]) if (e.scrollWidth > e.clientWidth) out.push(`${e.tagName} is ${e.scrollWidth} px wide in ${e.clientWidth}`);
  if (document.querySelector('main img, main script, main b[title], dialog img, dialog script, .where img, footer img')) out.push('a name became markup');
  return out;
}

const shows = (page, text) => page.evaluate(wanted => document.body.textContent.includes(wanted), text.trim());

for (const [kind, text] of texts)
  test(`${kind} in every name`, async bench => {
    const server = await bench.serve(), page = await bench.page(await bench.context(), server.origin), hand = new Hand(page), faults = [];
    await page.addInitScript(counting);
    const look = async name => { for (const fault of await page.evaluate(harmed)) faults.push(`${name}: ${fault}`); };
    const state = text.slice(0, 60).trim();
    const sheet = sampleRig(reading => ['r17'].includes(reading.id));
    Object.assign(sheet.client, {name: text, reference: text.slice(0, 150)});
    Object.assign(sheet.weighed, {place: text, technician: text, purpose: text});
    sheet.carried.note = text;
    sheet.rig.tow_vehicle.label = text.slice(0, 150);
    sheet.rig.tow_vehicle.registration = text.slice(0, 30);
    sheet.rig.trailer.label = text.slice(0, 150);
    sheet.rig.limits[0].source = text.slice(0, 150);
    sheet.scales = sheet.scales.slice(0, 1);
    sheet.scales[0].id = text.slice(0, 40).trim();
    delete sheet.scales[0].uid;
    sheet.rig.limits = sheet.rig.limits.slice(0, 1);

    // Typed on the page itself.
    await hand.open(server);
    await hand.setUp(sheet);
    await page.waitForSelector(`${screen('weigh')} [data-part="keys"]`);
    check(await shows(page, sheet.rig.tow_vehicle.label), 'the vehicle’s name is shown as typed');
    await look('weighing');
    await hand.anotherState({name: state, hitched: true, coupling_height: 430});
    await look('another state');
    check(await page.evaluate(wanted => [...document.querySelectorAll('button[data-state]')].some(e => e.dataset.state === wanted), state), 'the state’s name is shown as typed');
    await hand.tap('[data-place="tow.1.left"]');
    await hand.keys('641');
    await page.locator('#entry-scales .chip').first().tap();
    await look('entry');
    const [{session: id}] = [bench.json('list')].flat();
    await hand.act('save');
    await hand.close();
    const read = () => bench.json('show', id).states.flatMap(s => s.readings);
    await until(() => read().length === 1, 'the reading is stored');
    await hand.tap('[data-place="tow.1.left"]');
    await hand.act('strike');
    await hand.type('#f-why', text);
    await hand.type('#f-by', text.slice(0, 100));
    await look('strike');
    await hand.act('strike-it');
    await page.waitForSelector('dialog li.struck');
    check(await shows(page, text), 'the reason is shown as typed');
    await look('struck');
    await hand.close();
    await until(() => read()[0].struck, 'the reading is struck in the store');
    same(read()[0].struck.why.trim(), text.trim(), 'the reason in the store');
    await hand.act('finish');
    await page.waitForSelector(screen('finish'));
    await page.waitForSelector('[data-part="seal"]');
    await hand.type('#f-received_by', text.slice(0, 200));
    await look('finish');
    await hand.act('seal');
    await page.waitForSelector('[data-act="seal-now"]');
    await look('seal');
    await hand.act('seal-now');
    await page.waitForSelector('[data-part="report"]');
    await look('report');
    await page.goto(`${server.page}#/`);
    await page.waitForSelector(`${screen('desk')} [data-session]`);
    await look('desk');
    check(await shows(page, text), 'the desk shows the client’s name as typed');
    await hand.act('new');
    await page.waitForSelector(screen('setup-client'));
    await look('client');
    // What earlier visits know is offered again.
    await page.selectOption('#earlier-client', {index: 1});
    same((await page.inputValue('#f-client-name')).trim(), text.trim(), 'the client offered again');
    await hand.next('setup-rig');
    await page.selectOption('#earlier-rig', {index: 1});
    await look('rig');
    await hand.next('setup-scales');
    await look('scales');
    check(faults.length === 0, faults.join('\n'));
    const stored = bench.json('show', id);
    same([stored.client.name.trim(), stored.rig.tow_vehicle.label.trim()], [text.trim(), sheet.rig.tow_vehicle.label.trim()], 'the names in the store');
  });

test('letters: a name of 5,000 characters is refused with a remedy and stays to be mended', async bench => {
  const server = await bench.serve(), page = await bench.page(await bench.context(), server.origin), hand = new Hand(page);
  bench.linkMayFail = true; // the laptop refuses it, which the browser reports as a failed request
  const sheet = sampleRig(() => false);
  sheet.client.name = 'Tallow '.repeat(715).slice(0, 5000);
  sheet.scales = [];
  sheet.rig.limits = [];
  await hand.open(server);
  await hand.fillIn(sheet);
  await page.waitForSelector('#faults');
  const said = await page.innerText('#faults');
  check(/client/i.test(said), `the page names the client: ${said}`);
  same(await page.evaluate(harmed), [], 'the layout');
  await page.locator('#faults button').first().tap();
  await page.waitForSelector(screen('setup-client'));
  same((await page.inputValue('#f-client-name')).length, 5000, 'the name stays');
  await hand.type('#f-client-name', 'Tallow Creek Water Board');
  await page.goto(`${server.page}#/new/state`);
  await page.waitForSelector(screen('setup-state'));
  await hand.act('send');
  await page.waitForSelector(screen('cautions'));
});

await main();
