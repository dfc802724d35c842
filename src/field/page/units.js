// Units, numbers as people type them, ids and times. 1 lb = 0.45359237 kg and 1 in = 25.4 mm, exact.
// crypto.randomUUID is not there on plain HTTP, so ids are made from getRandomValues.

const inBase = {kg: 1, lb: 0.45359237, mm: 1, in: 25.4};

/// Exact to the last digit a number holds; 15 significant digits drop the noise of binary division.
export function convert(value, from, to) {
  if (typeof value !== 'number' || from === to || !inBase[from] || !inBase[to]) return value;
  return Number((value * inBase[from] / inBase[to]).toPrecision(15));
}

/// A measured length: a number or {value, u}.
export function convertMeasured(m, from, to) {
  if (m && typeof m === 'object') {
    const out = {...m, value: convert(m.value, from, to)};
    if (m.u !== undefined) out.u = convert(m.u, from, to);
    return out;
  }
  return convert(m, from, to);
}

/// "1 234,5" and "1234.5" are numbers; anything else is null, and so is "4,500", which is 4.5 to one and 4500 to another.
/// No exponents: nobody types them beside a scale.
export function number(text) {
  if (/^\s*[-+−]?\d{1,3}(,\d{3})+\s*$/.test(String(text))) return null;
  const plain = String(text).replace(/[\s  ']/g, '').replace('−', '-').replace(',', '.');
  return /^[+-]?(\d+\.?\d*|\.\d+)$/.test(plain) ? Number(plain) : null;
}

const alphabet = '0123456789abcdefghjkmnpqrstvwxyz'; // 32 signs, none mistaken for another

/// Ten signs in two fives, as "k7m2q-9xd0f": 50 random bits.
export function shortId() {
  const bytes = crypto.getRandomValues(new Uint8Array(10));
  const text = [...bytes].map(b => alphabet[b & 31]).join('');
  return `${text.slice(0, 5)}-${text.slice(5)}`;
}

/// A UUID of version 4.
export function uuid() {
  const b = crypto.getRandomValues(new Uint8Array(16));
  b[6] = (b[6] & 15) | 64;
  b[8] = (b[8] & 63) | 128;
  const hex = [...b].map(x => x.toString(16).padStart(2, '0')).join('');
  return [hex.slice(0, 8), hex.slice(8, 12), hex.slice(12, 16), hex.slice(16, 20), hex.slice(20)].join('-');
}

const two = n => String(n).padStart(2, '0');

/// The offset of this device's clock at that time, as "+02:00".
export function offset(date = new Date()) {
  const minutes = -date.getTimezoneOffset();
  const m = Math.abs(minutes);
  return `${minutes < 0 ? '-' : '+'}${two(Math.floor(m / 60))}:${two(m % 60)}`;
}

/// Local time with its offset: "2026-11-26T10:11:12+01:00".
export function now(date = new Date()) {
  return `${date.getFullYear()}-${two(date.getMonth() + 1)}-${two(date.getDate())}T${two(date.getHours())}:` +
    `${two(date.getMinutes())}:${two(date.getSeconds())}${offset(date)}`;
}

/// "10:11" of an ISO time, as it was written there; where it is another day than today, the day too.
export function clock(iso) {
  const text = String(iso || '');
  if (text.length < 16) return text;
  return text.slice(0, 10) === now().slice(0, 10) ? text.slice(11, 16) : `${text.slice(0, 10)} ${text.slice(11, 16)}`;
}
