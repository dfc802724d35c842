// What is shown at each place: the laptop's view with everything added that was entered here and that it has not got yet;
// and which place comes next when the laptop is not asked.

import * as queue from './queue.js';

/// A view together with what waits: states with places, each with readings ({…, waiting, refused}).
export function together(view) {
  const mine = queue.beyond(view.session.id);
  const shown = new Set();
  for (const state of view.states) {
    shown.add(`state ${state.name}`);
    for (const place of state.places)
      for (const reading of place.readings) {
        shown.add(`reading ${reading.id}`);
        if (reading.struck) shown.add(`strike ${reading.id}`);
      }
  }
  queue.seen(shown);
  const states = view.states.map(s => ({...s, places: s.places.map(p => ({...p, readings: [...p.readings]}))}));
  for (const item of mine)
    if (item.kind === 'state' && !item.refused && !states.some(s => s.name === item.body.name)) states.push(waitingState(view, item.body));
  for (const item of mine) {
    if (item.kind === 'reading' && !shown.has(`reading ${item.body.id}`)) {
      const state = states.find(s => s.name === item.body.state);
      const place = state && state.places.find(p => p.at === item.body.at);
      if (!place) continue;
      const b = item.body;
      place.readings.push({id: b.id, load: b.load, unit: b.unit || view.session.units.load, text: `${b.load} ${b.unit || view.session.units.load}`,
        scale: b.scale || [], raised: b.raised ? `${b.raised} ${view.session.units.length}` : null, taken_at: b.taken_at, suspect: false, struck: null,
        waiting: !item.sent, refused: item.refused || null});
    }
    if (item.kind === 'strike' && !item.refused)
      for (const state of states) for (const place of state.places) {
        const i = place.readings.findIndex(r => r.id === item.body.reading);
        if (i >= 0 && !place.readings[i].struck) place.readings[i] = {...place.readings[i], struck: {why: item.body.why, by: item.body.by, at: item.body.at, waiting: true}};
      }
  }
  return states;
}

/// "tow.1.left" in plain words, for what the laptop has not worded yet.
export function placeWords(at) {
  const [vehicle, axle, side] = at.split('.');
  return [{tow: 'tow vehicle', trailer: 'trailer'}[vehicle] || vehicle, axle ? ` axle ${axle}` : /^t/.test(at) ? ', all axles' : '', side ? `, ${side}` : ''].join('');
}

/// A state that waits to be sent, with the places its rig gives it.
function waitingState(view, state) {
  const places = [], like = view.states.flatMap(s => s.places);
  const add = (at, vehicle, axle, side, extent) => {
    const twin = like.find(p => p.at === at);
    places.push({at, vehicle, axle, side, extent, words: twin ? twin.words : placeWords(at), usual: extent === 'wheel' || extent === 'coupling' || extent === 'jockey', figure: null, suspect: false, readings: []});
  };
  const count = {tow: view.rig.tow.axles.length, trailer: view.rig.trailer ? view.rig.trailer.axles : 0};
  for (const v of ['tow', 'trailer']) {
    for (let n = 1; n <= count[v]; ++n) {
      for (const side of ['left', 'right']) add(`${v}.${n}.${side}`, v, n, side, 'wheel');
      add(`${v}.${n}`, v, n, null, 'axle');
    }
    if (count[v]) add(v, v, null, null, 'vehicle');
  }
  if (state.support) add(state.support, 'trailer', null, null, state.support);
  return {name: state.name, words: 'waits to be sent', hitched: state.hitched, weight_distribution: state.weight_distribution === true,
    support: state.support || null, travels: state.travels === true, needs: [], places, axles: [], coupling: null, waiting: true};
}

export const standing = place => place.readings.filter(r => !r.struck && !r.refused);
export const placeOf = (states, state, at) => {
  const s = states.find(x => x.name === state);
  return s && s.places.find(p => p.at === at);
};

/// The place to read after `at` in this state: the laptop's proposal where it is still to be followed, else the walk
/// around the rig: what was read least, first the one that comes next. Null: every place was read twice.
export function after(view, states, state, at) {
  const s = states.find(x => x.name === state);
  if (!s) return null;
  const next = view.next;
  const fresh = place => !place.readings.some(r => r.waiting);
  if (next && next.at && next.state === state && next.at !== at) {
    const place = placeOf(states, state, next.at);
    if (place && fresh(place)) return {state, at: next.at, words: next.words, why: next.why};
  }
  const walk = s.places.filter(p => p.usual && (p.extent === 'wheel' || p.extent === 'coupling' || p.extent === 'jockey'));
  if (!walk.length) return null;
  const counts = walk.map(p => standing(p).length), least = Math.min(...counts);
  if (least >= 2) return null;
  const from = walk.findIndex(p => p.at === at);
  for (let i = 1; i <= walk.length; ++i) {
    const place = walk[(from + i) % walk.length];
    if (standing(place).length === least && place.at !== at) return {state, at: place.at, words: place.words, why: least ? 'a second reading, set down anew' : 'not read yet'};
  }
  return null;
}

/// The scale that stood at a place last, in this state or another; else nothing.
export function lastScale(states, at) {
  let found = null;
  for (const state of states) {
    const place = state.places.find(p => p.at === at);
    for (const r of place ? place.readings : []) if (!found || (r.taken_at || '') >= (found.taken_at || '')) found = r;
  }
  return found ? found.scale : null;
}
