// The strip that says how many readings wait and since when, and the list behind it: what was refused is mended, tried
// again or discarded with a reason there.

import {h, button, byId, dialog, say, alarm, show} from './dom.js';
import * as queue from './queue.js';
import * as kept from './kept.js';
import {placeWords} from './positions.js';
import {text, draftOf} from './form.js';
import {clock, number, now, shortId} from './units.js';

const words = item => item.kind === 'reading' ? `${item.body.load} ${item.body.unit || ''}, ${placeWords(item.body.at)}, in “${item.body.state}”` :
  item.kind === 'strike' ? `striking of reading ${item.body.reading}` : `state “${item.body.name}”`;
const since = item => clock(now(new Date(item.at)));
let spoken = 0, drawn = '';

/// Draws the strip; called after every change of the queue or of the link.
export function strip() {
  const place = byId('waiting'), waits = queue.waiting(), apart = queue.apart();
  const slow = waits.filter(i => Date.now() - i.at > 1500 || queue.hindrance());
  const lost = byId('link').dataset.link === 'lost';
  place.hidden = !slow.length && !apart.length && !lost && kept.keeps();
  if (apart.length > spoken) alarm(apart.length === 1 ? 'One entry was refused and set apart.' : `${apart.length} entries were refused and set apart.`);
  spoken = apart.length;
  const mark = JSON.stringify([slow.length, slow.length && slow[0].at, apart.length, kept.keeps(), waits.length > 0, lost]);
  if (mark === drawn) return;
  drawn = mark;
  if (place.hidden) { show(place); return; }
  show(place,
    slow.length ? h('p', {part: 'waits', 'data-count': String(slow.length)}, h('b', `… ${slow.length} ${slow.length === 1 ? 'waits' : 'wait'} since ${since(slow[0])}. `), 'Kept on this device; keep this page open.') : null,
    lost && !slow.length ? h('p', {part: 'lost'}, h('b', '✕ No answer from the laptop. '), 'Keep this page open: go on entering, it is kept here. Opening the page anew needs the laptop.') : null,
    apart.length ? h('p', {part: 'refused'}, h('b', `! ${apart.length} refused. `), 'Mend or discard.') : null,
    kept.keeps() ? null : h('p', h('b', '! This browser keeps nothing. '), 'Do not close or reload the page while readings wait.'),
    waits.length || apart.length ? button('Show', list, {class: 'b', act: 'show-waiting', k: 'show-waiting'}) : null);
}

function list() {
  return dialog('Entries that wait', close => {
    const body = h('div.form');
    const draw = () => {
      const waits = queue.waiting(), apart = queue.apart(), gone = queue.discarded();
      if (!waits.length && !apart.length && !gone.length) { body.replaceChildren(h('p', 'Everything has been sent.')); return; }
      body.replaceChildren(...[
        queue.hindrance() && waits.length ? h('p.note', queue.hindrance()) : null,
        ...apart.map(item => h('section.card.alarm', {'data-item': item.key}, h('h3', `! Refused: ${words(item)}`), h('p', item.refused.words), h('p.sub', `entered ${since(item)}`),
          h('div.actions',
            item.kind === 'reading' ? button('Mend', () => mend(item).then(draw), {act: 'mend'}) : null,
            button('Try again', () => { queue.again(item); draw(); }, {act: 'retry'}),
            button('Discard', () => discard(item).then(draw), {class: 'b quiet', act: 'discard-item'})))),
        waits.length ? h('ul.readings', waits.map(item => h('li', h('div', words(item), h('span.sub', `entered ${since(item)}`))))) : null,
        waits.length ? button('Send now', () => { queue.kick(); setTimeout(draw, 500); }, {act: 'send-now'}) : null,
        gone.length ? h('details.fold', h('summary', `Discarded on this device (${gone.length})`), h('ul', gone.map(item => h('li', `${words(item)}: ${item.why}`)))) : null].filter(Boolean));
    };
    draw();
    return body;
  }, {'data-dialog': 'waiting'});
}

/// A refused reading with another load goes out under a new id; the refused one stays on record here.
function mend(item) {
  const draft = draftOf({load: String(item.body.load)});
  return dialog('Mend the reading', close => h('div.form', h('p', words(item)), h('p.note', item.refused.words),
    text(draft, 'load', `Load in ${item.body.unit || 'the unit of the weighing'}`),
    h('div.actions', button('Save', () => {
      const load = number(draft.get('load') || '');
      if (load === null) { alarm('Type a load, like 641.'); return; }
      queue.add('reading', item.session, {...item.body, load, id: shortId()});
      queue.discard(item, `mended: ${load} ${item.body.unit || ''} entered instead`);
      say('Saved.');
      close();
    }, {class: 'b strong', act: 'save-mended'}))));
}

function discard(item) {
  const draft = draftOf({});
  return dialog('Discard this entry?', close => h('div.form', h('p', `${words(item)} has not reached the laptop.`),
    text(draft, 'why', 'Reason', {required: true}),
    h('div.actions', button('Discard it', () => {
      const why = (draft.get('why') || '').trim();
      if (!why) { alarm('Give a reason.'); byId('f-why').focus(); return; }
      queue.discard(item, why);
      say('Discarded.');
      close();
    }, {class: 'b strong', act: 'discard-it'}))));
}
