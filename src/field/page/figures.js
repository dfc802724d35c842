// What the readings mean so far, as the laptop says it: verdict, trust, what does not fit, margins, loads, what is open.

import {h, svg, button, tone} from './dom.js';

/// `act` is {read(state, at)}: opens the keys for a place; absent where nothing can be read any more.
export function figures(view, act) {
  const found = view.found;
  if (!found) return [h('section', {class: 'card', 'data-part': 'verdict'}, h('h2', null, 'Figures'), h('p', null, 'They come with the first reading.'))];
  if (!found.solved) return [h('section', {class: 'card', 'data-part': 'verdict', 'data-tone': 'unknown'}, h('h2', null, tone({tone: 'unknown', sign: '?'}, 'No figures yet')), h('p', null, found.why_not))];
  return [verdict(found), suspects(found, act), margins(found), loads(found), openOnes(found)];
}

function verdict(found) {
  const said = (of, part) => h('div', {'data-part': part, 'data-tone': of.tone}, h('p', {class: 'said'}, tone(of, of.words)), of.lines.map(l => h('p', null, l)));
  return h('section', {class: 'card first', 'aria-labelledby': 'figures-h'}, h('h2', {id: 'figures-h', class: 'unseen'}, 'What the readings say'),
    said(found.verdict, 'verdict'), said(found.trust, 'trust'));
}

function suspects(found, act) {
  if (!found.suspects.length) return null;
  return h('section', {class: 'card alarm', 'data-part': 'suspects', 'aria-labelledby': 'suspects-h'},
    h('h2', {id: 'suspects-h'}, tone({tone: 'over', sign: '✕'}, 'What does not fit')),
    found.suspects.map((set, i) => h('div', {class: 'suspect'},
      h('h3', null, set.members.length > 1 ? 'One of these' : 'This one'),
      h('ul', null, set.members.map(m => h('li', null, h('b', null, m.words), m.size ? `: ${m.size}` : ''))),
      set.explanations.length ? [h('h3', null, 'What may have happened'), h('ul', null, set.explanations.map(e => h('li', null, e.words, e.fits ? h('span', {class: 'sub'}, ` – fits ${e.fits}`) : null)))] : null,
      set.next ? h('p', {class: 'todo'}, h('b', null, 'Read next: '), set.next.words) : null,
      set.next && set.next.at && act.read ? button(`Read ${set.next.words}`, () => act.read(set.next.state, set.next.at), {class: 'b strong', 'data-act': 'read-suspect', 'data-k': `suspect ${i}`}) : null)));
}

/// The bar ends at a fifth over the rating; the mark stands at the rating.
export function usedBar(m) {
  if (m.used === null || m.used === undefined) return null;
  const full = 1.2, part = Math.max(0.004, Math.min(m.used, full) / full) * 100;
  return svg('svg', {class: 'used', 'data-tone': m.tone, viewBox: '0 0 100 8', preserveAspectRatio: 'none', 'aria-hidden': 'true'},
    svg('rect', {class: 'track', x: 0, y: 1.5, width: 100, height: 5}), svg('rect', {class: 'fill', x: 0, y: 1.5, width: part, height: 5}),
    svg('rect', {class: 'mark', x: 100 / full - 0.35, y: 0, width: 0.7, height: 8}));
}

function margins(found) {
  const rated = found.margins.filter(m => !m.advice), advice = found.margins.filter(m => m.advice);
  const row = m => h('li', {'data-tone': m.tone, 'data-limit': m.of || null},
    h('p', {class: 'what'}, tone(m, m.words), m.suspect ? h('span', {class: 'flag'}, ' rests on a reading that does not fit') : null),
    usedBar(m),
    m.value ? h('p', {class: 'num-line'}, h('b', null, m.value), ` of ${m.rated}`, m.margin ? h('span', {class: 'margin'}, m.margin) : null) : h('p', {class: 'num-line'}, `rated ${m.rated}`),
    h('p', {class: 'sub'}, [m.outcome, m.state ? `in “${m.state}”` : '', m.source].filter(Boolean).join(' · ')),
    m.reason ? h('p', {class: 'sub'}, m.reason) : null);
  return [
    rated.length ? h('section', {class: 'card', 'data-part': 'margins', 'aria-labelledby': 'margins-h'}, h('h2', {id: 'margins-h'}, 'Margins, nearest first'), h('ol', {class: 'margins'}, rated.map(row))) : null,
    advice.length ? h('details', {class: 'card fold', 'data-k': 'advice'}, h('summary', null, `Advice, not ratings (${advice.length})`), h('ol', {class: 'margins'}, advice.map(row))) : null];
}

function loads(found) {
  if (!found.loads.length) return null;
  return h('section', {class: 'card', 'data-part': 'loads', 'aria-labelledby': 'loads-h'}, h('h2', {id: 'loads-h'}, 'Loads'),
    h('dl', {class: 'loads'}, found.loads.map(l => h('div', null, h('dt', null, l.words, l.state ? h('span', {class: 'sub'}, ` in “${l.state}”`) : null), h('dd', null, l.text)))));
}

function openOnes(found) {
  if (!found.open.length) return null;
  return h('section', {class: 'card', 'data-part': 'open', 'aria-labelledby': 'open-h'}, h('h2', {id: 'open-h'}, 'What cannot be told yet'),
    h('ul', {class: 'open'}, found.open.map(o => h('li', null, o.words, h('p', {class: 'todo'}, h('b', null, 'To tell it: '), o.needs)))));
}
