// The page's one state, and the one way to change it.
// Law of web/: no formulas; every figure comes from calc through the engine.
// Data goes one way: event -> action -> set() -> screens render from `state`.

const listeners = [];
let scheduled = false;

export const state = {
  route: { screen: 'quick', name: '', key: '' },
  prefs: readLocal('prefs', { unit: 'in', job: '' }),
  quick: readLocal('quick', {}), // calculator name -> {values, undo: [values]}
  answers: {}, // calculator name -> the engine's last answer
  calculators: [], // declarations, from calc
  fields: [], // the open job's fields and what they hold, from calc
  jobs: [], // records on this phone
  job: null, // the open record
  missing: null, // why the job asked for is not open: {key, message}
  plan: null, // {view, needs, problems, busy}
  engine: { ready: false, message: '' },
  reach: { known: false, ok: false },
  worker: { rung: 'checking', waiting: false },
  pad: null, // the open keypad, see pad.js
  share: null, // the open job's link and QR
  zoom: 2, // the drawing: a step of layout.js's ZOOMS
  whole: false, // the drawing: the whole wall at once
  notice: '', // a plain message to the person, until closed
};

/** Merge `patch` into the state and render once, soon. */
export function set(patch) {
  Object.assign(state, patch);
  if (scheduled) return;
  scheduled = true;
  queueMicrotask(() => {
    scheduled = false;
    for (const tell of listeners) tell(state);
  });
}

/** Call `tell` after every change. */
export function onChange(tell) {
  listeners.push(tell);
}

/** Say one line to a screen reader. */
export function announce(words) {
  document.getElementById('live').textContent = words;
}

/** A small value kept on this phone across reloads; `fallback` where none is kept yet. */
export function readLocal(name, fallback) {
  const text = localStorage.getItem('lapwright.' + name);
  return text === null ? fallback : JSON.parse(text);
}

export function writeLocal(name, value) {
  if (value === null) localStorage.removeItem('lapwright.' + name);
  else localStorage.setItem('lapwright.' + name, JSON.stringify(value));
}

export function setPrefs(patch) {
  const prefs = { ...state.prefs, ...patch };
  writeLocal('prefs', prefs);
  set({ prefs });
}
