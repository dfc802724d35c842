// The view of one session as it changes: by event stream, closed while the page is hidden, and by asking every 2 s
// wherever a stream does not get through. While a stream is open the laptop is still asked now and then, since a network
// that goes away in silence leaves a stream looking open. And the load on the scale that hangs on the laptop's line.

import * as api from './api.js';
import * as queue from './queue.js';

const often = 2000, seldom = 15000; // ms between askings without and with an open stream
const rest = 20000;                 // ms before a stream that was refused is tried again

/// follow(id, {view(view), link(how, error)}) → {stop, refresh, put}. `how` is 'live', 'asking' or 'lost'.
export function follow(id, hear) {
  let source = null, opened = 0, timer = null, round = 0, stopped = false, lost = false, shown = '';

  const take = view => {
    const mark = `${view.version} ${view.words}`;
    if (stopped || mark === shown) return;
    shown = mark;
    hear.view(view);
  };
  const live = () => source && source.readyState === 1;
  const reached = () => {
    if (lost || (queue.hindrance() && queue.waiting().length)) queue.kick();
    lost = false;
    hear.link(live() ? 'live' : 'asking');
  };
  const listen = () => {
    if (!window.EventSource) return;
    if (source) source.close();
    opened = Date.now();
    source = new EventSource(`${api.session(id)}/events?${api.region.query}`);
    source.addEventListener('open', () => { queue.kick(); reached(); });
    source.addEventListener('view', event => { take(JSON.parse(event.data)); reached(); });
    source.addEventListener('error', () => { if (!stopped && !document.hidden) soon(300); });
  };
  const soon = wait => { clearTimeout(timer); timer = setTimeout(ask, wait, ++round); };
  const ask = async mine => {
    try {
      const view = await api.call(`${api.session(id)}?${api.region.query}`);
      if (stopped || mine !== round) return;
      take(view);
      if (!source || source.readyState === 2) { if (lost || Date.now() - opened > rest) listen(); }
      reached();
    } catch (error) {
      if (stopped || mine !== round) return;
      if (!(error instanceof api.Trouble)) throw error;
      lost = true;
      hear.link('lost', error);
    }
    if (!document.hidden) soon(live() ? seldom : often);
  };
  const shut = () => {
    clearTimeout(timer);
    round += 1;
    if (source) source.close();
    source = null;
  };
  const open = () => {
    shut();
    if (stopped || document.hidden) return;
    listen();
    soon(often);
  };

  document.addEventListener('visibilitychange', open);
  addEventListener('online', open);
  open();
  const stop = () => {
    stopped = true;
    shut();
    document.removeEventListener('visibilitychange', open);
    removeEventListener('online', open);
  };
  return {stop, refresh: open};
}

/// The loads of the line, for as long as an entry dialog is open: followLine(hear) → stop().
export function followLine(hear) {
  if (!window.EventSource) return () => {};
  const source = new EventSource('/api/line/events'), lost = {load: null, why: 'no word from the line'};
  let silent = null;
  // A load that is not told again is not the load that stands there now: the laptop tells each, or that it hears none.
  const wait = () => { clearTimeout(silent); silent = setTimeout(() => hear(lost), 6500); };
  source.addEventListener('load', event => { wait(); hear(JSON.parse(event.data)); });
  source.addEventListener('error', () => hear(lost));
  return () => { clearTimeout(silent); source.close(); };
}
