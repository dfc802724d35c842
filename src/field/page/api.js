// Talking to the laptop: JSON over the same origin. A failed call throws a Trouble that says whether trying again helps.

import {tab} from './kept.js';

const patience = 15000; // ms; beyond it the laptop is taken for not there

export class Trouble extends Error {
  /// status 0: no answer at all.
  constructor(status, words, faults = [], after = 0) {
    super(words);
    this.status = status;
    this.faults = faults;
    this.after = after;
  }
  /// The laptop may well take it later: no answer, its own trouble, too many at once, no code yet.
  get passing() { return this.status === 0 || this.status === 401 || this.status === 408 || this.status === 429 || this.status >= 500; }
}

let whenShut = () => {};
/// Called when the laptop asks for the access code.
export function onShut(act) { whenShut = act; }

export async function call(path, body) {
  const giveUp = new AbortController();
  const timer = setTimeout(() => giveUp.abort(), patience);
  let answer, content = null;
  try {
    answer = await fetch(path, body === undefined ? {signal: giveUp.signal, cache: 'no-store'} : {
      method: 'POST', signal: giveUp.signal, headers: {'Content-Type': 'application/json'}, body: JSON.stringify(body)});
    const text = await answer.text();
    content = text ? JSON.parse(text) : null;
  } catch {
    if (!answer || answer.ok) throw new Trouble(0, 'No answer from the laptop. Keep this page open and stay near it.');
  } finally {
    clearTimeout(timer);
  }
  if (answer.ok) return content;
  if (answer.status === 401) whenShut();
  throw new Trouble(answer.status, (content && content.error) || `The laptop refused this (${answer.status}).`,
    (content && content.faults) || [], Number(answer.headers.get('Retry-After')) || 0);
}

/// A slash, a backslash, a percent sign or dots alone in an id would not get through a path: these are escaped once more.
export const session = id => `/api/sessions/${encodeURIComponent(id.replace(/[%/\\]|^\.+$/g,
  signs => [...signs].map(c => `%${c.charCodeAt(0).toString(16).toUpperCase()}`).join('')))}`;

/// The region whose words are shown: chosen on this device, else the store's own.
export const region = {
  chosen: null,
  usual: 'plain',
  get code() { return this.chosen || tab.get('steelyard.words') || this.usual; },
  get query() { return `words=${encodeURIComponent(this.code)}`; },
};
