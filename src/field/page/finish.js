// The end of a weighing: what is missing, the scales' zeros, the findings once more, the seal, and the report to take home.

import {h, button, show, byId, arrive, tone, say, alarm, dialog, whenFree} from './dom.js';
import * as api from './api.js';
import * as queue from './queue.js';
import * as kept from './kept.js';
import {figures} from './figures.js';
import {together, standing} from './positions.js';
import {completeState} from './states.js';
import {text, figure, draftOf} from './form.js';
import {clock} from './units.js';

export function finishScreen(page) {
  const main = byId('main'), base = `#/s/${encodeURIComponent(page.id)}`;
  let drawn = false, was = null;
  const zeros = draftOf({}), names = draftOf({by: kept.get('steelyard.who') || ''});
  const body = h('div.finish'), side = h('div.side');

  const redraw = () => {
    const view = page.view;
    if (!view) return;
    // Whoever seals has the findings before the seal; their details stand beside, or below on a phone.
    const [findings, doubts, ...details] = figures(view, {});
    if (view.session.sealed) show(body, sealed(view), findings, doubts);
    else show(body, missing(view), zeroForm(view), findings, doubts, seal(view));
    show(side, details);
  };

  const missing = view => {
    const out = [], waits = queue.waiting(page.id).length + queue.apart(page.id).length;
    const item = (words, ...more) => out.push(h('li', h('span', words), more));
    if (waits) item(`${waits} ${waits === 1 ? 'entry has' : 'entries have'} not reached the laptop.`);
    if (!view.found) item('Nothing has been read.');
    for (const state of together(view)) {
      const unread = state.places.filter(p => p.usual && !standing(p).length && !covered(state, p));
      if (unread.length) item(`Not read in “${state.name}”: ${unread.map(p => p.words).join('; ')}.`);
      if (state.needs && state.needs.length) item(`Not measured in “${state.name}”: ${state.needs.map(n => ({coupling_height: 'height of the coupling', slope: 'slope of the ground'}[n] || n)).join(', ')}.`,
        button('Enter', () => completeState(view, state), {class: 'b small', act: 'complete-state', k: `complete ${state.name}`}));
    }
    for (const scale of view.scales) for (const warning of scale.warnings || []) item(`Scale ${scale.id}: ${warning}`);
    if (view.found && view.found.suspects && view.found.suspects.length) item('A reading does not fit and has not been weighed again.');
    return h('section.card', {by: 'missing-h', part: 'missing'}, h('h2', {id: 'missing-h'}, 'Before the rig leaves'),
      out.length ? h('ul.missing', out) : h('p', tone({tone: 'within', sign: '✓'}, 'Nothing is missing.')),
      h('div.actions', h('a.b', {href: base}, 'Back to weighing'), h('a.b', {href: `${base}/correct/client`, act: 'correct'}, 'Correct the set-up')));
  };
  // Where the whole axle or vehicle was read, its ends need not be.
  const covered = (state, place) => state.places.some(p => p.vehicle === place.vehicle && standing(p).length && place.extent === 'wheel' &&
    ((p.extent === 'axle' && p.axle === place.axle) || p.extent === 'vehicle'));

  const zeroForm = view => {
    const left = view.scales.filter(s => s.zero_after === null || s.zero_after === undefined);
    if (!view.scales.length) return null;
    const unit = view.session.units.load;
    const send = async event => {
      event.preventDefault();
      if (zeros.bad.size) { alarm('Enter numbers, like 0 or -1.'); return; }
      const given = Object.fromEntries(left.map((s, i) => [s.id, zeros.get(`zero${view.scales.indexOf(s)}`)]).filter(z => typeof z[1] === 'number'));
      if (!Object.keys(given).length) { alarm('Nothing is entered.'); return; }
      try {
        await api.call(`${api.session(page.id)}/completions`, {zero_after: given});
        say('Saved.');
        page.refresh();
      } catch (error) { byId('zero-told').textContent = [error.message, ...(error.faults || []).map(f => f.what)].join(' '); alarm(byId('zero-told').textContent); }
    };
    return h('section.card', {by: 'zero-h', part: 'zeros'}, h('h2', {id: 'zero-h'}, 'Zero of the scales, after'),
      view.scales.filter(s => !left.includes(s)).length ? h('p.sub', view.scales.filter(s => !left.includes(s)).map(s => `${s.id}: ${s.zero_after.load} ${s.zero_after.unit}`).join(' · ')) : null,
      left.length ? h('form.form', {novalidate: true, onsubmit: send}, h('p', 'What each shows now with nothing on it. A scale that has moved off zero explains a good deal.'),
        h('div.row', left.map(s => figure(zeros, `zero${view.scales.indexOf(s)}`, `Scale ${s.id}`, {unit, signed: true, class: 'short'}))),
        h('p.fault', {id: 'zero-told'}), h('button', {type: 'submit', class: 'b', act: 'save-zeros', k: 'save-zeros'}, 'Save the zeros')) : null);
  };

  const seal = view => {
    if (!names.get('by')) names.root.by = view.session.technician || '';
    const go = async event => {
      event.preventDefault();
      const told = byId('seal-told'), by = (names.get('by') || '').trim(), received = (names.get('received_by') || '').trim();
      const waits = queue.waiting(page.id).length + queue.apart(page.id).length;
      told.textContent = '';
      const no = words => { told.textContent = words; alarm(words); };
      if (waits) { no('Entries still wait or were refused: let them be sent, mend or discard them first.'); return; }
      if (!by) { no('Say who seals.'); return; }
      const looked = page.view.version; // what is sealed is what was looked at
      const sure = await dialog('Seal the record?', close => [
        h('p', 'After this nothing can be added or changed on this page. Later corrections are amendments beside it.'),
        h('p', received ? `Received by ${received}.` : 'Nobody is named as having received the result.'),
        h('div.actions', button('Seal', () => close(true), {class: 'b strong', act: 'seal-now'}), button('Not yet', () => close(false)))]);
      if (!sure) return;
      try {
        await api.call(`${api.session(page.id)}/seal`, {by, received_by: received, version: looked});
        kept.put('steelyard.who', by);
        say('Sealed.');
        page.refresh();
      } catch (error) { no([error.message, ...(error.faults || []).map(f => f.what)].join(' ')); }
    };
    return h('section.card', {by: 'seal-h', part: 'seal'}, h('h2', {id: 'seal-h'}, 'Seal'),
      h('form.form', {novalidate: true, onsubmit: go},
        text(names, 'by', 'Who seals', {required: true, list: page.desk.technicians, caps: 'words'}),
        text(names, 'received_by', 'Received by', {caps: 'words', hint: 'The client types the name; may stay empty.'}),
        h('p.fault', {id: 'seal-told'}), h('button', {type: 'submit', class: 'b strong', act: 'seal', k: 'seal'}, 'Seal the record')));
  };

  const reports = [['xlsx', 'Workbook'], ['html', 'Page'], ['txt', 'Text']];
  const sealed = view => {
    const s = view.session.sealed;
    return [h('section.card.sealed', {by: 'sealed-h', part: 'sealed'}, h('h2', {id: 'sealed-h'}, '✓ Sealed'),
      h('p', `Number ${s.number}, by ${s.by}, ${clock(s.at)}.`), h('p.sub.head-hash', `Head of the record: ${s.head}`)),
    h('section.card', {by: 'report-h', part: 'report'}, h('h2', {id: 'report-h'}, 'Report to take home'),
      h('ul.downloads', reports.map(([ending, name]) => h('li', null,
        h('a.b', {href: `${api.session(page.id)}/report.${ending}?${api.region.query}`, download: '', 'data-report': ending}, name, h('span.sub', ` .${ending}`)))))),
    h('div.actions', h('a.b', {href: base}, 'Look at the readings'), h('a.b', {href: '#/'}, 'All weighings'))];
  };

  const taken = view => {
    page.view = view;
    const now = Boolean(view.session.sealed);
    if (!drawn) {
      main.dataset.screen = 'finish';
      show(main, h('div.head', h('h1', now ? 'Report' : 'Finish and seal'), h('p.sub', [view.session.title, view.session.client].filter(Boolean).join(' · '))), h('div.columns', body, side));
      arrive(now ? 'Report' : 'Finish and seal');
    }
    redraw();
    if (drawn && now && was === false) { main.querySelector('h1').textContent = 'Report'; arrive('Report'); }
    drawn = true;
    was = now;
  };
  return {view: view => whenFree(() => taken(view)), redraw: () => whenFree(redraw)};
}
