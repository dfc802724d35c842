// Entering one load, made for one hand and a glove: the place in words, big keys, the scale, Save, and the next place is
// there. Beneath it what was read at this place before, with the way to set a reading aside.

import {h, button, byId, say, alarm, dialog} from './dom.js';
import * as queue from './queue.js';
import * as kept from './kept.js';
import {followLine} from './stream.js';
import {after, lastScale, placeOf, standing} from './positions.js';
import {number, now, shortId, clock} from './units.js';
import {text, draftOf} from './form.js';

const reasons = ['tyre partly off the scale', 'misread', 'typed wrong', 'somebody aboard or leaning on', 'scale moved or not at zero', 'brakes on, suspension not settled', 'wrong state or place'];
let open = null; // the dialog that stands open: {state, at, redraw}

/// Opens the keys for a place. `page` is {view(), states(), desk, readOnly(), changed()}.
export function enterLoad(page, state, at) {
  if (open) return;
  const here = {state, at, typed: '', scales: [], raised: '', unit: null, line: null, sure: false, told: '', offered: null, last: null};
  let stopLine = () => {};
  const box = h('dialog.box.entry', {by: 'entry-title', 'data-dialog': 'entry'});
  const back = `key ${at}`;

  const move = (toState, toAt, why = '') => {
    const states = page.states(), scale = lastScale(states, toAt), all = page.view().scales;
    Object.assign(here, {state: toState, at: toAt, why, typed: '', raised: '', sure: false, told: '', offered: null,
      scales: scale ? scale.filter(id => all.some(s => s.id === id)) : all.length === 1 ? [all[0].id] : []});
    here.named = Boolean(scale && scale.length) || all.length < 2;
    Object.assign(box.dataset, {state: toState, at: toAt});
    draw();
  };
  const type = sign => {
    if (sign === '⌫') here.typed = here.typed.slice(0, -1);
    else if (sign !== '.' || !here.typed.includes('.')) here.typed = (here.typed + sign).replace(/^0+(?=\d)/, '').slice(0, 9);
    here.told = '';
    update();
  };
  const update = () => {
    const field = byId('entry-load');
    if (field && field.value !== here.typed) field.value = here.typed;
    byId('entry-told').textContent = here.told;
  };
  const refuse = words => { here.told = words; update(); alarm(words); };
  const save = () => {
    const view = page.view(), load = number(here.typed);
    if (load === null || load < 0) { refuse(here.typed ? 'This is no load: type it like 641 or 176.5.' : 'Type the load first.'); return; }
    if (view.scales.length && !here.scales.length && !here.named) { refuse('Choose the scale it was read on, or “not named”.'); return; }
    const raised = here.raised.trim() ? number(here.raised) : undefined;
    if (raised === null || (raised !== undefined && raised <= 0)) { refuse('The raised height has to be a number above 0.'); return; }
    const unit = view.session.units.load;
    const capacity = here.scales.map(id => view.scales.find(s => s.id === id)).filter(s => s && s.capacity && s.capacity.unit === unit);
    if (capacity.length && capacity.length === here.scales.length && load > capacity.reduce((sum, s) => sum + s.capacity.load, 0)) {
      refuse(`That is above what ${here.scales.join(' and ')} can show: look again.`);
      return;
    }
    const body = {state: here.state, id: shortId(), at: here.at, load, unit, scale: here.scales, taken_at: now()};
    if (raised) body.raised = raised;
    if (!here.scales.length) delete body.scale;
    const place = placeOf(page.states(), here.state, here.at);
    if (!place) { refuse(`The state “${here.state}” is not there any more: close this, and look at what was refused.`); return; }
    const words = place.words;
    const safe = queue.add('reading', view.session.id, body);
    here.last = {words, text: `${load} ${unit}`};
    page.changed();
    const next = after(page.view(), page.states(), here.state, here.at);
    say(`Saved: ${words}, ${load} ${unit}.${next ? ` Next: ${next.words}.` : ''}`);
    if (!safe) alarm('This browser keeps nothing: do not close this page before the reading has been sent.');
    if (navigator.vibrate) navigator.vibrate(30);
    if (next) move(next.state, next.at, next.why); else box.close();
  };
  const take = () => {
    if (!here.line || here.line.load === null) return;
    if (!here.line.stable && !here.sure) { here.sure = true; drawLine(); alarm('Not stable. Tap again to take it all the same.'); return; }
    const unit = page.view().session.units.load;
    if (here.line.unit !== unit) { refuse(`The line shows ${here.line.unit}, this weighing is in ${unit}: set the scale to ${unit}.`); return; }
    here.typed = String(here.line.load);
    here.sure = false;
    here.told = '';
    update();
    drawLine();
  };
  // Changed in place: a button replaced at every load would be gone from under the finger.
  const drawLine = () => {
    const shown = byId('entry-live'), key = byId('entry-take'), l = here.line;
    if (!shown || !l) return;
    const none = l.load === null || l.load === undefined;
    shown.dataset.stable = String(!none && l.stable === true);
    shown.firstChild.textContent = none ? '–' : `${l.load} ${l.unit}`;
    shown.lastChild.textContent = none ? l.why || 'nothing heard' : l.stable ? '✓ stable' : '~ still moving';
    key.disabled = none;
    key.textContent = here.sure ? 'Again to take' : 'Take it';
    key.classList.toggle('strong', !none && l.stable === true);
  };
  const scaleChoice = (view, place) => {
    if (!view.scales.length) return null;
    const many = place.extent === 'axle' || place.extent === 'vehicle';
    const pick = id => {
      if (many) here.scales = id === null ? [] : here.scales.includes(id) ? here.scales.filter(x => x !== id) : [...here.scales, id];
      else here.scales = id === null ? [] : [id];
      here.named = true;
      here.told = '';
      update();
      for (const control of byId('entry-scales').querySelectorAll('input')) control.checked = control.value ? here.scales.includes(control.value) : here.named && !here.scales.length;
    };
    const chip = (id, words) => {
      const control = h('input', {type: many && id !== null ? 'checkbox' : 'radio', name: 'entry-scale', id: `entry-scale-${id ?? 'none'}`,
        checked: id === null ? here.named && !here.scales.length : here.scales.includes(id), onchange: () => pick(id)});
      control.value = id ?? '';
      return h('span.chip', control, h('label', {for: control.id, 'data-scale': id ?? ''}, words));
    };
    return h('fieldset.one-of.scales', {id: 'entry-scales'}, h('legend', many ? 'Scales it stands on' : 'Scale'),
      view.scales.map(s => chip(s.id, s.id)), chip(null, 'not named'));
  };
  const draw = () => {
    const view = page.view(), states = page.states(), place = placeOf(states, here.state, here.at);
    if (!place) { box.close(); return; }
    const unit = view.session.units.load, count = standing(place).length;
    const keys = ['1', '2', '3', '4', '5', '6', '7', '8', '9', '.', '0', '⌫'];
    const readOnly = page.readOnly();
    box.replaceChildren(...[
      h('div.box-head',
        h('div', h('h2', {id: 'entry-title', tabindex: '-1'}, place.words), h('p.sub', `in “${here.state}”`, here.why ? ` · ${here.why}` : '')),
        button('Close', () => box.close(), {class: 'b quiet', act: 'close'})),
      here.last ? h('p.saved', {part: 'saved'}, h('span', {'aria-hidden': 'true'}, '✓ '), `Saved: ${here.last.words}, ${here.last.text}`) : null,
      readOnly ? null : h('form.pad', {onsubmit: event => { event.preventDefault(); save(); }},
        h('div.display', h('label', {for: 'entry-load', class: 'unseen'}, `Load in ${unit}`),
          h('input', {id: 'entry-load', type: 'text', inputmode: 'none', autocomplete: 'off', value: here.typed, maxlength: '10', part: 'load', 'aria-describedby': 'entry-told',
            oninput: event => { here.typed = event.target.value.replace(',', '.'); here.told = ''; byId('entry-told').textContent = ''; }}),
          h('span.unit', {'aria-hidden': 'true'}, unit)),
        page.desk.line ? h('div.line', {role: 'group', label: 'Load on the line'},
          h('p.live', {id: 'entry-live'}, h('b', '–'), h('span', 'nothing heard')), button('Take it', take, {id: 'entry-take', act: 'take', disabled: true})) : null,
        h('p.fault', {id: 'entry-told'}, here.told),
        scaleChoice(view, place),
        h('div.keys', {role: 'group', label: 'Number keys'}, keys.map(k =>
          button(k, () => type(k), {class: 'num', 'data-key': k === '⌫' ? 'back' : k, label: k === '⌫' ? 'Delete the last sign' : k === '.' ? 'point' : null}))),
        h('button', {type: 'submit', class: 'b strong save', act: 'save'}, 'Save'),
        place.extent === 'coupling' || place.extent === 'jockey' || place.extent === 'vehicle' ? null :
          h('details.fold', {k: 'raised'}, h('summary', 'This axle stood higher than the others'),
            h('div.f', h('label', {for: 'entry-raised'}, `By how much, in ${view.session.units.length}`),
              h('input', {id: 'entry-raised', type: 'text', inputmode: 'decimal', autocomplete: 'off', value: here.raised, oninput: event => { here.raised = event.target.value; }})))),
      h('div', {id: 'entry-offer'}),
      h('section.before', {by: 'before-h'}, h('h3', {id: 'before-h'}, place.readings.length ? `Read here${count ? ` (${count})` : ''}` : 'Nothing read here yet'),
        place.figure ? h('p.sub', `Settled: ${place.figure}`) : null,
        place.readings.length ? readingList(page, here.state, place, draw) : null)].filter(Boolean));
    drawLine();
    if (box.open && !box.contains(document.activeElement)) first().focus();
  };
  const first = () => byId('entry-load') || byId('entry-title');

  open = {redraw: () => {
    const view = page.view(), next = view.next, offer = byId('entry-offer');
    if (!offer || !next || !next.at || (next.state === here.state && next.at === here.at) || !here.last || page.readOnly()) { if (offer) offer.replaceChildren(); return; }
    if (placeOf(page.states(), next.state, next.at)) offer.replaceChildren(button(`The figures would rather have: ${next.words}`, () => move(next.state, next.at, next.why), {class: 'b offer', act: 'offer'}));
  }};
  box.addEventListener('close', () => {
    stopLine();
    open = null;
    box.remove();
    page.changed();
    const key = [...document.querySelectorAll('[data-k]')].find(e => e.dataset.k === `key ${here.at}`) || [...document.querySelectorAll('[data-k]')].find(e => e.dataset.k === back);
    if (key) key.focus({preventScroll: true});
  });
  box.addEventListener('keydown', event => {
    if (event.target.tagName === 'INPUT' || event.ctrlKey || event.metaKey || event.altKey) return;
    if (/^[0-9.,]$/.test(event.key)) { event.preventDefault(); type(event.key === ',' ? '.' : event.key); }
    else if (event.key === 'Backspace') { event.preventDefault(); type('⌫'); }
  });
  document.body.append(box);
  move(state, at);
  box.showModal();
  first().focus();
  if (page.desk.line && !page.readOnly()) stopLine = followLine(load => { if (here.line && load.stable) here.sure = false; here.line = load; drawLine(); });
}

