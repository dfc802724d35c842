// The page of `steelyard field`: routes, the top line, the access code, and what hangs together with what.
//
//   #/ desk · #/enter · #/new/STEP · #/s/ID weighing · #/s/ID/finish · #/s/ID/correct/STEP      #code=… comes with the link

import {byId, h, show, alarm} from './dom.js';
import * as api from './api.js';
import * as kept from './kept.js';
import * as queue from './queue.js';
import {follow} from './stream.js';
import {enterScreen, enter, deskScreen, cautionsScreen, acknowledged, troubleScreen} from './desk.js';
import {setup} from './setup.js';
import {newDraft, correction} from './draft.js';
import {weighScreen} from './weigh.js';
import {finishScreen} from './finish.js';
import {strip} from './waiting.js';

let desk = null, stream = null, screen = null, turn = 0;
let setting = null; // the set-up under way, kept between its steps

function link(how, error) {
  const place = byId('link');
  const words = {live: '● live', asking: '○ asks every 2 s', lost: '✕ no answer', none: ''}[how];
  if (how === 'lost' && place.dataset.link !== 'lost') alarm('No answer from the laptop. Keep this page open: what you enter is kept.');
  place.dataset.link = how;
  place.textContent = words;
  place.title = error ? error.message : '';
  strip();
  byId('main').classList.toggle('away', how === 'lost');
}

function leave() {
  for (const box of document.querySelectorAll('dialog[open]')) box.close();
  if (stream) stream.stop();
  stream = screen = null;
  link('none');
}

async function freshDesk() {
  desk = await api.call(api.region.chosen || kept.tab.get('steelyard.words') ? `/api/desk?${api.region.query}` : '/api/desk');
  api.region.usual = desk.words || 'plain';
  const choice = byId('words');
  show(choice, (desk.regions || []).map(r => h('option', {value: r.code}, r.title)));
  choice.value = api.region.code;
  return desk;
}

async function route() {
  const mine = ++turn;
  const steps = (location.hash || '#/').split('/').slice(1).map(decodeURIComponent);
  leave();
  byId('where').textContent = '';
  if (steps[0] !== 'new' && steps[2] !== 'correct') setting = null;
  if (steps[0] === 'enter') { enterScreen(() => { location.hash = kept.tab.get('steelyard.wanted') || '#/'; }); return; }
  try {
    if (!desk || !steps[0] || (steps[0] === 'new' && !setting)) await freshDesk();
    if (mine !== turn) return;
    if (steps[0] === 's' && steps[1]) await inSession(steps[1], steps[2], steps[3], mine);
    else if (steps[0] === 'new') {
      setting = setting || {desk, draft: newDraft(desk), session: null, base: '#/new', done: () => { setting = null; desk = null; }};
      setup(setting, steps[1] || 'client');
    } else deskScreen(desk);
  } catch (error) {
    if (!(error instanceof api.Trouble)) throw error;
    if (mine === turn && error.status !== 401) troubleScreen(error, route);
  }
}

async function inSession(id, part, step, mine) {
  if (part !== 'finish' && part !== 'correct' && !acknowledged(id)) { cautionsScreen(desk, id, route); return; }
  if (part === 'correct') {
    if (!setting || setting.session !== id) {
      const sheet = await api.call(`${api.session(id)}/sheet`);
      if (mine !== turn) return;
      setting = {desk, draft: correction(id, sheet), session: id, base: `#/s/${encodeURIComponent(id)}/correct`, done: () => { setting = null; }};
    }
    setup(setting, step || 'client');
    return;
  }
  const page = {id, desk, view: null, refresh: () => stream && stream.refresh()};
  show(byId('main'), h('p.note', 'Asking the laptop …'));
  byId('main').focus({preventScroll: true}); // what was pressed is gone
  screen = part === 'finish' ? finishScreen(page) : weighScreen(page);
  stream = follow(id, {
    view: view => {
      byId('where').textContent = view.session.client || view.session.title;
      screen.view(view);
    },
    link: (how, error) => {
      link(how, error);
      if (error && !page.view) { leave(); troubleScreen(error, route); }
    },
  });
}

api.onShut(() => {
  if (location.hash.startsWith('#/enter')) return;
  kept.tab.put('steelyard.wanted', location.hash.startsWith('#/') ? location.hash : '#/');
  location.hash = '#/enter';
});
queue.onChange(() => { strip(); if (screen) screen.redraw(); });
setInterval(strip, 1000);
byId('words').addEventListener('change', event => {
  api.region.chosen = event.target.value;
  kept.tab.put('steelyard.words', event.target.value);
  desk = null; // its cautions and ratings are worded anew when it is next asked for
  if (stream) stream.refresh();
});
document.querySelector('.skip').addEventListener('click', event => { event.preventDefault(); byId('main').focus(); });
let wide = innerWidth;
addEventListener('resize', () => { if (innerWidth !== wide) { wide = innerWidth; if (screen) screen.redraw(); } });
addEventListener('hashchange', start);
addEventListener('beforeunload', event => { if (queue.waiting().length && !kept.keeps()) event.preventDefault(); });

/// The link beside the square carries the code after the #; it is used once and leaves the address bar.
async function start() {
  const code = /^#code=(.+)$/.exec(location.hash);
  if (code) {
    history.replaceState(null, '', `${location.pathname}#/`);
    try { await enter(decodeURIComponent(code[1])); } catch { location.hash = '#/enter'; }
  }
  route();
}

strip();
queue.kick();
start();
