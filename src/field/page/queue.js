// No reading is ever lost: what is entered stands in this browser before it is sent, is sent one by one in the order of
// entry, and leaves only when the laptop has acknowledged it.
//
//   item {key, kind: reading|strike|state, session, body, at, refused?: {status, words}}
//
// Each item has a key of its own in localStorage, so that several tabs add without overwriting one another; two tabs may
// send the same item, and its client-made id makes the second sending a repetition (200). What the laptop refuses for
// its content is set apart with the laptop's words until the weigher mends or discards it; what was discarded is kept.

import * as api from './api.js';
import * as kept from './kept.js';

const prefix = 'steelyard.queue.';
const gone = 'steelyard.discarded.';
const slowest = 10000; // ms between attempts
const paths = {reading: 'readings', strike: 'strikes', state: 'states'};

let running = false, timer = null, pause = 1000, count = 0;
let trouble = '';
const lately = new Map(); // acknowledged, but not in a view yet: item by the reading's id
const listeners = new Set();

export const onChange = act => { listeners.add(act); };
const changed = () => { for (const act of listeners) act(); };

const read = () => kept.keys(prefix).map(key => kept.get(key)).filter(Boolean);

export const waiting = session => read().filter(i => !i.refused && (!session || i.session === session));
export const apart = session => read().filter(i => i.refused && (!session || i.session === session));
export const discarded = session => kept.keys(gone).map(k => kept.get(k)).filter(i => i && (!session || i.session === session));
export const hindrance = () => trouble;

/// Everything entered for a session that its view may not show yet.
export function beyond(session) {
  return [...read().filter(i => i.session === session),
    ...[...lately.values()].filter(i => i.session === session).map(i => ({...i, sent: true}))];
}

/// Keeps the item, then sends. False: this browser keeps nothing, and the item lives only while the page is open.
export function add(kind, session, body) {
  const key = `${prefix}${String(Date.now()).padStart(15, '0')}.${String(count++).padStart(5, '0')}.${body.id || body.reading || 'state'}`;
  const safe = kept.put(key, {key, kind, session, body, at: Date.now()});
  changed();
  kick();
  return safe;
}

/// What a view holds need not be remembered here any longer.
export function seen(ids) {
  for (const id of [...lately.keys()]) if (ids.has(id)) lately.delete(id);
}

/// Sends at once: the network is back, the code was entered, the stream has opened again.
export function kick() {
  pause = 1000;
  clearTimeout(timer);
  timer = null;
  run();
}

async function run() {
  if (running) return;
  running = true;
  try {
    for (let item = waiting()[0]; item; item = waiting()[0]) {
      try {
        const answer = await api.call(`${api.session(item.session)}/${paths[item.kind]}`, item.body);
        // A page that some other device puts in between acknowledges nothing.
        if (!answer || typeof answer.already !== 'boolean') throw new api.Trouble(0, 'What answers is not the laptop. Keep this page open and look at the network.');
        lately.set(`${item.kind} ${item.body.id || item.body.reading || item.body.name}`, item);
        kept.drop(item.key);
        trouble = '';
        pause = 1000;
        changed();
      } catch (error) {
        if (!(error instanceof api.Trouble)) throw error;
        if (error.passing) { later(error); return; }
        const words = [error.message, ...error.faults.map(f => `${f.place}: ${f.what}`)].join(' ');
        refuse(item, {status: error.status, words});
        changed();
      }
    }
  } finally {
    running = false;
  }
}

/// Sets an item apart; with a state go its readings, which would else be taken for another phone's state of that name.
function refuse(item, refused) {
  if (kept.get(item.key)) kept.put(item.key, {...item, refused});
  if (item.kind !== 'state') return;
  for (const one of waiting(item.session))
    if (one.kind === 'reading' && one.body.state === item.body.name)
      kept.put(one.key, {...one, refused: {status: refused.status, words: `Its state “${item.body.name}” was refused: ${refused.words}`}});
}

function later(error) {
  trouble = error.message;
  timer = setTimeout(run, Math.max(pause, error.after * 1000));
  pause = Math.min(slowest, pause * 2);
  changed();
}

/// Another try for an item that was set apart, as it stands.
export function again(item) {
  const {refused, ...rest} = item;
  kept.put(item.key, rest);
  changed();
  kick();
}

/// Takes an item that was set apart out of the queue; it stays on record in this browser with the reason.
export function discard(item, why) {
  kept.put(gone + item.key.slice(prefix.length), {...item, why, discarded: Date.now()});
  kept.drop(item.key);
  changed();
}

addEventListener('online', kick);
addEventListener('storage', event => { if (!event.key || event.key.startsWith(prefix)) changed(); });
