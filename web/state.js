// The page's one state, and the one way to change it.
// Law of web/: no formulas; every figure comes from calc through the engine.
// Data goes one way: event -> action -> set() -> screens render from `state`.

const MOST_UNDO = 20;
const listeners = [];
const memory = {}; // what localStorage would hold, where this phone lets nothing be kept
let scheduled = false;

/** The open job's form before calc has declared it. */
export const NO_FORM = { fields: [], parts: [], walls: [], needs: [], addWall: null, formWall: -1, formOf: '' };
/** Nothing of a job is opened, picked or compared. */
export const NOTHING_OPEN = { item: '', goal: '', card: null, calling: null, picked: '', ways: null, buys: null };

export const state = {
  route: { screen: 'quick', name: '', key: '' },
  prefs: { unit: 'in', job: '', paper: '' },
  quick: {}, // calculator name -> {values, undo: [values]}
  answers: {}, // calculator name -> the engine's last answer
  calculators: [], // declarations, from calc
  units: [], // [key, name], from calc
  ...NO_FORM, // the open job's form for one wall, from calc: fields and what they hold, the
  // parts they are in, the walls' names, what the job still needs {field, message}, how a
  // wall is added, and which wall and which screen it is for
  ...NOTHING_OPEN, // Survey: the item's path that is open, the path to go to; Layout: the card
  // {piece, wall, ...}, the piece picked last, the ways to divide and the stock lengths
  // compared, each {doc, busy, list}
  jobs: [], // records on this phone
  job: null, // the open record
  missing: null, // why the job asked for is not open: {key, message}
  plan: null, // {file, view, problems, laptop, busy, broken, search: how far it is while a
  // better one is looked for, next: a better one that waits for a button}
  trade: null, // the job beside its layout, from calc: see trade.js
  engine: { ready: false, message: '' },
  reach: { known: false, ok: false },
  live: { heard: 0, old: false }, // when the laptop was heard last, ms; too long ago
  hint: '', // where the laptop has moved to, as a link has told it: see reach.js
  worker: { rung: 'checking', waiting: false, changing: false }, // waiting: a new version is there
  pad: null, // the open keypad, see pad.js
  share: null, // the open job's links: {key, kind looked at, links, code, message, sure}
  codeTold: '', // why a typed code opened nothing
  zoom: 2, // the drawing: a step of layout.js's ZOOMS
  whole: false, // the drawing: the whole wall at once
  file: null, // a job file that was not opened: {name, message, problems}
  told: '', // what another phone changed last, until the next change
  undone: '', // what the last Undo took back, until the next change
  kept: '', // to be told once: whether this phone keeps its jobs, see persist.js
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

let told = false;

/** Tell once that nothing is kept: what is read while drawing must not draw anew for ever. */
function keepsNothing() {
  if (!told) set({ notice: KEEPS_NOTHING });
  told = true;
}

/** A small value kept on this phone across reloads; `fallback` where there is none. */
export function readLocal(name, fallback) {
  try {
    const text = localStorage.getItem('lapwright.' + name);
    if (text !== null) return JSON.parse(text);
  } catch (error) {
    if (error instanceof SyntaxError) localStorage.removeItem('lapwright.' + name); // damaged
    else keepsNothing();
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
    keepsNothing();
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
