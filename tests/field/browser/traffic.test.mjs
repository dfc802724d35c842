// What goes over the line: nothing to anywhere else (each test's page checks that), little to begin with, and only for
// who has the code.

import {test, main, check, same, until, sampleRig} from './harness.mjs';
import {Hand, screen} from './hand.mjs';

test('the first load is under 150 kB', async bench => {
  const server = await bench.serve(), context = await bench.context(), page = await bench.page(context, server.origin);
  const line = await context.newCDPSession(page), asked = new Map();
  let sum = 0;
  await line.send('Network.enable');
  line.on('Network.requestWillBeSent', event => asked.set(event.requestId, event.request.url));
  line.on('Network.loadingFinished', event => { sum += event.encodedDataLength; asked.delete(event.requestId); });
  await page.goto(server.page);
  await page.waitForSelector(screen('desk'));
  await page.waitForLoadState('networkidle');
  await until(() => asked.size === 0, 'everything has come');
  const kept = await page.evaluate(() => performance.getEntriesByType('resource').map(e => new URL(e.name).pathname));
  check(kept.includes('/api/desk') && kept.includes('/style.css') && kept.includes('/app.js'), `what was loaded: ${kept}`);
  console.log(`  first load: ${sum} bytes as sent, headers included, ${kept.length + 1} requests`);
  check(sum > 10000 && sum < 150000, `the first load is ${sum} bytes`);
});

test('the code of the link lets in and leaves the address', async bench => {
  const id = bench.sheet(sampleRig(() => false)), server = await bench.serve('--listen', '127.0.0.1');
  const context = await bench.context(), page = await bench.page(context, server.origin), hand = new Hand(page);
  check(/^[0-9A-Z]{4}-[0-9A-Z]{4}$/.test(server.code), `a code is said: ${server.code}`);
  await page.goto(`${server.page}#code=${server.code}`);
  await page.waitForSelector(`${screen('desk')} [data-session="${id}"]`);
  check(!page.url().includes(server.code) && !page.url().includes('code='), `the address bar: ${page.url()}`);
  await page.goBack().catch(() => {});
  check(!page.url().includes(server.code), `the address before: ${page.url()}`);
  const cookies = await context.cookies();
  same(cookies.map(c => [c.httpOnly, c.sameSite, c.domain]), [[true, 'Strict', '127.0.0.1']], 'the cookie: HttpOnly, SameSite, host');
  await page.goto(server.page);
  await page.waitForSelector(screen('desk'));
  same(await page.evaluate(() => document.cookie), '', 'the cookie as scripts see it');
  await hand.tap(`[data-session="${id}"]`);
  await page.waitForSelector(screen('cautions'));
});

test('without the code nothing is shown, and a wrong one is told', async bench => {
  bench.linkMayFail = true; // 401 and 403 are reported as failed requests
  const id = bench.sheet(sampleRig()), server = await bench.serve('--listen', '127.0.0.1');
  const page = await bench.page(await bench.context(), server.origin), hand = new Hand(page);
  await page.goto(`${server.page}#/s/${id}`);
  await page.waitForSelector(screen('enter'));
  check(!(await page.textContent('body')).includes('Tallow'), 'no name is shown');
  const wrong = server.code.replace(/^./, sign => (sign === 'K' ? 'M' : 'K'));
  await hand.type('#code', wrong);
  await hand.act('enter');
  await until(async () => (await page.textContent('#code-fault')).trim().length > 0, 'the wrong code is told');
  await until(async () => (await page.textContent('#alarm')).trim().length > 0, 'it is said to a screen reader');
  await page.goto(`${server.page}#code=${wrong}`);
  await page.waitForSelector(screen('enter'));
  check(!page.url().includes(wrong), `the address bar after a wrong code: ${page.url()}`);
  await page.goto(`${server.page}#/s/${id}`);
  await page.waitForSelector(screen('enter'));
  await hand.type('#code', server.code.toLowerCase());
  await hand.act('enter');
  // It leads to what was asked for.
  await page.waitForSelector(`${screen('cautions')}, ${screen('weigh')}`);
});

await main();
