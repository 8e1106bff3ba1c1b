// The engine that answers at once, as the page uses it. What it says goes into the state.
// Plans come from another one, so that a key never waits for a plan: see plan.js.

import { createEngine } from './engine.js';
import { alike, wallOf } from './doc.js';
import { readLocal, report, set, state, writeLocal } from './state.js';
import { wallAt } from './walls.js';

const engine = createEngine({ onState: (now) => set({ engine: now }) });

export const call = (request) => engine.call(request);

/** Fetch what only a job needs of calc, before a job asks for it. */
export const loadJobCalc = () => engine.ahead();

/** The answer that is asked for, or an error that says what calc found wrong. */
export async function answered(asking) {
  const answer = await asking;
  if (!answer.ok) throw new Error(answer.problems.map((p) => `${p.message} ${p.fix}`).join(' '));
  return answer;
}

/** The mark of the calc that answers; '' before it is there. */
export const calcMark = () => engine.calc;

const restarts = [];
/** `run()` is called where the engine was started again. */
export const onRestart = (run) => restarts.push(run);

/** Start an engine that broke again, and work out anew what is on the screen. */
export function restartEngine() {
  engine.cancel();
  for (const run of restarts) run();
}

/** Put the calculators' declarations of the last time on the screen; false where there are none. */
export function knownDeclarations() {
  const known = readLocal('declared', null);
  if (!known || known.unit !== state.prefs.unit || !known.units) return false;
  set({ calculators: known.calculators, units: known.units });
  return true;
}

/** The calculators' declarations, from calc. */
export async function loadDeclarations() {
  const unit = state.prefs.unit;
  const { calculators, units } = await call({ do: 'calculators', unit });
  writeLocal('declared', { unit, calculators, units });
  set({ calculators, units });
}

/** How a typed length reads in `unit`: {exact, text, lean, say}, or {problem}. */
export async function readLength(text, unit) {
  const answer = await call({ do: 'read', text, unit });
  return answer.ok ? answer : { problem: answer.problems[0] };
}

const FORMS = ['take-off', 'finish']; // screens with a form of their own; the others have Survey's
/** The form that goes with the screen looked at. */
export const formFor = () => (FORMS.includes(state.route.screen) ? state.route.screen : 'survey');

/** The screen's fields, of one wall, from 0, with what the job holds in each. */
export async function loadFields(doc, wall = wallAt(doc)) {
  const of = formFor();
  const form = await askFields(doc, wall, of);
  if (!state.job || state.job.doc !== doc || wallAt(doc) !== wall || formFor() !== of) return;
  const { fields, parts, walls, needs } = form;
  set({ fields, parts, walls, needs, addWall: form.add_wall, formWall: wall, formOf: of });
  const { pad } = state;
  if (pad && pad.owner.startsWith('job:') && !pad.field.startsWith('mark:') && !fields.some((f) => f.path === pad.field)) set({ pad: null });
}

const askFields = (job, wall, of, unit = job.unit || 'in') => call({ do: 'fields', unit, job, wall, of });

/** Where two documents of a job differ, field by field: [{path, label, here, there}], as text. */
export async function differences(here, there) {
  const sides = [here, there].map((doc) => ({ doc, walls: wallsOf(doc) }));
  const count = Math.max(1, ...sides.map((s) => s.walls.length));
  const out = [];
  for (let i = 0; i < count; i += 1) {
    const same = alike(sides[0].walls[i], sides[1].walls[i]);
    if (i > 0 && same) continue;
    const both = sides.every((s) => s.walls[i] !== undefined);
    const forms = [];
    for (const { doc, walls } of sides) forms.push(await askFields(doc, walls[i] === undefined ? 0 : i, 'all', here.unit || 'in'));
    const name = forms[sides[0].walls[i] === undefined ? 1 : 0].walls[i];
    if (!both && count > 1) out.push({ path: `walls[${i}]`, label: name, ...thereOrNot(sides.map((s) => s.walls[i] !== undefined)) });
    const held = forms.map((form) => heldIn(form, i, count > 1 ? `${name}: ` : '', both));
    for (const [path, { label }] of new Map([...held[0], ...held[1]])) {
      const [ours, theirs] = held.map((h) => h.get(path));
      if (!ours || !theirs) out.push({ path, label, ...thereOrNot([ours, theirs]) });
      else if (ours.text !== theirs.text) out.push({ path, label, here: ours.text, there: theirs.text });
    }
  }
  return out;
}

const wallsOf = (doc) => (Array.isArray(doc.walls) ? doc.walls : []);
const thereOrNot = ([here, there]) => ({ here: here ? 'there' : 'not there', there: there ? 'there' : 'not there' });

/** path -> {label, text} of the fields of wall `i`, with the first one the job's own as well; of
 * an opening or the like also its own path, so that one that was taken out is told as one. */
function heldIn({ fields, parts }, i, prefix, both) {
  const out = new Map();
  for (const { path, part, label, now } of fields) {
    const wall = wallOf(path);
    if (wall === -1 ? i > 0 : wall !== i || !both) continue;
    const { title, item } = parts[part];
    const before = wall === -1 ? '' : prefix;
    if (item) out.set(item, { label: before + title, text: '' });
    const text = now === null || now === undefined || now.length === 0 ? 'nothing' : [now].flat().join('; ');
    out.set(path, { label: before + (item ? `${title}, ` : '') + label, text });
  }
  return out;
}
