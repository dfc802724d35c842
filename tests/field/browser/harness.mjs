// Runs the program, serves its field page from a store of the test's own and opens it in Debian's Chromium.
//
//   node NAME.test.mjs PROGRAM SOURCE [PART OF A TEST'S NAME]      STEELYARD_NODE_MODULES: the folder that holds playwright-core and axe-core
//
// A test file names its tests by test(name, act) and ends with `await main()`. Each act gets a Bench with a new folder
// and a new store. Exit code 0 only where every test passed. Whatever happened, a test fails as well where the page
// wrote an error to the console, threw, broke its content security policy or asked anything of another origin.

import {execFileSync, spawn} from 'node:child_process';
import {mkdtempSync, rmSync, readFileSync, writeFileSync} from 'node:fs';
import {createRequire} from 'node:module';
import {tmpdir} from 'node:os';
import {join, resolve} from 'node:path';

export const program = resolve(process.argv[2]);
export const source = resolve(process.argv[3]);
const modules = process.env.STEELYARD_NODE_MODULES;
if (!modules) throw new Error('STEELYARD_NODE_MODULES has to name the folder that holds playwright-core and axe-core');
const load = createRequire(join(resolve(modules), 'index.js'));
const {chromium} = load('playwright-core');
export const axeSource = readFileSync(load.resolve('axe-core/axe.min.js'), 'utf8');

const flags = ['--headless', '--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run',
  '--disable-background-networking', '--disable-component-update', '--disable-sync'];
const environment = {...process.env, TZ: 'UTC-2'}; // local time with the offset +02:00
delete environment.STEELYARD_STORE;

export const phone = {viewport: {width: 390, height: 844}, hasTouch: true, isMobile: true};
export const patience = 1000 * (Number(process.env.STEELYARD_PATIENCE) || 30); // ms; on a machine that does much else a page may take its time
export const sample = name => JSON.parse(readFileSync(join(source, 'sample_data', name), 'utf8'));

export function check(truth, words) { if (!truth) throw new Error(words); }
export function same(got, wanted, words) {
  const [a, b] = [JSON.stringify(got), JSON.stringify(wanted)];
  if (a !== b) throw new Error(`${words}: ${a}, and not ${b}`);
}

/// The sample rig's sheet with the readings that `keep(reading, state)` keeps.
export function sampleRig(keep = () => true) {
  const sheet = sample('tcw-012-pump-trailer.json');
  for (const state of sheet.states) state.readings = state.readings.filter(reading => keep(reading, state));
  return sheet;
}

/// Waits until `ask()` gives something true, and returns it.
export async function until(ask, words, wait = patience) {
  const end = Date.now() + wait;
  for (;;) {
    const got = await ask();
    if (got) return got;
    if (Date.now() > end) throw new Error(`not within ${wait} ms: ${words}`);
    await new Promise(next => setTimeout(next, 25));
  }
}

/// `steelyard field` at work on a store.
class Server {
  constructor(store, words) { this.store = store; this.words = words; this.port = 0; }
  async start() {
    this.process = spawn(program, ['field', '--store', this.store, '--port', String(this.port), '--json', ...this.words], {env: environment, stdio: ['ignore', 'pipe', 'pipe']});
    let out = '', err = '';
    this.process.stderr.on('data', data => { err += data; });
    const said = await new Promise((done, fail) => {
      this.process.stdout.on('data', data => { out += data; if (out.includes('\n')) done(JSON.parse(out)); });
      this.process.on('exit', code => fail(new Error(`field ended with ${code}: ${err}`)));
      setTimeout(() => fail(new Error(`field said nothing: ${err}`)), patience).unref();
    });
    Object.assign(this, {port: said.port, page: said.pages[0], code: said.code, origin: new URL(said.pages[0]).origin});
    return this;
  }
  /// Ends it at once, as when the laptop's battery is empty.
  async kill() {
    if (this.process.exitCode !== null || this.process.signalCode !== null) return;
    const gone = new Promise(done => this.process.once('exit', done));
    this.process.kill('SIGKILL');
    await gone;
  }
}

