// Setting up a weighing in short steps, and correcting a set-up later: the steps' frame, what is said when something is
// missing, the sending. The steps themselves stand in setup_rig.js, setup_more.js and states.js.

import {h, button, show, arrive, byId, alarm, dialog} from './dom.js';
import * as api from './api.js';
import * as drafts from './draft.js';
import {place, summary, draftOf, text} from './form.js';
import {clientStep, rigStep} from './setup_rig.js';
import {scalesStep, limitsStep, dayStep} from './setup_more.js';
import {stateStep} from './states.js';

const steps = [
  ['client', 'Client', clientStep], ['rig', 'Rig', rigStep], ['scales', 'Scales', scalesStep],
  ['limits', 'Ratings', limitsStep], ['day', 'The day', dayStep], ['state', 'State', stateStep]];

/// Shows one step; `page` is {desk, draft, session: null | id being corrected, base: '#/new' | '#/s/ID/correct'}.
export function setup(page, at) {
  const main = byId('main');
  const index = Math.max(0, steps.findIndex(s => s[0] === at));
  const [name, words, build] = steps[index];
  const last = index === steps.length - 1;
  const title = name !== 'state' ? words : page.session ? 'States' : 'First state';
  let faults = page.faults || [];

  const draw = () => {
    place(page.draft, faults);
    show(main,
      h('nav.steps', {label: 'Steps of the set-up'}, h('ol', steps.map(([n, w], i) =>
        h('li', h('a', {href: `${page.base}/${n}`, 'aria-current': i === index ? 'step' : null, 'data-step': n},
          h('span.no', {'aria-hidden': 'true'}, i + 1), h('span.w', w)))))),
      h('h1', page.session ? `Correct: ${title.toLowerCase()}` : title),
      faults.length ? summary(faults, go) : null,
      h('form.form', {novalidate: true, 'data-form': name, onsubmit: event => { event.preventDefault(); forward(); }},
        build(page, draw),
        h('div.actions',
          h('button', {type: 'submit', class: 'b strong', act: last ? 'send' : 'next-step'},
            last ? (page.session ? 'Record the correction' : 'Begin weighing') : `Next: ${steps[index + 1][1].toLowerCase()}`),
          page.session && !last ? button('Record the correction', send, {act: 'send'}) : null,
          index > 0 ? h('a.b', {href: `${page.base}/${steps[index - 1][0]}`}, 'Back') : null,
          button(page.session ? 'Leave it as it was' : 'Discard this set-up', leave, {class: 'b quiet', act: 'discard'}))));
    main.dataset.screen = `setup-${name}`;
  };
  const refuse = list => {
    faults = page.faults = list;
    draw();
    byId('faults').focus();
    byId('faults').scrollIntoView({block: 'start'});
    alarm(list.length === 1 ? list[0].what : `${list.length} things have to be put right`);
  };
  const go = where => {
    const step = drafts.stepOf(where);
    if (step === name) return;
    page.focus = where;
    history.replaceState(null, '', `${page.base}/${step}`);
    setup(page, step);
  };
  const forward = () => {
    drafts.tidy(page.draft);
    if (last) { send(); return; }
    const found = drafts.missing(page.draft, name);
    if (found.length) { refuse(found); return; }
    page.faults = (page.faults || []).filter(f => drafts.stepOf(f.place || '') !== name);
    location.hash = `${page.base}/${steps[index + 1][0]}`;
  };
  const send = async () => {
    drafts.tidy(page.draft);
    const found = drafts.missing(page.draft);
    if (found.length) { refuse(found); return; }
    try {
      if (page.session) { if (!await correct(page)) return; } else await api.call('/api/sessions', drafts.sheetOf(page.draft));
      const id = page.session || page.draft.root.id;
      page.draft.forget();
      page.done();
      location.hash = `#/s/${encodeURIComponent(id)}`;
    } catch (error) {
      if (!(error instanceof api.Trouble)) throw error;
      refuse(error.faults.length ? error.faults : [{place: '', what: error.passing ?
        `${error.message} What you entered is kept in this browser.` : error.message}]);
    }
  };
  const leave = async () => {
    const sure = await dialog(page.session ? 'Leave it as it was?' : 'Discard this set-up?', close => [
      h('p', 'What was entered here is forgotten. Readings are not touched.'),
      h('div.actions', button('Forget it', () => close(true), {class: 'b strong'}), button('Go on with it', () => close(false)))]);
    if (!sure) return;
    page.draft.forget();
    page.done();
    location.hash = page.session ? `#/s/${encodeURIComponent(page.session)}` : '#/';
  };
  draw();
  arrive(`${title} – ${page.session ? 'correction' : 'new weighing'}`);
}

/// Others may have read on meanwhile: what the laptop holds by now goes in. Where somebody has corrected meanwhile, a person
/// has to look: unless it was this very correction, whose answer got lost.
async function correct(page) {
  const held = draftOf({by: page.draft.root.weighed && page.draft.root.weighed.technician});
  const given = await dialog('Why is the set-up corrected?', close => [
    h('p', 'The first record stays, with the reason beside it.'),
    text(held, 'why', 'Reason', {required: true, hint: 'For instance: overhang read off the wrong mark.'}),
    text(held, 'by', 'Who corrects it', {required: true, list: page.desk.technicians}),
    h('div.actions', button('Record the correction', () => {
      if ((held.get('why') || '').trim() && (held.get('by') || '').trim()) close(held.root); else alarm('Give the reason and who corrects it.');
    }, {class: 'b strong', act: 'record'}))]);
  if (!given) return false;
  const record = () => api.call(`${api.session(page.session)}/corrections`, page.sent);
  for (let tries = 3; ; --tries) {
    const current = await api.call(`${api.session(page.session)}/sheet`);
    if ((current.revision || 1) !== (page.draft.base.revision || 1)) {
      if (page.sent && await record().then(() => true, error => { if (error.passing) throw error; })) break;
      throw new api.Trouble(409, `${current.revised.by} has corrected the set-up meanwhile: “${current.revised.why}”. Leave yours, look at it, and correct anew.`);
    }
    page.sent = {sheet: drafts.broughtUpToDate(page.draft, current), base: current, why: given.why.trim(), by: given.by.trim()};
    try {
      await record();
      break;
    } catch (error) {
      if (!(error instanceof api.Trouble) || error.status !== 409 || tries < 2) throw error; // something came in between the two calls
    }
  }
  return true;
}
