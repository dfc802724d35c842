// The session sheet while it is being set up or corrected. It has the sheet's own shape, so that a fault's place in the
// sheet is its place here; it lives in this browser until the laptop has taken it.

import * as kept from './kept.js';
import {bracketed, draftOf, pruned} from './form.js';
import {convert, convertMeasured, now, shortId, uuid} from './units.js';

const key = 'steelyard.draft';
const lengths = ['wheelbase_u', 'overhang', 'cg_height', 'coupling_to_axles', 'coupling_to_jockey'];
const whole = units => ({load: 'kg', length: 'mm', ...units}); // a sheet need not say kg and mm
const loads = ['capacity', 'division', 'repeatability', 'zero_before', 'zero_after'];
export const loadLimit = of => !/share|restoration|side_difference|ratio|d_value|dc_value/.test(of || '');
export const copy = value => JSON.parse(JSON.stringify(value));

function open(keptAt, root) {
  const draft = draftOf(root, () => kept.put(keptAt, root));
  draft.forget = () => { kept.drop(keptAt); kept.drop(`${keptAt}.base`); };
  return draft;
}

/// The draft of a new weighing: the one that was left, else an empty one.
export function newDraft(desk) {
  const units = kept.get('steelyard.units') || {load: 'kg', length: 'mm'};
  return open(key, kept.get(key) || {
    format: 'steelyard-session/1', id: uuid(), units,
    weighed: {at: now().slice(0, 16) + ':00' + now().slice(19), place: (desk.places || [])[0] || '', technician: (desk.technicians || [])[0] || ''},
    client: {uid: shortId()}, conditions: {}, carried: {}, scales: [],
    rig: {tow_vehicle: {uid: shortId(), axles: [{at: 0, group: 'front'}, {at: null, group: 'rear'}]},
      trailer: {uid: shortId(), axles: 1, suspension: 'single'}, limits: []},
    states: [{name: '', hitched: false, readings: []}]});
}
export const draftWaits = () => kept.get(key) !== null;
export const dropDraft = () => kept.drop(key);

/// A correction's draft: the sheet as it stands, changed here and sent back whole. Beside it is kept what it was begun from.
export function correction(id, sheet) {
  const at = `steelyard.correct.${id}`, held = kept.get(at), begun = kept.get(`${at}.base`);
  const goesOn = held && begun && begun.states && (held.revision || 1) === (sheet.revision || 1);
  const own = goesOn ? held : copy(sheet), draft = open(at, own);
  draft.base = goesOn ? begun : sheet;
  if (!goesOn) kept.put(`${at}.base`, sheet);
  own.units = whole(own.units);
  fromFirstAxle(own.rig.tow_vehicle.axles);
  return draft;
}

/// A correction's sheet with what came since it was begun, by this phone or another: readings, states, scales, ratings,
/// modifications, check weights, and what was filled in meanwhile. What is taken out here stays out.
export function broughtUpToDate(draft, current) {
  const base = draft.base, sheet = sheetOf(draft);
  const append = (own, was, now, name) => {
    const added = (now[name] || []).slice((was[name] || []).length);
    if (added.length) own[name] = [...(own[name] || []), ...added];
  };
  const fill = (own, was, now, names) => {
    for (const name of names) if (was[name] === undefined && own[name] === undefined && now[name] !== undefined) own[name] = now[name];
  };
  sheet.states.forEach((own, i) => {
    const was = base.states[i], now = current.states[i];
    own.readings = now.readings;
    fill(own, was, now, ['coupling_height', 'slope', 'ride_heights']);
    if (own.ride_heights) fill(own.ride_heights, was.ride_heights || {}, now.ride_heights || {}, Object.keys(now.ride_heights || {}));
  });
  append(sheet, base, current, 'states');
  (current.scales || []).forEach((now, i) => {
    const was = (base.scales || [])[i], own = was ? sheet.scales[i] : sheet.scales.find(one => one.id === now.id);
    if (!own) { sheet.scales.push(now); return; }
    fill(own, was || {}, now, ['zero_after']);
    append(own, was || {}, now, 'check_weights');
  });
  append(sheet.rig, base.rig, current.rig, 'limits');
  append(sheet, base, current, 'modifications');
  return sheet;
}

