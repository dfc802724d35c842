// The screens before the weighing: the access code, the desk with its sessions, the cautions.

import {h, button, show, arrive, byId, alarm, tone} from './dom.js';
import * as api from './api.js';
import * as kept from './kept.js';
import * as queue from './queue.js';
import {draftWaits} from './draft.js';
import {clock} from './units.js';

export function enterScreen(then) {
  const main = byId('main');
  main.dataset.screen = 'enter';
  const told = h('p', {class: 'fault', id: 'code-fault'});
  const field = h('input', {id: 'code', type: 'text', autocomplete: 'one-time-code', autocapitalize: 'characters', spellcheck: 'false', maxlength: '20', 'aria-describedby': 'code-hint code-fault', class: 'code'});
  const send = async event => {
    event.preventDefault();
    const code = field.value.trim().toUpperCase();
    if (!code) { told.textContent = 'Type the code that the laptop shows.'; field.focus(); return; }
    told.textContent = '';
    try { await enter(code); then(); } catch (error) {
      told.textContent = error.status === 429 ? `Too many tries: wait ${error.after || 30} s, then try again.` : error.message;
      alarm(told.textContent);
      field.select();
    }
  };
  show(main, h('h1', null, 'Access code'),
    h('form', {class: 'form narrow', onsubmit: send},
      h('p', {id: 'code-hint'}, 'The laptop in the van shows a code of eight signs. Type it here once, or scan the square beside it.'),
      h('div', {class: 'f'}, h('label', {for: 'code'}, 'Code'), field, told),
      h('div', {class: 'actions'}, h('button', {type: 'submit', class: 'b strong', 'data-act': 'enter'}, 'Go in'))));
  arrive('Access code');
  field.focus();
}

/// Posts a code; the cookie comes with the answer.
export async function enter(code) {
  await api.call('/api/enter', {code});
  queue.kick();
}

export function deskScreen(desk) {
  const main = byId('main'), sessions = desk.sessions || [];
  main.dataset.screen = 'desk';
  const open = sessions.filter(s => !s.sealed), sealed = sessions.filter(s => s.sealed);
  const row = s => h('li', null, h('a', {class: 'session', href: `#/s/${encodeURIComponent(s.id)}`, 'data-session': s.id},
    h('span', {class: 'name'}, s.title || 'rig without a name'),
    h('span', {class: 'sub'}, [s.client, s.place].filter(Boolean).join(' · ')),
    h('span', {class: 'sub'}, clock(s.weighed_at), ' · ', s.readings === 1 ? '1 reading' : `${s.readings} readings`,
      queue.waiting(s.id).length ? ` · ${queue.waiting(s.id).length} waiting here` : '', s.sealed ? ' · sealed' : '')));
  show(main,
    h('h1', null, 'Weighings'),
    h('div', {class: 'actions lead'}, h('a', {class: 'b strong', href: '#/new/client', 'data-act': 'new'}, draftWaits() ? 'Go on setting up' : 'Begin a new weighing')),
    draftWaits() ? h('p', {class: 'hint'}, 'A set-up was begun on this device and is still here.') : null,
    h('section', {'aria-labelledby': 'open-h'}, h('h2', {id: 'open-h'}, 'To go on with'),
      open.length ? h('ul', {class: 'sessions'}, open.map(row)) : h('p', null, 'No weighing is open.')),
    sealed.length ? h('section', {'aria-labelledby': 'sealed-h'}, h('h2', {id: 'sealed-h'}, 'Sealed'), h('ul', {class: 'sessions'}, sealed.map(row))) : null,
    h('p', {class: 'hint'}, `Store ${desk.store || ''}, engine ${desk.engine || ''}.`));
  arrive('Weighings');
}

export const acknowledged = id => kept.tab.get(`steelyard.cautions.${id}`) === 'seen';

export function cautionsScreen(desk, id, then) {
  const main = byId('main');
  main.dataset.screen = 'cautions';
  show(main,
    h('h1', null, 'Before anything is weighed'),
    h('ol', {class: 'cautions'}, (desk.cautions || []).map(c => h('li', null, c))),
    h('div', {class: 'actions stick'}, button('All of this is seen to', () => { kept.tab.put(`steelyard.cautions.${id}`, 'seen'); then(); }, {class: 'b strong', 'data-act': 'acknowledge'})));
  arrive('Before anything is weighed');
}

/// The page could not be filled: why, and a way to try again.
export function troubleScreen(error, again) {
  const main = byId('main');
  main.dataset.screen = 'trouble';
  show(main, h('h1', null, error.status === 404 ? 'Not there' : 'No word from the laptop'),
    h('p', {class: 'note'}, tone({tone: 'close_over', sign: '!'}, error.message)),
    error.status === 404 ? null : h('p', null, 'Keep this page open: what was entered here is kept, and goes out as soon as the laptop answers. Opening the page anew needs the link to the laptop.'),
    h('div', {class: 'actions'}, button('Try again', again, {class: 'b strong', 'data-act': 'again'}), h('a', {class: 'b', href: '#/'}, 'All weighings')));
  arrive('No word from the laptop');
}
