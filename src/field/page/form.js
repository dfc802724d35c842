// Fields bound to a draft by their place in the sheet ("rig.tow_vehicle.overhang"), so that a fault the laptop names by
// its place stands at the very field. A draft is {get(place), set(place, value), bad: Set of places, faults: Map}.

import {h, button, byId} from './dom.js';
import {number} from './units.js';

const idOf = place => 'f-' + place.replace(/[^A-Za-z0-9_]+/g, '-');
/// "rig.limits[0].value" as "rig.limits.0.value", which is how fields are bound; and back.
export const dotted = place => String(place).replace(/\[(\d+)\]/g, '.$1');
export const bracketed = place => String(place).replace(/\.(\d+)(?=\.|$)/g, '[$1]');

/// Draft over a plain object; `keep` is called after every change.
export function draftOf(root, keep = () => {}) {
  const walk = place => place.split('.');
  return {
    root, bad: new Set(), faults: new Map(), keep,
    get(place) { return walk(place).reduce((o, k) => (o === undefined || o === null ? undefined : o[k]), root); },
    set(place, value) {
      const steps = walk(place), last = steps.pop();
      let o = root;
      for (const step of steps) {
        if (o[step] === undefined || o[step] === null || typeof o[step] !== 'object') o[step] = {};
        o = o[step];
      }
      if (value === undefined || value === '' || value === null) {
        if (Array.isArray(o)) o[last] = null; else delete o[last];
      } else o[last] = value;
      this.faults.delete(place);
      keep();
    },
  };
}

function frame(draft, place, label, control, options) {
  const id = idOf(place), fault = draft.faults.get(place);
  const told = [options.hint && `${id}-h`, fault && `${id}-e`].filter(Boolean).join(' ');
  if (told) control.setAttribute('aria-describedby', told);
  if (fault) control.setAttribute('aria-invalid', 'true');
  if (options.required) control.setAttribute('aria-required', 'true');
  return h('div', {class: `f ${options.class || ''}`, 'data-field': place},
    h('label', {for: id}, label, options.required ? h('span.must', ' (needed)') : null),
    options.unit ? h('span.with-unit', control, h('span.unit', {'aria-hidden': 'true'}, options.unit)) : control,
    options.hint && h('p.hint', {id: `${id}-h`}, options.hint),
    fault && h('p.fault', {id: `${id}-e`}, fault));
}

/// One line of text; options {type, hint, required, list: [suggestions], autocomplete}.
export function text(draft, place, label, options = {}) {
  const id = idOf(place);
  const control = h('input', {id, type: options.type || 'text', value: draft.get(place) ?? '', autocomplete: 'off',
    autocapitalize: options.caps || 'sentences', list: options.list && options.list.length ? `${id}-l` : null,
    oninput: () => { draft.set(place, control.value); if (options.then) options.then(); }});
  const field = frame(draft, place, label, control, options);
  if (options.list && options.list.length) field.append(h('datalist', {id: `${id}-l`}, options.list.map(v => h('option', {value: v}))));
  return field;
}

/// A number with its unit; `factor` turns what is typed into what the sheet holds (0.01 for per cent).
export function figure(draft, place, label, options = {}) {
  const factor = options.factor || 1, held = draft.get(place);
  const shown = typeof held === 'number' ? String(Number((held / factor).toPrecision(12))) : held ?? '';
  const control = h('input', {id: idOf(place), type: 'text', inputmode: options.whole ? 'numeric' : options.signed ? 'text' : 'decimal', autocomplete: 'off', value: shown,
    oninput: () => {
      const value = number(control.value);
      draft.set(place, value === null ? control.value.trim() : factor === 1 ? value : Number((value * factor).toPrecision(15)));
      if (value === null && control.value.trim() !== '') draft.bad.add(place); else draft.bad.delete(place);
      if (options.then) options.then();
    }});
  return frame(draft, place, options.unit ? [label, h('span.unseen', `, in ${options.unit}`)] : label, control, options);
}

