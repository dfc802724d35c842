// Set-up steps: the client with the units, and the rig with what was fitted to it.

import {h, button} from './dom.js';
import {text, figure, measured, choice, oneOf, tick} from './form.js';
import {changeUnits, copy, fittedIn, rigIn} from './draft.js';
import {shortId, clock} from './units.js';

export function clientStep(page, draw) {
  const {draft, desk} = page, units = draft.root.units;
  const earlier = (desk.clients || []);
  return [
    page.session ? null : oneOf('Units of this weighing', 'units', [['kg', 'kg and mm'], ['lb', 'lb and in']], units.load, load => {
      changeUnits(draft, load === 'kg' ? {load: 'kg', length: 'mm'} : {load: 'lb', length: 'in'});
      draw();
    }),
    earlier.length && !page.session ? h('div.f',
      h('label', {for: 'earlier-client'}, 'Client from an earlier visit'),
      choose('earlier-client', [['', 'someone new'], ...earlier.map(c => [c.uid, c.name])], draft.get('client.uid'), uid => {
        const client = earlier.find(c => c.uid === uid);
        draft.set('client', client ? {uid: client.uid, name: client.name} : {uid: shortId()});
        draw();
      })) : null,
    text(draft, 'client.name', 'Name', {required: true, caps: 'words'}),
    text(draft, 'client.reference', 'The client’s reference', {hint: 'Order number or the like; may stay empty.'})];
}

function choose(id, pairs, held, act) {
  const control = h('select', {id, onchange: () => act(control.value)}, pairs.map(([value, words]) => h('option', {value}, words)));
  control.value = pairs.some(p => p[0] === held) ? held : pairs[0][0];
  return control;
}

export function rigStep(page, draw) {
  const {draft, desk} = page, rigs = desk.rigs || [];
  const rig = draft.root.rig, length = draft.root.units.length;
  return [
    rigs.length && !page.session ? h('div.f',
      h('label', {for: 'earlier-rig'}, 'Rig from an earlier visit'),
      choose('earlier-rig', [['', 'a new rig'], ...rigs.map((r, i) => [String(i), `${r.title}, ${clock(r.weighed_at).slice(0, 10)}`])], page.rig, i => {
        page.rig = i;
        const chosen = rigs[Number(i)];
        if (i !== '') draft.set('rig', rigIn(chosen.rig, chosen.units, draft.root.units));
        else draft.set('rig', {tow_vehicle: {uid: shortId(), axles: [{at: 0, group: 'front'}, {at: null, group: 'rear'}]}, limits: []});
        draft.root.modifications = i !== '' ? fittedIn(chosen.modifications, chosen.units, draft.root.units) : [];
        draft.keep();
        draw();
      }),
      h('p.hint', 'Taken over whole, with its ratings and modifications. Check that plates and measures are still the same.')) : null,
    vehicle(page, draw, length),
    h('h2', 'Trailer'),
    oneOf('Is a trailer weighed with it?', 'has-trailer', [[true, 'with a trailer'], [false, 'vehicle alone']], Boolean(rig.trailer), yes => {
      if (yes) draft.set('rig.trailer', page.trailer || {uid: shortId(), axles: 1, suspension: 'single'});
      else { page.trailer = copy(rig.trailer); draft.set('rig.trailer', undefined); }
      draw();
    }),
    rig.trailer ? trailer(page, draw, length) : null,
    h('h2', 'Modifications'),
    modifications(draft, draw)];
}

function modifications(draft, draw) {
  const all = draft.root.modifications || [];
  return [
    h('p', 'Everything that is fitted to the rig, or was taken off it, up to this weighing. Two weighings compared hold what one lists and the other does not against what the axles show.'),
    all.map((_, i) => h('section.card', {label: `Modification ${i + 1}`}, modificationRow(draft, `modifications.${i}`),
      button('Take out', () => { all.splice(i, 1); draft.keep(); draw(); }, {class: 'b quiet', label: `Take out modification ${i + 1}`}))),
    button(all.length ? 'One more modification' : 'A modification', () => {
      draft.root.modifications = [...all, {}];
      draft.keep();
      draw();
      document.getElementById(`f-modifications-${all.length}-what`).focus();
    }, {act: 'new-modification'})];
}

