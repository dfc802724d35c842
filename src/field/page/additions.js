// What is added to a session under way: a scale, a check weight on one, a rating, a modification.

import {h, button, dialog, say, byId} from './dom.js';
import * as api from './api.js';
import {text, figure, choice, draftOf, place as placeFaults, summary} from './form.js';
import {missing, sheetOf, stepOf} from './draft.js';
import {modificationRow} from './setup_rig.js';
import {scaleRow, weightRow, limitRow} from './setup_more.js';
import {now, shortId} from './units.js';

const shown = w => `${w.mass.load} ${w.mass.unit}: showed ${w.load.load} ${w.load.unit}`;

/// Of each kind: where its one row stands in a draft, how that begins, its fields, and what is sent of the sheet.
const forms = {
  scales: {
    words: 'Add a scale', at: 'scales', begin: root => root.scales.push({uid: shortId()}),
    fields: ({draft, units}) => [text(draft, 'scales.0.id', 'Short name', {required: true, caps: 'characters'}),
      figure(draft, 'scales.0.zero_before', 'Shows when empty, before', {unit: units.load, signed: true}), scaleRow(draft, 'scales.0')],
    sent: sheet => ({scales: sheet.scales}),
  },
  check_weights: {
    words: 'Check a scale', at: 'scales[0].check_weights',
    begin: (root, view) => root.scales.push({id: view.scales[0].id, check_weights: [{taken_at: now()}]}),
    fields: ({draft, view, draw}) => {
      const held = (view.scales.find(s => s.id === draft.get('scales.0.id')) || {}).check_weights || [];
      return [h('p', 'Put a weight that is known on the scale alone. It tells how far the scale is off under load.'),
        choice(draft, 'scales.0.id', 'Scale', view.scales.map(s => [s.id, s.id]), {then: draw}),
        held.length ? h('ul.sub', {part: 'weights'}, held.map(w => h('li', shown(w)))) : null,
        weightRow(draft, 'scales.0.check_weights.0')];
    },
    sent: sheet => ({check_weights: {[sheet.scales[0].id]: sheet.scales[0].check_weights}}),
  },
  limits: {
    words: 'Add a rating', at: 'rig.limits', begin: root => root.rig.limits.push({of: ''}),
    fields: ({page, draft, draw}) => limitRow(page, draft, 'rig.limits.0', draw),
    sent: sheet => ({limits: sheet.rig.limits}),
  },
  modifications: {
    words: 'Add a modification', at: 'modifications', begin: root => { root.modifications = [{}]; },
    fields: ({draft}) => modificationRow(draft, 'modifications.0'),
    sent: sheet => ({modifications: sheet.modifications}),
  },
};

/// [kind, words] of each.
export const additions = Object.entries(forms).map(([kind, form]) => [kind, form.words]);

/// Opens the dialog of one kind.
export function addition(page, kind) {
  const form = forms[kind], view = page.view, units = view.session.units, trailer = view.rig.trailer;
  const draft = draftOf({units, scales: [], rig: {tow_vehicle: {axles: view.rig.tow.axles.map(a => ({at: a.at, group: a.group}))}, trailer: trailer ? {axles: trailer.axles} : undefined, limits: []}, states: []});
  form.begin(draft.root, view);
  return dialog(form.words, close => {
    const body = h('div.form');
    let faults = [];
    const draw = () => {
      placeFaults(draft, faults);
      body.replaceChildren(...[faults.length ? summary(faults) : null, form.fields({page, draft, view, units, draw}),
        h('div.actions', button('Add it', send, {class: 'b strong', act: 'add-it'}))].flat(3).filter(Boolean));
      if (faults.length) byId('faults').focus();
    };
    const send = async () => {
      draft.root.weighed = {at: ''};
      faults = missing(draft, stepOf(form.at));
      if (kind === 'scales' && view.scales.some(s => s.id === draft.get('scales.0.id'))) faults.push({place: 'scales.0.id', what: 'There is a scale of this name already.'});
      if (faults.length) { draw(); return; }
      const sheet = sheetOf({root: {...draft.root, weighed: undefined}});
      try {
        await api.call(`${api.session(view.session.id)}/additions`, form.sent(sheet));
        say('Saved.');
        page.refresh();
        close(true);
      } catch (error) {
        // The laptop counts within what was sent or within the whole session; here there is one row.
        faults = error.faults && error.faults.length ? error.faults.map(f => ({...f, place: `${form.at}[0]${(f.place || '').includes(']') ? f.place.slice(f.place.lastIndexOf(']') + 1) : ''}`})) : [{place: '', what: error.message}];
        draw();
      }
    };
    draw();
    return body;
  }, {'data-dialog': kind});
}
