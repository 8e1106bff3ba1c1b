// The engine as the page uses it: answers at once from one worker, plans from
// another, so that a key never waits for a plan. What they say goes into the state.

import { createEngine } from './engine.js';
import { readLocal, report, set, state, writeLocal } from './state.js';

const NO_PLAN = { view: null, needs: [], problems: [], busy: true, broken: '' };

const engine = createEngine({ onState: (now) => set({ engine: now }) });
let planner = null; // started with the first job
let asked = 0;

export const call = (request) => engine.call(request);

/** Start an engine that broke again, and work out anew what is on the screen. */
export function restartEngine() {
  engine.cancel();
  planner?.cancel();
  if (state.job) planJob(state.job.doc);
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

/** Survey's fields, with what the job holds in each. */
export async function loadFields(doc) {
  const { fields } = await call({ do: 'fields', unit: doc.unit || 'in', job: doc });
  if (state.job && state.job.doc === doc) set({ fields });
}

/** Where two documents of a job differ, field by field: [{label, here, there}], as text. */
export async function differences(here, there) {
  const unit = here.unit || 'in';
  const ask = async (job) => (await call({ do: 'fields', unit, job })).fields;
  const [ours, theirs] = [await ask(here), await ask(there)];
  const text = (f) => (f.now === null || f.now === undefined || f.now.length === 0 ? 'nothing' : [f.now].flat().join('; '));
  return ours.map((f, i) => ({ label: f.label, here: text(f), there: text(theirs[i]) }))
    .filter((d) => d.here !== d.there);
}

/** Show the open job's fields and plan it; a plan that is no longer wanted is stopped. */
export function planJob(doc) {
  const mine = ++asked;
  if (planner && state.plan && state.plan.busy) planner.cancel();
  planner ??= createEngine();
  set({ plan: { ...(state.plan || NO_PLAN), busy: true } });
  loadFields(doc).catch(report);
  planner.call({ do: 'plan', job: doc }).then(
    (answer) => (answer.ok
      ? { ...NO_PLAN, view: answer.view, needs: answer.needs, busy: false }
      : { ...NO_PLAN, problems: answer.problems, busy: false }),
    (error) => ({ ...NO_PLAN, busy: false, broken: error.message }),
  ).then((plan) => { if (mine === asked) set({ plan }); });
}
