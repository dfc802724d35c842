// States of the rig – apart, together, as driven: the form of one, another one during the weighing, and what of a state's
// circumstances can still be filled in.

import {h, button, dialog, say, alarm} from './dom.js';
import * as api from './api.js';
import * as queue from './queue.js';
import {text, figure, measured, tick, oneOf, draftOf, summary, place, pruned} from './form.js';
import {sheetOf} from './draft.js';

const usual = {
  apart: {words: 'trailer unhitched, nose on a scale', set: {hitched: false, support: 'coupling'}},
  together: {words: 'hitched, weight distribution off', set: {hitched: true}},
  'as driven': {words: 'hitched as it goes on the road', set: {hitched: true, travels: true}},
};

/// The fields of the state at `at` ("states.0"); `trailer`: the rig has one; `length`: unit of length.
export function stateForm(draft, at, {trailer, length, names = [], redraw}) {
  const state = draft.get(at);
  const set = (key, value) => { draft.set(`${at}.${key}`, value); redraw(); };
  const free = Object.entries(usual).filter(([name]) => trailer && !names.includes(name));
  return [
    free.length && !state.name ? h('div.presets', {role: 'group', label: 'Usual states'}, free.map(([name, kind]) =>
      button(h('b', name), () => { draft.set(at, {...state, ...kind.set, name}); redraw(); }, {class: 'b preset', 'data-preset': name}, h('span', kind.words)))) : null,
    text(draft, `${at}.name`, 'Name of the state', {required: true, caps: 'none', list: ['apart', 'together', 'as driven', 'adjusted']}),
    trailer ? oneOf('The trailer is', `${at}-hitched`, [[false, 'unhitched'], [true, 'hitched']], state.hitched === true, v => set('hitched', v), {place: `${at}.hitched`}) : null,
    trailer && !state.hitched ? oneOf('Its nose stands on', `${at}-support`,
      [['coupling', 'a scale under the coupling'], ['jockey', 'a scale under the jockey wheel'], [undefined, 'no scale']], state.support, v => set('support', v), {place: `${at}.support`}) : null,
    trailer && state.hitched ? tick(draft, `${at}.weight_distribution`, 'Weight distribution bars are under tension') : null,
    tick(draft, `${at}.travels`, 'The rig goes on the road like this'),
    trailer ? measured(draft, `${at}.coupling_height`, 'Height of the coupling above the ground', length, {hint: 'Can be filled in later, once.'}) : null,
    h('details.fold', {k: `slope-${at}`}, h('summary', 'Slope of the ground'),
      button('It is level', () => { draft.set(`${at}.slope`, {value: 0}); redraw(); }, {class: 'b'}),
      measured(draft, `${at}.slope`, 'Slope along the rig, nose up counts positive', 'mm/m', {signed: true})),
    rideHeights(draft, at, length, corners)];
}

const corners = ['front_left', 'front_right', 'rear_left', 'rear_right'];
/// The corners whose height nobody has measured in a state of the view.
export const heightsLeft = state => corners.filter(at => !(state.ride_heights || []).some(r => r.at === at));

function rideHeights(draft, at, length, which, open) {
  const ends = ['front', 'rear'].map(end => which.filter(corner => corner.startsWith(end))).filter(end => end.length);
  return h('details.fold', {k: `ride-${at}`, open}, h('summary', 'Ride heights of the tow vehicle'),
    h('p.hint', 'From the ground to the same mark each time, the wheel arch for instance.'),
    ends.map(end => h('div.row', end.map(corner => figure(draft, `${at}.ride_heights.${corner}`, corner.replace('_', ' '), {unit: length})))));
}

export function stateStep(page, draw) {
  const s = page.draft.root;
  return s.states.map((state, i) => {
    const names = s.states.filter(o => o !== state).map(o => o.name);
    const form = stateForm(page.draft, `states.${i}`, {trailer: Boolean(s.rig.trailer), length: s.units.length, names, redraw: draw});
    return s.states.length > 1 || page.session ? h('section.card', h('h2', state.name || 'State'), form) : h('div', form);
  });
}

/// Another state of the session under way; it is queued like a reading, so that weighing goes on without the laptop.
export function anotherState(view, known) {
  const draft = draftOf({rig: {tow_vehicle: {axles: []}}, states: [{name: '', hitched: true}]});
  if (!view.rig.trailer) draft.root.states[0].hitched = false;
  return dialog('Another state', close => {
    const body = h('div.form');
    let faults = [];
    const draw = () => {
      place(draft, faults);
      body.replaceChildren(...[faults.length ? summary(faults) : null,
        ...stateForm(draft, 'states.0', {trailer: Boolean(view.rig.trailer), length: view.session.units.length, names: known, redraw: draw}),
        h('div.actions', button('Weigh in this state', keep, {class: 'b strong', act: 'keep-state'}))].flat(3).filter(Boolean));
    };
    const keep = () => {
      const name = (draft.get('states.0.name') || '').trim();
      faults = [...draft.bad].map(p => ({place: p, what: 'This has to be a number.'}));
      if (!name) faults.push({place: 'states.0.name', what: 'Name the state, for instance “together”.'});
      if (known.includes(name)) faults.push({place: 'states.0.name', what: `There is a state “${name}” already: give this one another name.`});
      if (faults.length) { draw(); document.getElementById('faults').focus(); return; }
      draft.set('states.0.name', name);
      const state = sheetOf(draft).states[0];
      queue.add('state', view.session.id, state);
      say(`State ${name} kept.`);
      close(name);
    };
    draw();
    return body;
  }, {'data-dialog': 'state'});
}

/// Coupling height, slope and ride heights, where a state still lacks them.
export function completeState(view, state) {
  const draft = draftOf({states: [{}]});
  const length = view.session.units.length;
  return dialog(`“${state.name}”, still to measure`, close => {
    const send = async () => {
      if (draft.bad.size) { alarm('Enter numbers, like 442.'); return; }
      const given = draft.root.states[0], body = {};
      for (const name of ['coupling_height', 'slope']) if (given[name] && given[name].value !== undefined) body[name] = given[name];
      const heights = pruned(given.ride_heights);
      if (heights) body.ride_heights = heights;
      if (!Object.keys(body).length) { alarm('Nothing is entered.'); return; }
      try {
        await api.call(`${api.session(view.session.id)}/completions`, {states: {[state.name]: body}});
        say('Saved.');
        close(true);
      } catch (error) { told.textContent = [error.message, ...(error.faults || []).map(f => f.what)].join(' '); alarm(told.textContent); }
    };
    const told = h('p.fault');
    return h('div.form',
      h('p', 'Can be filled in once; a later change is a correction with a reason.'),
      state.needs.includes('coupling_height') ? measured(draft, 'states.0.coupling_height', 'Height of the coupling above the ground', length) : null,
      state.needs.includes('slope') ? measured(draft, 'states.0.slope', 'Slope along the rig, nose up counts positive', 'mm/m', {signed: true}) : null,
      heightsLeft(state).length ? rideHeights(draft, 'states.0', length, heightsLeft(state), !state.needs.length) : null,
      told, h('div.actions', button('Save', send, {class: 'b strong', act: 'complete'})));
  }, {'data-dialog': 'complete'});
}
