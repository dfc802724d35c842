// Set-up steps: scales, ratings, and the day. The rows of a scale, of a check weight and of a rating serve additions to a
// session as well.

import {h, button, tone} from './dom.js';
import {text, figure, choice, tick} from './form.js';
import {loadLimit, scaleIn} from './draft.js';
import {now, shortId} from './units.js';

const sameScale = (a, b) => (a.uid && b.uid ? a.uid === b.uid : a.id === b.id && (a.serial || '') === (b.serial || ''));

export function scalesStep(page, draw) {
  const {draft, desk} = page, mine = draft.root.scales;
  const earlier = page.session ? [] : desk.scales || [];
  return [
    earlier.length ? h('fieldset.ticks', h('legend', 'Scales from earlier visits'), earlier.map((s, i) => {
      const held = mine.findIndex(m => sameScale(m, s.scale));
      const box = h('input', {type: 'checkbox', id: `scale-${i}`, checked: held >= 0, onchange: () => {
        if (held >= 0) mine.splice(held, 1); else mine.push(scaleIn(s.scale, s.units, draft.root.units));
        draft.keep();
        draw();
      }});
      return h('div.f.tick', box, h('label', {for: box.id}, s.title, s.due_passed ? [' ', tone({tone: 'close_over', sign: '!'}, 'certificate ran out')] : null));
    })) : null,
    mine.length ? h('h2', 'Scales of this weighing') : h('p', 'Without scales the readings count as taken on a scale nobody knows, which makes every figure less sure.'),
    mine.map((scale, i) => {
      const known = (desk.scales || []).some(s => sameScale(s.scale, scale));
      return h('section.card', {label: `Scale ${scale.id || i + 1}`},
        h('div.row',
          text(draft, `scales.${i}.id`, 'Short name', {required: true, caps: 'characters', class: 'short'}),
          figure(draft, `scales.${i}.zero_before`, 'Shows when empty, before', {unit: draft.root.units.load, signed: true})),
        h('details.fold', {k: `scale-${i}`, open: !known}, h('summary', 'Serial, capacity, certificate'), scaleRow(draft, `scales.${i}`)),
        weights(draft, scale, `scales.${i}`, draw),
        page.session ? null : button('Take out', () => { mine.splice(i, 1); draft.keep(); draw(); }, {class: 'b quiet', label: `Take out scale ${scale.id || i + 1}`}));
    }),
    button('A new scale', () => {
      mine.push({id: '', uid: shortId()});
      draft.keep();
      draw();
      document.getElementById(`f-scales-${mine.length - 1}-id`).focus();
    }, {act: 'new-scale'})];
}

/// A scale's check weights: masses that are known, put on it alone.
function weights(draft, scale, at, draw) {
  const all = scale.check_weights || [], name = scale.id || 'without a name';
  return h('details.fold', {k: `${at}-weights`, open: all.length > 0}, h('summary', 'Check weights', h('span.unseen', ` on scale ${name}`)),
    all.map((weight, i) => h('div', {role: 'group', label: `Check weight ${i + 1} on scale ${name}`}, weightRow(draft, `${at}.check_weights.${i}`),
      button(`Take out weight ${i + 1}`, () => { all.splice(i, 1); draft.keep(); draw(); }, {class: 'b quiet', label: `Take out weight ${i + 1} on scale ${name}`}))),
    button(all.length ? 'One more check weight' : 'A check weight', () => {
      scale.check_weights = [...all, {taken_at: now()}];
      draft.keep();
      draw();
      document.getElementById(`f-${at.replace('.', '-')}-check_weights-${all.length}-mass`).focus();
    }, {act: 'new-weight'}));
}

/// One check weight.
export function weightRow(draft, at) {
  const unit = draft.root.units.load;
  return h('div.row', figure(draft, `${at}.mass`, 'Mass of the weight', {required: true, unit}), figure(draft, `${at}.load`, 'The scale shows', {required: true, unit}));
}