/// The sheet allows any origin along the vehicle; people measure from the first axle.
function fromFirstAxle(axles) {
  const origin = axles[0].at;
  if (origin) for (const axle of axles) axle.at = Number((axle.at - origin).toPrecision(15));
}

/// A rig from an earlier visit, in this session's units. A rating keeps the unit of its plate.
export function rigIn(rig, given, to) {
  const from = whole(given);
  const out = copy(rig);
  fromFirstAxle(out.tow_vehicle.axles);
  for (const vehicle of [out.tow_vehicle, out.trailer]) {
    if (!vehicle) continue;
    for (const name of lengths) if (vehicle[name] !== undefined) vehicle[name] = convertMeasured(vehicle[name], from.length, to.length);
    if (Array.isArray(vehicle.axles)) for (const axle of vehicle.axles) axle.at = convert(axle.at, from.length, to.length);
  }
  for (const limit of out.limits || [])
    if ((loadLimit(limit.of) || limit.against !== undefined) && limit.load_index === undefined && !limit.unit && from.load !== to.load) limit.unit = from.load;
  return out;
}

/// What was fitted to a rig, likewise.
export function fittedIn(modifications, given, to) {
  const from = whole(given);
  return (modifications || []).map(one => ({...one, mass: convert(one.mass, from.load, to.load), at: convert(one.at, from.length, to.length)}));
}

export function scaleIn(scale, given, to) {
  const from = whole(given);
  const out = copy(scale);
  for (const name of loads) out[name] = convert(out[name], from.load, to.load);
  for (const weight of out.check_weights || []) for (const name of ['mass', 'load']) weight[name] = convert(weight[name], from.load, to.load);
  return out;
}

/// Other units for what is entered already: every figure is converted, none is asked for again.
export function changeUnits(draft, to) {
  const s = draft.root, from = copy(s.units);
  s.rig = rigIn(s.rig, from, to);
  s.scales = s.scales.map(scale => scaleIn(scale, from, to));
  s.modifications = fittedIn(s.modifications, from, to);
  for (const state of s.states) {
    if (state.coupling_height !== undefined) state.coupling_height = convertMeasured(state.coupling_height, from.length, to.length);
    for (const [where, height] of Object.entries(state.ride_heights || {})) state.ride_heights[where] = convert(height, from.length, to.length);
  }
  s.units = {...to};
  kept.put('steelyard.units', to);
  draft.keep();
}

/// Rows nobody filled in are taken out, so that the n-th row here is the n-th in the sheet.
export function tidy(draft) {
  const s = draft.root;
  const blank = o => Object.keys(pruned(o) || {}).filter(k => !['uid', 'of', 'advice', 'taken_at'].includes(k)).length === 0;
  if (s.rig.limits) s.rig.limits = s.rig.limits.filter(l => !blank(l));
  if (s.modifications) s.modifications = s.modifications.filter(m => !blank(m));
  for (const scale of s.scales || []) {
    const weights = (scale.check_weights || []).filter(w => !blank(w));
    if (weights.length) scale.check_weights = weights; else delete scale.check_weights;
  }
  s.scales = (s.scales || []).filter(scale => !blank(scale));
  draft.keep();
}

/// The sheet as it is sent.
export function sheetOf(draft) {
  const sheet = pruned(draft.root);
  sheet.states = (draft.root.states || []).map(state => ({...pruned(state), hitched: state.hitched === true, readings: state.readings || []}));
  if (!sheet.scales) sheet.scales = [];
  for (const m of [sheet.rig.tow_vehicle, sheet.rig.trailer])
    if (m) for (const name of lengths) if (m[name] && typeof m[name] === 'object' && m[name].value === undefined) delete m[name];
  for (const state of sheet.states) {
    for (const name of ['coupling_height', 'slope']) if (state[name] && typeof state[name] === 'object' && state[name].value === undefined) delete state[name];
    if (state.hitched) delete state.support; else delete state.weight_distribution;
  }
  return sheet;
}