/// The fields of one modification.
export function modificationRow(draft, at) {
  const {load, length} = draft.root.units;
  return [
    text(draft, `${at}.what`, 'What was fitted or taken off', {required: true, list: ['long-range tank', 'bull bar', 'winch', 'canopy', 'roof rack', 'second battery', 'rear springs', 'tool boxes']}),
    h('div.row',
      figure(draft, `${at}.mass`, 'Its mass', {unit: load, signed: true, hint: 'As declared; with a minus where taken off.'}),
      figure(draft, `${at}.at`, 'Behind axle 1 by', {unit: length, signed: true, hint: 'Ahead of it: with a minus.'})),
    text(draft, `${at}.certificate`, 'Certificate', {caps: 'characters'})];
}

function vehicle(page, draw, length) {
  const {draft} = page, axles = draft.root.rig.tow_vehicle.axles, at = 'rig.tow_vehicle';
  return [
    h('h2', 'Tow vehicle'),
    text(draft, `${at}.label`, 'What people call it', {hint: 'For instance: survey utility 12.'}),
    text(draft, `${at}.registration`, 'Registration', {caps: 'characters'}),
    h('h3', 'Axles, from the front'),
    axles.map((axle, i) => h('div.row', {role: 'group', label: `Axle ${i + 1}`},
      h('p.row-name', `Axle ${i + 1}`),
      i === 0 ? h('p.f.plain', 'The origin: the others are measured from here.') :
        figure(draft, `${at}.axles.${i}.at`, 'Behind axle 1 by', {unit: length, required: true}),
      choice(draft, `${at}.axles.${i}.group`, 'Group', [['front', 'front'], ['rear', 'rear']]),
      axles.length > 2 && i > 0 ? button('Take out', () => { axles.splice(i, 1); draft.keep(); draw(); }, {class: 'b quiet', label: `Take out axle ${i + 1}`}) : null)),
    axles.length < 20 && !page.session ? button('One more axle', () => { axles.push({at: null, group: 'rear'}); draft.keep(); draw(); }) : null,
    measured(draft, `${at}.overhang`, 'Overhang: rear group’s centre to the coupling', length,
      {hint: 'Measure it if you can: with it, the readings can check one another.', signed: true}),
    h('details.fold', {k: 'tow-more'}, h('summary', 'More about the tow vehicle'),
      text(draft, `${at}.vin`, 'Vehicle identification number', {caps: 'characters'}),
      figure(draft, `${at}.wheelbase_u`, 'How sure the wheelbase is, plus or minus', {unit: length}),
      measured(draft, `${at}.cg_height`, 'Height of the centre of gravity', length))];
}

function trailer(page, draw, length) {
  const {draft} = page, t = draft.root.rig.trailer, at = 'rig.trailer';
  return [
    text(draft, `${at}.label`, 'What people call it', {hint: 'For instance: pump trailer 3.'}),
    text(draft, `${at}.registration`, 'Registration', {caps: 'characters'}),
    choice(draft, `${at}.axles`, 'Axles', [1, 2, 3, 4, 5, 6].map(n => [n, String(n)]), {number: true, then: () => {
      if (t.axles === 1) draft.set(`${at}.suspension`, 'single');
      else if (t.suspension === 'single') draft.set(`${at}.suspension`, 'independent');
      draw();
    }}),
    t.axles > 1 ? oneOf('How the axles are sprung', 'suspension',
      [['independent', 'each by itself'], ['load_sharing', 'sharing the load']], t.suspension,
      v => draft.set(`${at}.suspension`, v), {place: `${at}.suspension`}) : null,
    measured(draft, `${at}.coupling_to_axles`, 'Coupling to the centre of the axles', length),
    measured(draft, `${at}.coupling_to_jockey`, 'Coupling back to the jockey wheel', length, {hint: 'Only needed where the jockey wheel is weighed.'}),
    h('details.fold', {k: 'trailer-more'}, h('summary', 'More about the trailer'),
      tick(draft, `${at}.self_supporting`, 'It stands on its own axles and puts no load on the coupling'))];
}