/// The details of one scale.
export function scaleRow(draft, at) {
  const load = draft.get('units.load') || draft.root.units.load;
  return [
    text(draft, `${at}.serial`, 'Serial number', {caps: 'characters'}),
    h('div.row', figure(draft, `${at}.capacity`, 'Capacity', {unit: load}), figure(draft, `${at}.division`, 'Division', {unit: load})),
    h('div.row', text(draft, `${at}.certificate`, 'Certificate', {caps: 'characters'}), text(draft, `${at}.calibrated`, 'Calibrated', {type: 'date'}), text(draft, `${at}.due`, 'Holds until', {type: 'date'})),
    h('div.row', figure(draft, `${at}.gain_u`, 'How sure its calibration is, plus or minus', {unit: '%', factor: 0.01}), figure(draft, `${at}.repeatability`, 'Repeats within, plus or minus', {unit: load}))];
}

export function limitsStep(page, draw) {
  const {draft} = page, limits = draft.root.rig.limits || (draft.root.rig.limits = []);
  return [
    h('p', 'Read every rating off its plate. Where two sources disagree, enter both: the lower one governs.'),
    limits.map((l, i) => h('section.card', {label: `Rating ${i + 1}`},
      limitRow(page, draft, `rig.limits.${i}`, draw),
      button('Take out', () => { limits.splice(i, 1); draft.keep(); draw(); }, {class: 'b quiet', label: `Take out rating ${i + 1}`}))),
    button(limits.length ? 'One more rating' : 'A rating', () => {
      const source = limits.length ? limits[limits.length - 1].source : '';
      limits.push({of: '', source});
      draft.keep();
      draw();
      document.getElementById(`f-rig-limits-${limits.length - 1}-of`).focus();
    }, {act: 'new-limit'})];
}

const sources = ['compliance plate', 'trailer plate', 'towbar plate', 'coupling head plate', 'handbook', 'placard', 'tyre sidewall', 'certificate of a modification', 'owner’s word'];

/// Each kind of rating, with its axle's number where it has one: [of, words].
function kindsOf(page, draft) {
  const rig = draft.root.rig || page.rig, out = [];
  const count = {tow: rig.tow_vehicle.axles.length, trailer: rig.trailer ? rig.trailer.axles : 0};
  for (const kind of page.desk.limit_kinds || []) {
    const base = kind.of.replace(/\.N$/, '');
    if (!kind.axles) { if (rig.trailer || /^tow_(?!front_minimum)|^side/.test(base)) out.push([base, kind.words, kind]); continue; }
    for (let n = 1; n <= count[kind.axles]; ++n) out.push([`${base}.${n}`, / 1(?!\d)/.test(kind.words) ? kind.words.replace(/ 1(?!\d)/, ` ${n}`) : `${kind.words}, axle ${n}`, kind]);
  }
  return out;
}

