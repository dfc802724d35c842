// What this browser keeps. Where it keeps nothing (private windows, a full disk), memory stands in and the page says so:
// `keeps()` is false from the first refused write. Read back after writing, since some browsers refuse silently.

const memory = new Map();
let sound = true;

export const keeps = () => sound;

export function put(key, value) {
  const text = JSON.stringify(value);
  try {
    localStorage.setItem(key, text);
    if (localStorage.getItem(key) === text) { memory.delete(key); return true; }
  } catch { /* said through keeps() */ }
  memory.set(key, text);
  sound = false;
  return false;
}

export function get(key, otherwise = null) {
  let text = memory.get(key);
  try { if (text === undefined) text = localStorage.getItem(key); } catch { sound = false; }
  if (text === undefined || text === null) return otherwise;
  try { return JSON.parse(text); } catch { return otherwise; }
}

export function drop(key) {
  memory.delete(key);
  try { localStorage.removeItem(key); } catch { sound = false; }
}

/// Keys that begin with `prefix`, sorted.
export function keys(prefix) {
  const found = new Set([...memory.keys()].filter(k => k.startsWith(prefix)));
  try {
    for (let i = 0; i < localStorage.length; ++i) {
      const key = localStorage.key(i);
      if (key.startsWith(prefix)) found.add(key);
    }
  } catch { sound = false; }
  return [...found].sort();
}

/// Kept while this tab is open only.
export const tab = {
  put(key, value) { try { sessionStorage.setItem(key, value); } catch { memory.set('tab ' + key, value); } },
  get(key) { try { return sessionStorage.getItem(key) ?? memory.get('tab ' + key) ?? null; } catch { return memory.get('tab ' + key) ?? null; } },
};
