// The view of one session as it changes: by event stream, closed while the page is hidden, and by asking every 2 s where
// streams do not get through. And the load on the scale that hangs on the laptop's line.

import * as api from './api.js';
import * as queue from './queue.js';

const slow = 2000;      // ms between askings
const tries = 3;        // failures of the stream before asking begins

/// follow(id, {view, link}) → stop(). `link` is told 'live', 'asking' or 'lost'.
export function follow(id, hear) {
  let source = null, timer = null, failures = 0, stopped = false, version = null;
  const at = () => `${api.session(id)}`;

  const take = view => {
    if (stopped) return;
    if (version !== null && view.version === version && view.words === take.words) return;
    version = view.version;
    take.words = view.words;
    hear.view(view);
  };
  const shut = () => {
    if (source) source.close();
    source = null;
    clearTimeout(timer);
    timer = null;
  };
  const ask = async () => {
    timer = null;
    try {
      take(await api.call(`${at()}?${api.region.query}`));
      if (stopped) return;
      hear.link('asking');
      if (queue.waiting().length && queue.hindrance()) queue.kick();
    } catch (error) {
      if (stopped) return;
      hear.link('lost', error);
    }
    if (!stopped && !document.hidden) timer = setTimeout(ask, slow);
  };
  const open = () => {
    shut();
    if (stopped || document.hidden) return;
    if (failures >= tries || !window.EventSource) { ask(); timer2(); return; }
    source = new EventSource(`${at()}/events?${api.region.query}`);
    source.addEventListener('open', () => { failures = 0; hear.link('live'); queue.kick(); });
    source.addEventListener('view', event => { failures = 0; hear.link('live'); take(JSON.parse(event.data)); });
    source.addEventListener('error', () => {
      failures += 1;
      if (source) source.close();
      source = null;
      hear.link('lost');
      clearTimeout(timer);
      timer = setTimeout(failures >= tries ? open : probe, Math.min(1000 * failures, 4000));
    });
  };
  // A stream's error says nothing of its cause; asking once tells 401 and 404 from a laptop that is away.
  const probe = async () => {
    try { take(await api.call(`${at()}?${api.region.query}`)); } catch (error) { if (!stopped) hear.link('lost', error); }
    if (!stopped) open();
  };
  // While asking, the stream is tried again every half minute.
  const timer2 = () => setTimeout(() => { if (!stopped && failures >= tries) { failures = tries - 1; open(); } }, 30000);
  const turn = () => { if (document.hidden) shut(); else { failures = 0; open(); } };
  const online = () => { failures = 0; open(); };

  document.addEventListener('visibilitychange', turn);
  addEventListener('online', online);
  open();
  const stop = () => {
    stopped = true;
    shut();
    document.removeEventListener('visibilitychange', turn);
    removeEventListener('online', online);
  };
  return {stop, refresh: online, put: take};
}

/// The loads of the line, for as long as an entry dialog is open: followLine(hear) → stop().
export function followLine(hear) {
  if (!window.EventSource) return () => {};
  const source = new EventSource('/api/line/events');
  source.addEventListener('load', event => hear(JSON.parse(event.data)));
  source.addEventListener('error', () => hear({load: null, why: 'no word from the line'}));
  return () => source.close();
}