/// The fields of one rating.
export function limitRow(page, draft, at, draw) {
  const l = draft.get(at), kinds = kindsOf(page, draft), kind = (kinds.find(k => k[0] === l.of) || [])[2];
  if (l.of && !kind) kinds.push([l.of, l.of, {}]);
  const measure = kind ? kind.measure : loadLimit(l.of) ? 'load' : /d_value|dc_value/.test(l.of) ? 'force' : 'ratio';
  const own = draft.root.units.load, load = l.unit || own;
  if (l.unit === own) delete l.unit;
  const tyre = /^wheel\./.test(l.of || ''), percent = measure === 'ratio';
  const before = l.of || '';
  return [
    choice(draft, `${at}.of`, 'What is rated', [['', 'choose …'], ...kinds], {required: true, then: () => {
      const chosen = draft.get(at), base = of => (of || '').replace(/\.\d+$/, '');
      if (base(chosen.of) !== base(before)) for (const key of ['part', 'load_index', 'tyres', 'basis', 'against']) delete chosen[key];
      if (loadLimit(chosen.of) !== loadLimit(before)) { delete chosen.value; delete chosen.unit; }
      draft.keep();
      draw();
    }}),
    l.of && tyre && l.load_index !== undefined ? h('div.row',
      figure(draft, `${at}.load_index`, 'Load index', {whole: true, required: true}),
      choice(draft, `${at}.tyres`, 'Tyres at this end', [[l.tyres === 1 ? 1 : '', 'one'], [2, 'two']], {number: true})) :
      h('div.row',
        figure(draft, `${at}.value`, kind && kind.minimum ? 'At least' : percent ? 'At most' : 'Rated at', {required: true, unit: percent ? '%' : measure === 'force' ? 'kN' : load, factor: percent ? 0.01 : 1}),
        measure === 'load' ? choice(draft, `${at}.unit`, 'Unit on the plate', [['', own], own === 'kg' ? ['lb', 'lb'] : ['kg', 'kg']], {then: draw}) : null),
    tyre ? button(l.load_index === undefined ? 'Enter the tyre’s load index instead' : 'Enter a load instead', () => {
      if (l.load_index === undefined) { delete l.value; delete l.unit; l.load_index = ''; } else { delete l.load_index; delete l.tyres; }
      draft.keep();
      draw();
    }, {class: 'link'}) : null,
    /^(trailer_gross|towed_mass|towed_mass_unbraked)$/.test(l.of || '') ?
      choice(draft, `${at}.basis`, 'Counts', [['', 'the whole trailer'], ['axles', 'only what its axles carry']]) : null,
    l.of === 'mass_ratio' ? figure(draft, `${at}.against`, 'Against a declared mass of the tow vehicle', {unit: load, hint: 'Empty: against what it weighs hitched.'}) : null,
    kind && kind.part ? text(draft, `${at}.part`, 'On which part', {list: ['vehicle', 'towbar plate', 'ball', 'coupling head', 'drawbar']}) : null,
    text(draft, `${at}.source`, 'Where it was read', {required: true, list: sources}),
    h('details.fold', {k: `${at}-more`}, h('summary', 'Edition, who read it'),
      text(draft, `${at}.edition`, 'Edition of the handbook'), text(draft, `${at}.read_by`, 'Who read it', {caps: 'words'})),
    draft.root.rig.trailer ? choice(draft, `${at}.with_weight_distribution`, 'Holds', [['', 'in every state'], ['true', 'with weight distribution only'], ['false', 'without weight distribution only']],
      {then: () => draft.set(`${at}.with_weight_distribution`, {true: true, false: false}[l.with_weight_distribution])}) : null,
    tick(draft, `${at}.advice`, 'Advice, not a rating')];
}

export function dayStep(page, draw) {
  const {draft, desk} = page;
  const at = draft.get('weighed.at') || '';
  const cut = /^(.{16})(?::\d\d)?(.*)$/.exec(at) || [null, '', ''];
  const when = h('input', {type: 'datetime-local', id: 'f-weighed-at', value: cut[1], 'aria-required': 'true', oninput: () => join()});
  const zone = h('input', {type: 'text', id: 'weighed-offset', value: cut[2], autocomplete: 'off', oninput: () => join()});
  const join = () => draft.set('weighed.at', when.value ? `${when.value.slice(0, 16)}:00${zone.value.trim()}` : '');
  const fault = draft.faults.get('weighed.at');
  return [
    h('div.row',
      h('div.f.long', h('label', {for: 'f-weighed-at'}, 'Day and time', h('span.must', ' (needed)')), when, fault && h('p.fault', fault)),
      h('div.f.short', h('label', {for: 'weighed-offset'}, 'Offset'), zone)),
    text(draft, 'weighed.place', 'Place', {list: desk.places}),
    text(draft, 'weighed.technician', 'Who weighs', {list: desk.technicians, caps: 'words'}),
    text(draft, 'weighed.purpose', 'What for', {list: ['routine', 'owner’s check', 'before a modification', 'after a modification', 'dispute', 'fleet audit']}),
    h('h2', 'The site'),
    text(draft, 'conditions.surface', 'Surface', {list: ['sealed, level', 'concrete, level', 'gravel, level']}),
    text(draft, 'conditions.wind', 'Wind', {list: ['calm', 'light', 'gusty']}),
    h('h2', 'What is aboard'),
    h('p', 'The result holds only for this load.'),
    h('div.row', figure(draft, 'carried.fuel_percent', 'Fuel', {unit: '%'}), figure(draft, 'carried.occupants', 'People aboard', {whole: true})),
    text(draft, 'carried.note', 'What else', {hint: 'Water, tools, gas, animals …'})];
}
