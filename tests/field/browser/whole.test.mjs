// A whole weighing by phone: the sample rig's sheet, with check weights and modifications, is entered by taps, from an
// empty store to the sealed record and the workbook. The figures have to be those of the same sheet imported, which the reconciliation's own tests vouch for.

import {execFileSync} from 'node:child_process';
import {readFileSync, writeFileSync} from 'node:fs';
import {join} from 'node:path';
import {test, main, check, same, until, sample} from './harness.mjs';
import {Hand, counting, screen} from './hand.mjs';
import {clean, differences, readingsOf, renamed} from './compare.mjs';

const name = 'tcw-012-pump-trailer.json';

test('the sample rig typed by taps is the sample rig', async bench => {
  const sheet = sample(name), server = await bench.serve();
  sheet.scales[0].check_weights = [{mass: 500, load: 501}, {mass: 1000, load: 1001}];
  sheet.scales[4].check_weights = [{mass: 20, load: 20}];
  sheet.modifications = [{what: 'long-range tank', mass: 38, at: 2600, certificate: 'C-114'}, {what: 'tool boxes', mass: -14.5}];
  const context = await bench.context({acceptDownloads: true});
  const page = await bench.page(context, server.origin);
  await page.addInitScript(counting);
  const hand = new Hand(page);
  await hand.open(server);
  await hand.setUp(sheet);
  let led = 0;
  for (const [i, state] of sheet.states.entries()) {
    if (i) { await hand.close(); await hand.anotherState(state); }
    for (const reading of state.readings) led += await hand.read(state.name, reading);
  }
  await hand.close();
  check(led > 25, `the page itself led to ${led} of 50 places`);
  const [listed] = [bench.json('list')].flat();
  same([listed.readings, listed.struck, listed.states], [50, 0, 3], 'readings, struck, states');
  const id = listed.session;

  // The same sheet in a store of its own.
  const other = join(bench.folder, 'sheet.db');
  bench.run('init', '--store', other);
  const file = join(bench.folder, 'sheet.json');
  writeFileSync(file, JSON.stringify(sheet));
  bench.run('import', '--store', other, file);
  const ask = (store, session, verb) => JSON.parse(bench.run(verb, session, '--store', store, '--json'));
  const typed = ask(bench.store, id, 'show'), wanted = ask(other, sheet.id, 'show');
  const names = readingsOf(typed, wanted);
  same(differences(clean(renamed(typed, names)), clean(wanted)), [], 'the sheets differ');
  const result = clean(renamed(ask(bench.store, id, 'reconcile'), names)), figures = clean(ask(other, sheet.id, 'reconcile'));
  check(figures.observations.length === 65 && figures.quantities.length > 80, 'the result to compare with is whole');
  same(differences(result, figures), [], 'the figures differ');

  await finish(bench, page, hand, id);
});

async function finish(bench, page, hand, id) {
  await hand.act('finish');
  await page.waitForSelector(screen('finish'));
  await page.waitForSelector('[data-part="verdict"][data-tone]');
  check((await page.textContent('[data-part="trust"]')).includes('agree'), 'the finish says that the readings agree');
  check(await page.locator('[data-part="margins"] li').count() > 5, 'the margins are listed');
  await hand.type('#f-received_by', 'Ama Botha');
  await hand.act('seal');
  await hand.act('seal-now');
  await page.waitForSelector('[data-report="xlsx"]');
  const [download] = await Promise.all([page.waitForEvent('download'), hand.tap('[data-report="xlsx"]')]);
  const file = join(bench.folder, 'report.xlsx');
  await download.saveAs(file);
  const cells = execFileSync('/usr/bin/python3', ['-c', `
import sys, openpyxl
for sheet in openpyxl.load_workbook(sys.argv[1]):
    for row in sheet.iter_rows(values_only=True):
        print(*[cell for cell in row if cell is not None], sep=chr(9))
`, file], {encoding: 'utf8'});
  for (const words of ['Tallow Creek Water Board', 'WO-1182', 'survey utility 12']) check(cells.includes(words), `the workbook does not name ${words}`);
  // Who took the findings is kept as a paper of the session.
  const receipt = join(bench.folder, 'receipt.txt');
  bench.run('attach', id, '--get', '1', '--to', receipt, '--store', bench.store);
  check(readFileSync(receipt, 'utf8').includes('Received the findings: Ama Botha'), 'the receipt names who typed the name');
  const verified = bench.json('verify');
  same([verified.sound, verified.sealed, verified.unsealed], [true, 1, 0], 'verify: sound, sealed, unsealed');
  await until(async () => (await page.textContent('main')).includes('Sealed'), 'the page says that it is sealed');
}

await main();