/// What one test works on: a folder, a store, servers and pages that end with it.
class Bench {
  constructor(browser) {
    this.browser = browser;
    this.folder = mkdtempSync(join(tmpdir(), 'steelyard-page-'));
    this.store = join(this.folder, 'fleet.db');
    this.servers = [];
    this.contexts = [];
    this.told = [];       // what a page must not do
    this.linkMayFail = false; // lost requests are no fault where the test cuts the link itself
  }
  run(...words) { return execFileSync(program, words, {cwd: this.folder, env: environment, encoding: 'utf8', maxBuffer: 1 << 28}); }
  json(...words) { return JSON.parse(this.run(...words, '--store', this.store, '--json')); }
  import(file) {
    this.make();
    this.run('import', '--store', this.store, file);
  }
  make() {
    if (!this.made) this.run('init', '--store', this.store);
    this.made = true;
  }
  /// Imports a sheet of the test's own making.
  sheet(sheet) {
    const file = join(this.folder, `sheet-${this.sheets = (this.sheets || 0) + 1}.json`);
    writeFileSync(file, JSON.stringify(sheet));
    this.import(file);
    return sheet.id;
  }
  async serve(...words) {
    this.make();
    const server = await new Server(this.store, words).start();
    this.servers.push(server);
    return server;
  }
  async context(options = {}) {
    const context = await this.browser.newContext({...phone, timezoneId: 'Africa/Johannesburg', ...options}); // +02:00 all year
    context.setDefaultTimeout(patience);
    this.contexts.push(context);
    return context;
  }
  async page(context, origin) {
    const page = await context.newPage();
    page.on('console', message => {
      if (message.type() !== 'error' || (this.linkMayFail && /Failed to load resource/.test(message.text()))) return;
      this.told.push(`console: ${message.text()} (${message.location().url})`);
    });
    page.on('pageerror', error => this.told.push(`thrown: ${error.stack || error}`));
    page.on('request', request => { if (!/^(data|blob):/.test(request.url()) && new URL(request.url()).origin !== origin) this.told.push(`asked elsewhere: ${request.url()}`); });
    return page;
  }
  async end() {
    for (const context of this.contexts) await context.close();
    for (const server of this.servers) await server.kill();
    rmSync(this.folder, {recursive: true, force: true});
  }
}

const tests = [];
export const test = (name, act) => tests.push([name, act]);

export async function main() {
  const only = process.argv[4];
  const browser = await chromium.launch({executablePath: process.env.STEELYARD_CHROMIUM || '/usr/bin/chromium', args: flags});
  let failed = 0, ran = 0;
  for (const [name, act] of tests) {
    if (only && !name.includes(only)) continue;
    ran += 1;
    const began = Date.now(), bench = new Bench(browser);
    try {
      // A page that answers nothing any more must not keep what it shows to itself until the run is ended from outside.
      let bell;
      const late = new Promise((_, fail) => { bell = setTimeout(() => fail(new Error('the test does not end')), 6 * patience); });
      await Promise.race([act(bench), late]).finally(() => clearTimeout(bell));
      if (bench.told.length) throw new Error(bench.told.join('\n'));
      console.log(`passed ${name} (${((Date.now() - began) / 1000).toFixed(1)} s)`);
    } catch (error) {
      failed += 1;
      console.log(`FAILED ${name} (${((Date.now() - began) / 1000).toFixed(1)} s): ${error.stack || error}`);
      for (const told of bench.told) console.log(`  ${told}`);
      for (const context of bench.contexts) for (const page of context.pages()) {
        const shown = await page.evaluate(() => [...document.querySelectorAll('main, .waiting, dialog[open]')].map(e => e.innerText).join('\n---\n')).catch(() => '');
        console.log(`  ${page.url()} shows:\n${shown.slice(0, 3000).replace(/^/gm, '  | ')}`);
        if (process.env.STEELYARD_PICTURES) await page.screenshot({path: join(process.env.STEELYARD_PICTURES, `failed-${name.replace(/\W+/g, '-')}.png`)}).catch(() => {});
      }
    } finally {
      await bench.end();
    }
  }
  await browser.close();
  process.exit(failed || !ran ? 1 : 0);
}
