// What the readings mean so far, as the laptop says it: verdict, trust, what does not fit, margins, loads, what is open.

import {h, svg, button, tone} from './dom.js';

/// `act` is {read(state, at)}: opens the keys for a place; absent where nothing can be read any more.
export function figures(view, act) {
  const found = view.found;
  if (!found) return [h('section.card', {part: 'verdict'}, h('h2', 'Figures'), h('p', 'They come with the first reading.'))];
  if (!found.solved) return [h('section.card', {part: 'verdict', 'data-tone': 'unknown'}, h('h2', tone({tone: 'unknown', sign: '?'}, 'No figures yet')), h('p', found.why_not))];
  return [verdict(found), suspects(found, act), margins(found), loads(found), openOnes(found), cautions(found)];
}

function verdict(found) {
  const said = (of, part) => h('div', {part: part, 'data-tone': of.tone}, h('p.said', tone(of, of.words)), of.lines.map(l => h('p', l)));
  return h('section.card.first', {by: 'figures-h'}, h('h2', {id: 'figures-h', class: 'unseen'}, 'What the readings say'),
    said(found.verdict, 'verdict'), said(found.trust, 'trust'));
}

function suspects(found, act) {
  if (!found.suspects.length) return null;
  return h('section.card.alarm', {part: 'suspects', by: 'suspects-h'},
    h('h2', {id: 'suspects-h'}, tone({tone: 'over', sign: '✕'}, 'What does not fit')),
    found.suspects.map((set, i) => h('div.suspect',
      h('h3', set.members.length > 1 ? 'One of these' : 'This one'),
      h('ul', set.members.map(m => h('li', h('b', m.words), m.size ? `: ${m.size}` : ''))),
      set.explanations.length ? [h('h3', 'What may have happened'), h('ul', set.explanations.map(e => h('li', e.words, e.fits ? h('span.sub', ` – fits ${e.fits}`) : null)))] : null,
      set.next ? h('p.todo', h('b', 'Read next: '), set.next.words) : null,
      set.next && set.next.at && act.read ? button(`Read ${set.next.words}`, () => act.read(set.next.state, set.next.at), {class: 'b strong', act: 'read-suspect', k: `suspect ${i}`}) : null)));
}

/// The bar ends at a fifth over the rating; the mark stands at the rating.
export function usedBar(m) {
  if (m.used === null || m.used === undefined) return null;
  const full = 1.2, part = Math.max(0.004, Math.min(m.used, full) / full) * 100;
  return svg('svg.used', {'data-tone': m.tone, viewBox: '0 0 100 8', preserveAspectRatio: 'none', 'aria-hidden': 'true'},
    svg('rect.track', {x: 0, y: 1.5, width: 100, height: 5}), svg('rect.fill', {x: 0, y: 1.5, width: part, height: 5}),
    svg('rect.mark', {x: 100 / full - 0.35, y: 0, width: 0.7, height: 8}));
}

function margins(found) {
  const rated = found.margins.filter(m => !m.advice), advice = found.margins.filter(m => m.advice);
  const row = m => h('li', {'data-tone': m.tone, 'data-limit': m.of || null},
    h('p.what', tone(m, m.words), m.suspect ? h('span.flag', ' rests on a reading that does not fit') : null),
    usedBar(m),
    m.value ? h('p.num-line', h('b', m.value), ` of ${m.rated}`, m.margin ? h('span.margin', m.margin) : null) : h('p.num-line', `rated ${m.rated}`),
    h('p.sub', [m.outcome, m.state ? `in “${m.state}”` : '', m.source].filter(Boolean).join(' · ')),
    m.reason ? h('p.sub', m.reason) : null);
  return [
    rated.length ? h('section.card', {part: 'margins', by: 'margins-h'}, h('h2', {id: 'margins-h'}, 'Margins, nearest first'), h('ol.margins', rated.map(row))) : null,
    advice.length ? h('details.card.fold', {k: 'advice'}, h('summary', `Advice, not ratings (${advice.length})`), h('ol.margins', advice.map(row))) : null];
}

function loads(found) {
  if (!found.loads.length) return null;
  return h('section.card', {part: 'loads', by: 'loads-h'}, h('h2', {id: 'loads-h'}, 'Loads'),
    h('dl.loads', found.loads.map(l => h('div', h('dt', l.words, l.state ? h('span.sub', ` in “${l.state}”`) : null), h('dd', l.text)))));
}

function openOnes(found) {
  if (!found.open.length) return null;
  return h('section.card', {part: 'open', by: 'open-h'}, h('h2', {id: 'open-h'}, 'What cannot be told yet'),
    h('ul.open', found.open.map(o => h('li', o.words, h('p.todo', h('b', 'To tell it: '), o.needs)))));
}

function cautions(found) {
  if (!found.cautions || !found.cautions.length) return null;
  return h('section.card', {part: 'cautions', by: 'cautions-h'}, h('h2', {id: 'cautions-h'}, 'What these figures do not say'),
    found.cautions.map(c => h('p.sub', c)));
}
