// The weighing screen: states, the rig as a lever, its places as keys in plan view, and the figures beside or beneath.

import {h, button, show, byId, arrive, tone, say, alarm, dialog, whenFree} from './dom.js';
import * as api from './api.js';
import {tab} from './kept.js';
import {figures} from './figures.js';
import {lever} from './lever.js';
import {together, standing, placeOf} from './positions.js';
import {enterLoad, entryView} from './entry.js';
import {anotherState, completeState, heightsLeft} from './states.js';
import {addition, additions} from './additions.js';

/// `page` is {id, desk, follow: () => the stream, view}; returns {view(view), redraw()} for the stream and the queue.
export function weighScreen(page) {
  const main = byId('main'), chosenAt = `steelyard.state.${page.id}`;
  let chosen = tab.get(chosenAt), spoken = '', drawn = false;
  const top = h('div.strip', {id: 'strip'}), rig = h('div.rig'), side = h('div.side', {id: 'figures', tabindex: '-1'}), rest = h('div.rest');

  const states = () => together(page.view);
  const shared = {view: () => page.view, states, desk: page.desk, readOnly: () => !page.view.session.changeable, changed: () => redraw()};
  const read = (state, at) => { choose(state); enterLoad(shared, state, at); };
  const choose = name => { chosen = name; tab.put(chosenAt, name); redraw(); };

  const redraw = () => {
    if (!page.view || !drawn) return;
    const all = states(), view = page.view;
    if (!all.some(s => s.name === chosen)) chosen = (view.next && view.next.state) || (all[all.length - 1] || {}).name;
    const state = all.find(s => s.name === chosen);
    show(top, stripOf(view));
    show(rig, stateTabs(all), state ? [rigOf(state, view), keysOf(state, view), stateNotes(state, view)] : h('p', 'No state yet.'));
    show(rest, more(view));
    show(side, figures(view, view.session.changeable ? {read} : {}));
  };

  const stripOf = view => {
    const f = view.found;
    const toFigures = event => { event.preventDefault(); side.focus({preventScroll: true}); side.scrollIntoView({behavior: 'auto', block: 'start'}); };
    if (!f || !f.solved) return h('a', {href: '#figures', class: 'verdict', onclick: toFigures, k: 'strip'}, tone({tone: 'unknown', sign: '?'}, f ? 'No figures yet' : 'Nothing read yet'));
    return h('a', {href: '#figures', class: 'verdict', onclick: toFigures, 'data-tone': f.verdict.tone, k: 'strip'}, tone(f.verdict, f.verdict.words), h('span.trust', tone(f.trust, f.trust.words)));
  };
  const stateTabs = all => h('nav.states', {label: 'States'},
    all.map(s => button(s.name, () => choose(s.name), {class: 'state', 'data-state': s.name, k: `state ${s.name}`, 'aria-current': s.name === chosen ? 'true' : null},
      h('span.sub', `${s.places.reduce((n, p) => n + standing(p).length, 0)} read`))),
    page.view.session.changeable ? button('+ another state', async () => {
      const name = await anotherState(page.view, states().map(s => s.name));
      if (name) choose(name);
    }, {class: 'state add', act: 'another-state', k: 'another-state'}) : null);

  const rigOf = (state, view) => h('figure.side-view', lever(view.rig, state, Math.max(280, Math.min(640, rig.clientWidth || 330) - 2)),
    h('figcaption', state.words, state.travels ? ' · goes on the road like this' : ''));

  const keysOf = (state, view) => {
    const next = view.next && view.next.state === state.name && view.next.at ? view.next : null;
    const nextPlace = next && placeOf(states(), state.name, next.at);
    const key = (place, wide) => keyOf(state, place, place === state.places.find(p => next && p.at === next.at), wide);
    const axle = (vehicle, n) => {
      const pair = state.places.filter(p => p.vehicle === vehicle && p.axle === n && p.extent === 'wheel');
      const said = state.axles.find(a => a.vehicle === vehicle && a.axle === n);
      const named = vehicle === 'tow' ? view.rig.tow.axles[n - 1].words : view.rig.trailer.axles > 1 ? `axle ${n}` : 'axle';
      return h('div.axle', {role: 'group', label: `${vehicle === 'tow' ? 'Tow vehicle' : 'Trailer'}, ${named}`},
        key(pair.find(p => p.side === 'left')), h('p.hub', h('span.hub-name', named), h('b', said && said.text ? said.text.split(' ±')[0] : '')), key(pair.find(p => p.side === 'right')));
    };
    const count = v => Math.max(0, ...state.places.filter(p => p.vehicle === v && p.extent === 'wheel').map(p => p.axle));
    const support = state.places.filter(p => p.extent === 'coupling' || p.extent === 'jockey');
    const whole = state.places.filter(p => p.extent === 'axle' || p.extent === 'vehicle');
    const range = n => Array.from({length: n}, (_, i) => i + 1);
    return [
      next && nextPlace && view.session.changeable ? h('button', {type: 'button', class: 'next', onclick: () => read(state.name, next.at), act: 'next', 'data-next': next.at, k: 'next'},
        h('span.next-mark', 'Next'), h('span', h('b', next.words), next.why ? h('span.sub', next.why) : null)) :
        view.next && view.next.at && view.next.state !== state.name && view.session.changeable ? button(`Next: ${view.next.words}`, () => choose(view.next.state), {class: 'b next-else', act: 'next-state', k: 'next-state'}) : !view.next && view.found && view.session.changeable ? h('p.note', 'Nothing is left to read that would tell more.') : null,
      h('div.plan', {part: 'keys'},
        h('h2.vehicle', view.rig.tow.label || 'Tow vehicle'), range(count('tow')).map(n => axle('tow', n)),
        view.rig.trailer ? [h('h2.vehicle.trailer', view.rig.trailer.label || 'Trailer'), support.map(p => key(p, true)), range(count('trailer')).map(n => axle('trailer', n))] : null),
      whole.length ? h('details.fold', {k: `whole ${state.name}`, open: whole.some(p => p.readings.length || (next && p.at === next.at))}, h('summary', 'Whole axles, whole vehicles'), h('div.whole', whole.map(p => key(p, true)))) : null];
  };

  const keyOf = (state, place, isNext, wide) => {
    if (!place) return null;
    const up = standing(place), last = up[up.length - 1], waits = place.readings.filter(r => r.waiting).length;
    const struck = place.readings.filter(r => r.struck).length, refused = place.readings.filter(r => r.refused).length;
    const notes = [up.length > 1 ? `${up.length} times` : '', last && last.scale.length ? last.scale.join('+') : '', struck ? `${struck} struck` : ''].filter(Boolean).join(' · ');
    return h('button', {type: 'button', class: `key${wide ? ' wide' : ''}`, onclick: () => read(state.name, place.at), 'data-place': place.at, k: `key ${place.at}`,
      'data-read': String(up.length), 'data-suspect': place.suspect ? 'true' : null, 'data-waiting': waits ? String(waits) : null, 'data-next': isNext ? 'true' : null},
      h('span.unseen', `${place.words}: `), h('span.which', {'aria-hidden': 'true'}, wide ? place.words : place.side),
      h('span.load', last ? last.text : h('span.empty', isNext ? 'read now' : 'not read')),
      notes ? h('span.sub', notes) : null,
      place.suspect ? h('span.flag', '✕ does not fit') : null,
      waits ? h('span.flag.wait', `… ${waits} waiting`) : null,
      refused ? h('span.flag', `! ${refused} refused`) : null,
      isNext ? h('span.now', 'next') : null);
  };

  const stateNotes = (state, view) => {
    const needs = (state.needs || []).filter(n => n === 'coupling_height' || n === 'slope');
    const names = {coupling_height: 'the coupling’s height', slope: 'the slope'}, heights = state.ride_heights || [];
    const open = view.session.changeable && !state.waiting && (needs.length || heightsLeft(state).length);
    return [
      heights.length ? h('p.sub', {part: 'ride-heights'}, `Ride heights: ${heights.map(r => `${r.at.replace('_', ' ')} ${r.text}`).join(' · ')}`) : null,
      open ? h('p.needs', needs.length ? `Not measured in “${state.name}”: ${needs.map(n => names[n]).join(' and ')}. ` : '',
        button(needs.length ? 'Enter' : heights.length ? 'More ride heights' : 'Ride heights', () => completeState(view, state), {class: 'b small', act: 'complete-state', k: `complete ${state.name}`})) : null];
  };
  const more = view => h('div.actions.more',
    h('a.b.strong', {href: `#/s/${encodeURIComponent(page.id)}/finish`, act: 'finish'}, view.session.changeable ? 'Finish and seal' : 'Report'),
    view.session.changeable ? [
      additions.filter(([kind]) => kind !== 'check_weights' || view.scales.length).map(([kind, words]) => button(words, () => addition(page, kind), {act: `add-${kind}`, k: `add-${kind}`})),
      h('a.b', {href: `#/s/${encodeURIComponent(page.id)}/correct/rig`, act: 'correct'}, 'Correct the set-up')] : null);

  const speak = view => {
    const f = view.found, words = f && f.solved ? `${f.verdict.words}. ${f.trust.words}.` : '';
    if (words && spoken && words !== spoken) say(words);
    if (f && f.suspects && f.suspects.length && !speak.had) alarm(`Something does not fit: ${f.suspects[0].members.map(m => m.words).join(', or ')}.`);
    speak.had = Boolean(f && f.suspects && f.suspects.length);
    spoken = words || spoken;
  };
  const taken = view => {
    page.view = view;
    if (!drawn) {
      drawn = true;
      main.dataset.screen = 'weigh';
      const sealed = view.session.sealed;
      show(main, h('div.head', h('h1', view.session.title), h('p.sub', [view.session.client, view.session.place, view.session.weighed_at.slice(0, 10)].filter(Boolean).join(' · ')),
        sealed ? h('p.note', {part: 'sealed'}, `Sealed, number ${sealed.number}: nothing can be added.`) : null), top, h('div.columns', rig, side, rest));
      arrive(view.session.title);
    }
    redraw();
    speak(view);
    entryView();
  };
  return {view: view => whenFree(() => taken(view)), redraw: () => whenFree(redraw)};
}
