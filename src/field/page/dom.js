// Making elements, saying things to screen readers, dialogs. Data becomes text or attributes here and never markup.

const svgNames = 'http://www.w3.org/2000/svg';

const shortNames = {act: 'data-act', k: 'data-k', part: 'data-part', label: 'aria-label', by: 'aria-labelledby'};

function fill(element, parts) {
  const given = parts[0] && parts[0].constructor === Object ? parts.shift() : {};
  for (const [name, value] of Object.entries(given)) {
    if (value === undefined || value === null || value === false) continue;
    if (name.startsWith('on')) element.addEventListener(name.slice(2), value);
    else if (name === 'value') element.value = value;
    else if (name === 'checked') element.checked = true;
    else element.setAttribute(shortNames[name] || name, value === true ? '' : value);
  }
  for (const child of parts.flat(Infinity)) {
    if (child === undefined || child === null || child === false || child === '') continue;
    element.append(child instanceof Node ? child : document.createTextNode(String(child)));
  }
  return element;
}

function make(names, tag) {
  const [name, ...classes] = tag.split('.');
  const element = names ? document.createElementNS(names, name) : document.createElement(name);
  if (classes.length) element.setAttribute('class', classes.join(' '));
  return element;
}

/// h('p.note', {id: 'x'}, 'text', node, [more]): an element. Attributes may be left out; absent children and attributes are.
export const h = (tag, ...parts) => fill(make(null, tag), parts);
export const svg = (tag, ...parts) => fill(make(svgNames, tag), parts);
export const byId = id => document.getElementById(id);

/// Puts new children into a place. What had the focus is found again by its id or data-k, so that a view that
/// arrives while somebody tabs through the page does not throw them to its top; opened details stay open.
export function show(place, ...children) {
  const held = document.activeElement;
  const within = held && place.contains(held) && held !== place;
  const key = within && (held.id || held.dataset.k), caret = within && held.type === 'text' ? held.selectionStart : null;
  const open = new Map([...place.querySelectorAll('details[data-k]')].map(d => [d.dataset.k, d.open]));
  place.replaceChildren();
  fill(place, [children]);
  for (const d of place.querySelectorAll('details[data-k]')) if (open.has(d.dataset.k)) d.open = open.get(d.dataset.k);
  if (key) {
    const again = [...place.querySelectorAll('[id],[data-k]')].find(e => e.id === key || e.dataset.k === key);
    if (again) again.focus({preventScroll: true});
    if (again && caret !== null && again.type === 'text') again.setSelectionRange(caret, caret);
  }
}

let pressed = false;
const later = new Set();
const freed = () => setTimeout(() => {
  pressed = false;
  for (const act of later) { later.delete(act); act(); }
}, 60);
addEventListener('pointerdown', () => { pressed = true; }, true);
for (const end of ['pointerup', 'pointercancel', 'blur']) addEventListener(end, freed, true);
/// Redrawing waits while a finger is down: a key that is replaced under it would not be pressed.
export function whenFree(act) { if (pressed) later.add(act); else act(); }

/// Said once to a screen reader: `say` when there is time, `alarm` at once. The same words again are said again.
function speak(id, text) {
  const place = byId(id);
  place.textContent = '';
  setTimeout(() => { place.textContent = text; }, 60);
}
export const say = text => speak('say', text);
export const alarm = text => speak('alarm', text);

export const button = (words, act, attributes, ...more) =>
  h('button', {type: 'button', class: 'b', onclick: act, ...attributes}, words, ...more);

/// A modal dialog with a heading; `build(close)` gives its contents. The focus comes back to where it was.
/// Resolves, when it has closed, to what `close(value)` was given.
export function dialog(title, build, attributes) {
  return new Promise(resolve => {
    const back = document.activeElement;
    const backKey = back && (back.id || back.dataset.k);
    let result;
    const close = value => { result = value; box.close(); };
    const box = h('dialog', {class: 'box', by: 'box-title', ...attributes},
      h('div.box-head',
        h('h2', {id: 'box-title', tabindex: '-1'}, title),
        button('Close', () => close(), {class: 'b quiet', act: 'close'})),
      build(close));
    box.addEventListener('close', () => {
      box.remove();
      const again = back && back.isConnected ? back : [...document.querySelectorAll('[id],[data-k]')].find(
        e => backKey && (e.id === backKey || e.dataset.k === backKey));
      if (again) again.focus({preventScroll: true});
      resolve(result);
    });
    document.body.append(box);
    box.showModal();
    (box.querySelector('[autofocus]') || byId('box-title')).focus();
  });
}

/// Sign and words of a finding's tone: the sign and the words say it, the colour only repeats it.
export const signs = {within: '✓', close_within: '≈', close_over: '!', over: '✕', unknown: '?', none: '–'};
export function tone(of, ...more) {
  return h('span.tone', {'data-tone': of.tone || 'none'},
    h('span.sign', {'aria-hidden': 'true'}, of.sign || signs[of.tone] || '–'), ' ', ...more);
}

/// Sets the page's heading in the title, the focus on it (a new screen announces itself), the view to its top.
export function arrive(title) {
  document.title = title ? `${title} – Steelyard` : 'Steelyard';
  const heading = byId('main').querySelector('h1');
  scrollTo(0, 0);
  if (heading) { heading.tabIndex = -1; heading.focus({preventScroll: true}); }
}
