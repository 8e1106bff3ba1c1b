// The page's one state, and the one way to change it.
// Law of web/: no formulas; every figure comes from calc through the engine.
// Data goes one way: event -> action -> set() -> screens render from `state`.

const MOST_UNDO = 20;
const listeners = [];
const memory = {}; // what localStorage would hold, where this phone lets nothing be kept
let scheduled = false;

export const state = {
  route: { screen: 'quick', name: '', key: '' },
  prefs: { unit: 'in', job: '' },
  quick: {}, // calculator name -> {values, undo: [values]}
  answers: {}, // calculator name -> the engine's last answer
  calculators: [], // declarations, from calc
  units: [], // [key, name], from calc
  differing: [], // where two phones wrote apart: {label, here, there}, as text
  fields: [], // the open job's fields and what they hold, from calc
  jobs: [], // records on this phone
  job: null, // the open record
  missing: null, // why the job asked for is not open: {key, message}
  plan: null, // {view, needs, problems, busy, broken}
  engine: { ready: false, message: '' },
  reach: { known: false, ok: false },
  worker: { rung: 'checking', waiting: false },
  pad: null, // the open keypad, see pad.js
  share: null, // the open job's link and QR
  zoom: 2, // the drawing: a step of layout.js's ZOOMS
  whole: false, // the drawing: the whole wall at once
  undone: '', // what the last Undo took back, until the next change
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

/** Tell the person that something went wrong, and keep the details in the console. */
export function report(error) {
  console.error(error);
  if (error.message !== state.engine.message) set({ notice: error.message }); // said already
}

/** Say one line to a screen reader. */
export function announce(words) {
  document.getElementById('live').textContent = words;
}

/** `value` put on an undo list, the oldest dropped beyond twenty. */
export const remember = (undo, value) => [...undo, value].slice(-MOST_UNDO);

const KEEPS_NOTHING = 'This phone keeps nothing for this page: what you key in is gone when the '
  + 'page is closed. Allow storage for it in the browser’s settings.';

/** A small value kept on this phone across reloads; `fallback` where there is none. */
export function readLocal(name, fallback) {
  try {
    const text = localStorage.getItem('lapwright.' + name);
    if (text !== null) return JSON.parse(text);
  } catch (error) {
    if (error instanceof SyntaxError) localStorage.removeItem('lapwright.' + name); // damaged
    else set({ notice: KEEPS_NOTHING });
  }
  return memory[name] ?? fallback;
}

export function writeLocal(name, value) {
  memory[name] = value;
  try {
    if (value === null) localStorage.removeItem('lapwright.' + name);
    else localStorage.setItem('lapwright.' + name, JSON.stringify(value));
  } catch (error) {
    console.error(error);
    set({ notice: KEEPS_NOTHING });
  }
}

export function setPrefs(patch) {
  const prefs = { ...state.prefs, ...patch };
  writeLocal('prefs', prefs);
  set({ prefs });
}

/** What one calculator was last given; read anew, as another tab may have changed it. */
export function readQuick(name) {
  const kept = readLocal('quick.' + name, { values: {}, undo: [] });
  state.quick = { ...state.quick, [name]: kept };
  return kept;
}

export function writeQuick(name, kept) {
  writeLocal('quick.' + name, kept);
  set({ quick: { ...state.quick, [name]: kept } });
}
