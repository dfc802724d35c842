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
  const told = h('p.fault', {id: 'code-fault'});
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
  show(main, h('h1', 'Access code'),
    h('form.form.narrow', {onsubmit: send},
      h('p', {id: 'code-hint'}, 'The laptop in the van shows a code of eight signs. Type it here once, or scan the square beside it.'),
      h('div.f', h('label', {for: 'code'}, 'Code'), field, told),
      h('div.actions', h('button', {type: 'submit', class: 'b strong', act: 'enter'}, 'Go in'))));
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
  const row = s => h('li', h('a.session', {href: `#/s/${encodeURIComponent(s.id)}`, 'data-session': s.id},
    h('span.name', s.title || 'rig without a name'),
    h('span.sub', [s.client, s.place].filter(Boolean).join(' · ')),
    h('span.sub', clock(s.weighed_at), ' · ', s.readings === 1 ? '1 reading' : `${s.readings} readings`,
      queue.waiting(s.id).length ? ` · ${queue.waiting(s.id).length} waiting here` : '', s.sealed ? ' · sealed' : '')));
  show(main,
    h('h1', 'Weighings'),
    h('div.actions.lead', h('a.b.strong', {href: '#/new/client', act: 'new'}, draftWaits() ? 'Go on setting up' : 'Begin a new weighing')),
    draftWaits() ? h('p.hint', 'A set-up was begun on this device and is still here.') : null,
    h('section', {by: 'open-h'}, h('h2', {id: 'open-h'}, 'To go on with'),
      open.length ? h('ul.sessions', open.map(row)) : h('p', 'No weighing is open.')),
    sealed.length ? h('section', {by: 'sealed-h'}, h('h2', {id: 'sealed-h'}, 'Sealed'), h('ul.sessions', sealed.map(row))) : null,
    h('p.hint', `Store ${desk.store || ''}, engine ${desk.engine || ''}.`));
  arrive('Weighings');
}

export const acknowledged = id => kept.tab.get(`steelyard.cautions.${id}`) === 'seen';

export function cautionsScreen(desk, id, then) {
  const main = byId('main');
  main.dataset.screen = 'cautions';
  show(main,
    h('h1', 'Before anything is weighed'),
    h('ol.cautions', (desk.cautions || []).map(c => h('li', c))),
    h('div.actions.stick', button('All of this is seen to', () => { kept.tab.put(`steelyard.cautions.${id}`, 'seen'); then(); }, {class: 'b strong', act: 'acknowledge'})));
  arrive('Before anything is weighed');
}

/// The page could not be filled: why, and a way to try again.
export function troubleScreen(error, again) {
  const main = byId('main');
  main.dataset.screen = 'trouble';
  show(main, h('h1', error.status === 404 ? 'Not there' : 'No word from the laptop'),
    h('p.note', tone({tone: 'close_over', sign: '!'}, error.message)),
    error.status === 404 ? null : h('p', 'Keep this page open: what was entered here is kept, and goes out as soon as the laptop answers. Opening the page anew needs the link to the laptop.'),
    h('div.actions', button('Try again', again, {class: 'b strong', act: 'again'}), h('a.b', {href: '#/'}, 'All weighings')));
  arrive('No word from the laptop');
}