/// A measured length, {value, u}; how sure it is, is folded away.
export function measured(draft, place, label, unit, options = {}) {
  const held = draft.get(place);
  if (typeof held === 'number') draft.set(place, {value: held});
  if (draft.faults.has(place)) draft.faults.set(`${place}.value`, draft.faults.get(place));
  return h('div.pair',
    figure(draft, `${place}.value`, label, {...options, unit}),
    h('details.fold', {k: `u-${place}`}, h('summary', 'How sure', h('span.unseen', ` is “${label}”`)),
      figure(draft, `${place}.u`, 'plus or minus', {unit, hint: 'One standard deviation. Left empty: as usual with a tape.'})));
}

export function choice(draft, place, label, pairs, options = {}) {
  const control = h('select', {id: idOf(place), onchange: () => {
    draft.set(place, options.number && control.value !== '' ? Number(control.value) : control.value);
    if (options.then) options.then();
  }}, pairs.map(([value, words]) => h('option', {value}, words)));
  control.value = String(draft.get(place) ?? '');
  return frame(draft, place, label, control, options);
}

export function tick(draft, place, label, options = {}) {
  const control = h('input', {id: idOf(place), type: 'checkbox', checked: draft.get(place) === true, onchange: () => {
    draft.set(place, control.checked ? true : undefined);
    if (options.then) options.then();
  }});
  return h('div.f.tick', {'data-field': place}, control, h('label', {for: control.id}, label),
    options.hint && h('p.hint', options.hint), draft.faults.get(place) && h('p.fault', draft.faults.get(place)));
}

/// One of a few, side by side. Values may be of any kind; they are compared as they are.
export function oneOf(legend, name, pairs, held, act, options = {}) {
  return h('fieldset.one-of', {'data-field': options.place || name, id: options.place ? idOf(options.place) : null, tabindex: options.place ? '-1' : null},
    h('legend', legend),
    pairs.map(([value, words], i) => {
      const control = h('input', {type: 'radio', name, id: `${name}-${i}`, checked: value === held, onchange: () => act(value)});
      return h('span.chip', control, h('label', {for: control.id, 'data-value': String(value)}, words));
    }),
    options.fault && h('p.fault', options.fault));
}

/// Puts the laptop's faults at their fields; a place the page has no field for stands at the nearest one above it.
export function place(draft, faults) {
  draft.faults = new Map();
  for (const fault of faults) {
    const at = dotted(fault.place || '');
    draft.faults.set(at, [draft.faults.get(at), fault.what].filter(Boolean).join(' '));
  }
}

/// "rig.limits[0].value" as "rating 1, value".
const inWords = place => String(place).replace(/^rig\.(?=.)/, '').replace(/limits/g, 'rating').replace(/(scale|state|reading|axle|modification|check_weight)s(?=\[)/g, '$1')
  .replace(/\[(\d+)\]/g, (_, n) => ` ${Number(n) + 1}`).replace(/\./g, ', ').replace(/_/g, ' ');

/// All faults in one list that takes the focus; `go(place)` opens the step the field stands on.
export function summary(faults, go) {
  const list = faults.map(fault => h('li', button(`${fault.what}`, () => {
    const at = dotted(fault.place || '');
    if (go) go(at);
    for (let p = at; p; p = p.includes('.') ? p.slice(0, p.lastIndexOf('.')) : '') {
      const field = byId(idOf(p)) || byId(idOf(p + '.value'));
      if (field) { field.focus(); field.scrollIntoView({block: 'center'}); return; }
    }
  }, {class: 'link'}), fault.place ? h('span.hint', ` (${inWords(fault.place)})`) : null));
  return h('div.note.over', {id: 'faults', tabindex: '-1', role: 'group', by: 'faults-h', part: 'faults'},
    h('h2', {id: 'faults-h'}, faults.length === 1 ? 'One thing has to be put right' : `${faults.length} things have to be put right`), h('ul', list));
}

/// A copy without what is empty: "", null, undefined and objects with nothing in them. Lists keep their order.
export function pruned(value) {
  if (Array.isArray(value)) return value.map(pruned).filter(v => v !== undefined);
  if (value && typeof value === 'object') {
    const out = {};
    for (const [key, held] of Object.entries(value)) {
      const v = pruned(held);
      if (v !== undefined) out[key] = v;
    }
    return Object.keys(out).length ? out : undefined;
  }
  return value === '' || value === null ? undefined : value;
}