/// A view has come while the keys stand open.
export function entryView() { if (open) open.redraw(); }

/// The readings of one place, newest first.
function readingList(page, state, place, redraw) {
  return h('ul.readings', [...place.readings].reverse().map(r => h('li', {'data-reading': r.id, class: r.struck ? 'struck' : null},
    h('div', h('b', r.text), r.suspect && !r.struck ? h('span.flag', ' ✕ does not fit') : null,
      h('span.sub', [r.scale.length ? `on ${r.scale.join(' + ')}` : '', r.taken_at ? clock(r.taken_at) : '', r.raised ? `raised ${r.raised}` : ''].filter(Boolean).join(' · ')),
      r.waiting ? h('span.sub', '… waits, not yet in the figures') : null,
      r.refused ? h('span.flag', `! refused: ${r.refused.words}`) : null,
      r.struck ? h('span.sub', `struck: ${r.struck.why}${r.struck.by ? `, ${r.struck.by}` : ''}`) : null),
    r.struck || r.refused || page.readOnly() ? null : button('Strike', async () => { if (await strike(page, place, r)) { page.changed(); redraw(); } }, {class: 'b quiet', act: 'strike', k: `strike ${r.id}`, label: `Strike ${r.text}`}))));
}

/// Sets a reading aside; it stays on record with the reason.
async function strike(page, place, reading) {
  const draft = draftOf({by: kept.get('steelyard.who') || page.view().session.technician || ''});
  const given = await dialog(`Strike ${reading.text}?`, close => {
    const told = h('p.fault', {id: 'strike-told'});
    const body = h('div.form');
    const draw = () => body.replaceChildren(
      h('p', `${place.words}. It stays on record and takes no part in the figures.`),
      h('div.presets', {role: 'group', label: 'Usual reasons'}, reasons.map(why => button(why, () => { draft.set('why', why); draw(); byId('f-why').focus(); }, {class: 'b small', 'data-reason': why, 'aria-pressed': String(draft.get('why') === why)}))),
      text(draft, 'why', 'Reason', {required: true}), text(draft, 'by', 'Who strikes it', {required: true, list: page.desk.technicians, caps: 'words'}), told,
      h('div.actions', button('Strike it', () => {
        const why = (draft.get('why') || '').trim(), by = (draft.get('by') || '').trim();
        if (!why || !by) { told.textContent = why ? 'Say who strikes it.' : 'A reading is struck for a reason: choose or type one.'; alarm(told.textContent); return; }
        close({why, by});
      }, {class: 'b strong', act: 'strike-it'})));
    draw();
    return body;
  }, {'data-dialog': 'strike'});
  if (!given) return false;
  kept.put('steelyard.who', given.by);
  queue.add('strike', page.view().session.id, {reading: reading.id, why: given.why, by: given.by, at: now()});
  say(`Struck: ${place.words}, ${reading.text}.`);
  return true;
}
