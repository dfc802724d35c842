// Two sheets or two results as equal, apart from what cannot be the same: ids that were made anew, times of reading, and
// what the page does not ask for because no figure rests on it.

const anew = ['session', 'uid', 'taken_at', 'unit'];   // the page names the unit of every load
const unasked = ['x-job-card'];
const apart = new Set([...anew, ...unasked]);

/// A copy without what cannot be the same.
export function clean(value, top = true) {
  if (Array.isArray(value)) return value.map(v => clean(v, false));
  if (value === null || typeof value !== 'object') return value;
  return Object.fromEntries(Object.entries(value).filter(([key]) => !apart.has(key) && !(top && key === 'id')).map(([key, v]) => [key, clean(v, false)]));
}

/// The id of each reading of one sheet by the id of the reading that stands at the same place of the other.
export function readingsOf(from, to) {
  const names = new Map();
  from.states.forEach((state, i) => state.readings.forEach((reading, j) => names.set(reading.id, ((to.states[i] || {readings: []}).readings[j] || {}).id)));
  return names;
}

export function renamed(value, names) {
  if (Array.isArray(value)) return value.map(v => renamed(v, names));
  if (typeof value === 'string') return names.get(value) ?? value;
  if (value === null || typeof value !== 'object') return value;
  return Object.fromEntries(Object.entries(value).map(([key, v]) => [key, renamed(v, names)]));
}

/// Where two values differ, by place; numbers by more than 1e-9, relative above 1.
export function differences(a, b, place = '', out = []) {
  if (typeof a === 'number' && typeof b === 'number') {
    if (Math.abs(a - b) > 1e-9 * Math.max(1, Math.abs(a), Math.abs(b))) out.push(`${place}: ${a} and ${b}`);
  } else if (a && b && typeof a === 'object' && typeof b === 'object' && Array.isArray(a) === Array.isArray(b)) {
    for (const key of new Set([...Object.keys(a), ...Object.keys(b)])) differences(a[key], b[key], `${place}.${key}`, out);
  } else if (a !== b) out.push(`${place}: ${JSON.stringify(a)} and ${JSON.stringify(b)}`);
  return out;
}