/// What can be seen to be missing before the laptop is asked; places as the laptop names them.
export function missing(draft, step) {
  const s = draft.root, out = [];
  // What is no number is not also said to be missing.
  const say = (on, place, what) => { if ((!step || step === on) && !out.some(o => o.place === place)) out.push({place, what, step: on}); };
  // A field that is not there any more, or holds a number now, is no fault.
  for (const place of [...draft.bad]) if (typeof draft.get(place) !== 'string' || !draft.get(place).trim()) draft.bad.delete(place);
  for (const place of draft.bad) say(stepOf(place), bracketed(place), 'This has to be a number, like 1850 or 0.5.');
  if (!s.client || !(s.client.name || '').trim()) say('client', 'client.name', 'Say for whom the rig is weighed.');
  const axles = s.rig.tow_vehicle.axles;
  axles.forEach((a, i) => { if (typeof a.at !== 'number') say('rig', `rig.tow_vehicle.axles[${i}].at`, `Measure how far axle ${i + 1} stands behind the first axle.`); });
  for (const group of ['front', 'rear']) if (!axles.some(a => a.group === group)) say('rig', 'rig.tow_vehicle.axles[0].group', `At least one axle has to belong to the ${group} group.`);
  if (s.rig.trailer && !(s.rig.trailer.axles > 0)) say('rig', 'rig.trailer.axles', 'Say how many axles the trailer has.');
  const ids = new Set();
  (s.scales || []).forEach((scale, i) => {
    const id = (scale.id || '').trim();
    if (!id) say('scales', `scales[${i}].id`, 'Give the scale the short name that is written on it.');
    else if (ids.has(id)) say('scales', `scales[${i}].id`, `Two scales are called ${id}: rename one.`);
    ids.add(id);
    (scale.check_weights || []).forEach((weight, k) => {
      for (const [name, what] of [['mass', 'Enter the mass of the check weight, or take it out.'], ['load', 'Enter what the scale showed with the weight on it.']])
        if (typeof weight[name] !== 'number') say('scales', `scales[${i}].check_weights[${k}].${name}`, what);
    });
  });
  (s.modifications || []).forEach((m, i) => { if (!(m.what || '').trim()) say('rig', `modifications[${i}].what`, 'Say what was fitted or removed, or take this row out.'); });
  (s.rig.limits || []).forEach((l, i) => {
    if (!l.of) say('limits', `rig.limits[${i}].of`, 'Choose what is rated.');
    if (typeof l.value !== 'number' && l.load_index === undefined) say('limits', `rig.limits[${i}].value`, 'Enter the rated figure, or take this row out.');
    if (!(l.source || '').trim()) say('limits', `rig.limits[${i}].source`, 'Say where this was read: a plate, the handbook, the owner’s word.');
  });
  if (!/^\d{4}-\d\d-\d\dT\d\d:\d\d(:\d\d)?([+-]\d\d:\d\d|Z)$/.test(s.weighed.at || '')) say('day', 'weighed.at', 'Enter the day, the time and the offset, like +02:00.');
  (s.states || []).forEach((state, i) => { if (!(state.name || '').trim()) say('state', `states[${i}].name`, 'Name this state, for instance “apart”.'); });
  return out;
}

/// On which step the field of a place stands.
export function stepOf(place) {
  const p = String(place).replace(/\[(\d+)\]/g, '.$1');
  if (p.startsWith('rig.limits')) return 'limits';
  if (p.startsWith('rig') || p.startsWith('modifications')) return 'rig';
  if (p.startsWith('scales')) return 'scales';
  if (p.startsWith('states')) return 'state';
  if (p.startsWith('client') || p.startsWith('units')) return 'client';
  return 'day';
}
