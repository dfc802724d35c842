// How soon a reading typed on the page shows its settled figures there, with other pages open: milliseconds from the tap
// on Save to the key that shows the reading as acknowledged, in a page that a real browser draws. The other pages are
// streams of views without a browser: on the road each has a phone of its own. Not a test: nothing fails on time.
//
//   STEELYARD_NODE_MODULES=FOLDER node tests/bench/field_page.mjs PROGRAM SOURCE

import http from 'node:http';
import {test, main, check, until, sampleRig} from '../field/browser/harness.mjs';
import {Hand, counting} from '../field/browser/hand.mjs';

const others = 19;

/// In the page: the time from the tap until the key of that place has one reading more and none that waits.
const watch = () => {
  window.shown = [];
  let began = null;
  const key = at => document.querySelector(`[data-place="${at}"]`);
  const state = at => { const k = key(at); return k && {read: Number(k.dataset.read), waits: Boolean(k.dataset.waiting) && k.dataset.waiting !== '0'}; };
  document.addEventListener('click', event => {
    const save = event.target.closest('[data-act=save]');
    if (!save) return;
    const at = document.querySelector('dialog[data-dialog=entry]').dataset.at;
    began = {at, time: performance.now(), before: state(at).read};
  }, true);
  new MutationObserver(() => {
    if (!began) return;
    const now = state(began.at);
    if (now && now.read > began.before && !now.waits) { window.shown.push(performance.now() - began.time); began = null; }
  }).observe(document, {subtree: true, childList: true, attributes: true});
};

const spread = values => {
  const sorted = [...values].sort((a, b) => a - b), at = part => sorted[Math.min(sorted.length - 1, Math.floor(part * sorted.length))].toFixed(1);
  return `median ${at(0.5)} ms, 95 % ${at(0.95)} ms, most ${at(1)} ms, of ${sorted.length}`;
};

test('a reading typed, its figures shown', async bench => {
  const id = bench.sheet(sampleRig(() => false)), server = await bench.serve();
  const streams = [];
  let views = 0;
  for (let i = 0; i < others; ++i)
    streams.push(http.get(`${server.origin}/api/sessions/${id}/events`, {localAddress: `127.0.0.${2 + i}`}, answer => answer.on('data', data => { views += String(data).split('event: view').length - 1; })));
  await until(() => views >= others, 'every other page has its first view');
  const page = await bench.page(await bench.context(), server.origin);
  await page.addInitScript(counting);
  await page.addInitScript(watch);
  const hand = new Hand(page);
  await hand.weigh(server, id);
  await until(async () => await page.getAttribute('#link', 'data-link') === 'live', 'the stream is open');
  let typed = 0;
  for (const state of sampleRig().states)
    for (const reading of state.readings) {
      await hand.read(state.name, reading);
      typed += 1;
      await until(async () => await page.evaluate(() => window.shown.length) === typed, `reading ${typed} is shown`);
    }
  const shown = await page.evaluate(() => window.shown);
  check(shown.length === typed, 'every reading was shown');
  console.log(`  ${others + 1} pages open; from the tap to the figures: ${spread(shown)}`);
  for (const stream of streams) stream.destroy();
});

await main();
