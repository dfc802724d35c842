// Without a pointer: a session is opened, a reading typed, struck and typed again by keyboard alone. After every key the
// focus is on something, it can be seen, and after a dialog it is back on what opened it.

import {test, main, check, same, until, sampleRig} from './harness.mjs';
import {Hand, screen} from './hand.mjs';

/// In the page: what has the focus and whether that can be seen.
function focused() {
  const e = document.activeElement;
  if (!e || e === document.body || e === document.documentElement) return {name: 'body', seen: false};
  const style = getComputedStyle(e), r = e.getBoundingClientRect();
  const near = [e, ...(e.labels || []), e.parentElement].filter(Boolean).map(x => getComputedStyle(x));
  const ringed = near.some(s => s.outlineStyle !== 'none' && parseFloat(s.outlineWidth) >= 2);
  const quiet = /^H[1-6]$|^MAIN$|^DIV$/.test(e.tagName); // takes the focus to announce itself and is not pressed
  return {name: `${e.tagName} ${e.id || e.dataset.act || e.dataset.place || e.dataset.k || e.dataset.session || ''}`,
    act: e.dataset.act, place: e.dataset.place, session: e.dataset.session, id: e.id, reason: e.dataset.reason, key: e.dataset.key, reading: Boolean(e.closest('[data-reading]')),
    seen: (quiet || ringed) && r.bottom > 0 && r.top < innerHeight && style.visibility === 'visible'};
}

class Keys {
  constructor(page) { this.page = page; this.lost = []; }
  async press(key) {
    await this.page.keyboard.press(key);
    return this.look(key);
  }
  async look(after) {
    await this.page.evaluate(() => Promise.race([new Promise(done => setTimeout(done, 500)), new Promise(done => requestAnimationFrame(() => requestAnimationFrame(done)))]));
    const now = await this.page.evaluate(focused);
    if (!now.seen) this.lost.push(`after ${after}: ${now.name}`);
    return now;
  }
  /// Tab by Tab until `wanted` holds.
  async to(wanted, words, key = 'Tab') {
    for (let i = 0; i < 120; ++i) if (wanted(await this.press(key))) return;
    throw new Error(`no way by ${key} to ${words}`);
  }
}

test('a reading by keyboard alone', async bench => {
  const sheet = sampleRig(() => false), id = bench.sheet(sheet), server = await bench.serve();
  const page = await bench.page(await bench.context({hasTouch: false, isMobile: false, viewport: {width: 1024, height: 700}}), server.origin);
  const keys = new Keys(page), stored = () => bench.json('show', id).states[0].readings;
  await page.goto(server.page);
  await page.waitForSelector(screen('desk'));
  await keys.to(f => f.session === id, 'the session');
  await keys.press('Enter');
  await page.waitForSelector(screen('cautions'));
  await keys.to(f => f.act === 'acknowledge', 'the cautions’ button');
  await keys.press('Space');
  await page.waitForSelector(`${screen('weigh')} [data-part="keys"]`);
  await keys.look('the cautions');
  await keys.to(f => f.place === 'tow.2.left', 'the key of a place');
  await keys.press('Enter');
  await page.waitForSelector('dialog[data-dialog="entry"]');
  same((await keys.look('opening the keys')).id, 'entry-load', 'the focus when the keys open');
  await page.keyboard.type('657');
  await keys.press('Enter'); // the scale is not chosen yet
  await until(async () => (await page.textContent('#entry-told')).length > 0, 'the scale is asked for');
  await keys.to(f => /^entry-scale-/.test(f.id || ''), 'the scales');
  await keys.press('ArrowDown');
  await keys.press('ArrowUp');
  const scale = await page.evaluate(() => document.querySelector('#entry-scales input:checked').value);
  await keys.press('Enter');
  await until(() => stored().length === 1, 'the reading is in the store');
  same([stored()[0].at, stored()[0].load, [stored()[0].scale].flat()[0]], ['tow.2.left', 657, scale], 'the reading');
  same((await keys.look('Save')).id, 'entry-load', 'the focus at the next place');

  // Escape leads back to the key of the place that stood open last.
  const at = await page.getAttribute('dialog[data-dialog="entry"]', 'data-at');
  await keys.press('Escape');
  same((await keys.look('Escape')).place, at, 'the focus after the dialog');
  const before = await page.evaluate(() => document.activeElement.compareDocumentPosition(document.querySelector('[data-place="tow.2.left"]')) & Node.DOCUMENT_POSITION_PRECEDING);
  await keys.to(f => f.place === 'tow.2.left', 'the key of the place read', before ? 'Shift+Tab' : 'Tab');
  await keys.press('Enter');
  await keys.to(f => f.act === 'strike', 'Strike');
  await keys.press('Enter');
  await page.waitForSelector('dialog[data-dialog="strike"]');
  await keys.to(f => f.reason === 'misread', 'a reason');
  await keys.press('Enter');
  await keys.to(f => f.id === 'f-by', 'who strikes it');
  await page.keyboard.press('Control+A');
  await page.keyboard.type('R. Okoye');
  await keys.to(f => f.act === 'strike-it', 'Strike it');
  await keys.press('Enter');
  await until(() => stored()[0].struck, 'it is struck in the store');
  await keys.look('striking');
  await keys.press('Tab');
  await keys.press('Escape');
  same((await keys.look('Escape')).place, 'tow.2.left', 'the focus after both dialogs');
  check(keys.lost.length === 0, `the focus is lost or cannot be seen: ${keys.lost.join('; ')}`);
});

test('the focus comes back from every dialog of the weighing screen', async bench => {
  const sheet = sampleRig();
  delete sheet.states[1].slope;
  const id = bench.sheet(sheet), server = await bench.serve();
  const page = await bench.page(await bench.context(), server.origin), hand = new Hand(page), keys = new Keys(page);
  await hand.weigh(server, id);
  await page.locator(`button[data-state="${sheet.states[1].name}"]`).tap();
  for (const act of ['another-state', 'complete-state', 'add-scales', 'add-check_weights', 'add-limits', 'add-modifications']) {
    await page.locator(`[data-act="${act}"]`).first().focus();
    await keys.press('Enter');
    await page.waitForSelector('dialog[open]');
    check(await page.evaluate(() => document.activeElement.closest('dialog') !== null), `${act}: the focus is in the dialog`);
    await keys.press('Tab');
    await keys.press('Escape');
    await page.waitForSelector('dialog', {state: 'detached'});
    same((await keys.look(`${act}, Escape`)).act, act, `the focus after ${act}`);
  }
  check(keys.lost.length === 0, `the focus is lost or cannot be seen: ${keys.lost.join('; ')}`);
});

await main();
