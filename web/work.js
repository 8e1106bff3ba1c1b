// The engine as the page uses it: one call, and the answers put into the state.

import { createEngine } from './engine.js';
import { readLocal, set, state, writeLocal } from './state.js';

const engine = createEngine({
  onState: (now) => set({ engine: now }),
});

export const call = (request) => engine.call(request);

/** Put the calculators' declarations of the last time on the screen; false where there are none. */
export function knownDeclarations() {
  const known = readLocal('declared', null);
  if (!known || known.unit !== state.prefs.unit) return false;
  set({ calculators: known.calculators });
  return true;
}

/** The calculators' declarations, from calc. */
export async function loadDeclarations() {
  const unit = state.prefs.unit;
  const { calculators } = await call({ do: 'calculators', unit });
  writeLocal('declared', { unit, calculators });
  set({ calculators });
}

/** How a typed length reads in `unit`: {text, lean, say}, or {problem}. */
export async function readLength(text, unit, show = unit) {
  const answer = await call({ do: 'read', text, unit, show });
  return answer.ok ? answer : { problem: answer.problems[0] };
}

const NO_PLAN = { view: null, needs: [], problems: [], busy: true };

let wanted = null; // the job whose plan is wanted next
let planning = false;

/** Survey's fields, with what the job holds in each. */
export async function loadFields(doc) {
  const { fields } = await call({ do: 'fields', unit: doc.unit || 'in', job: doc });
  if (state.job && state.job.doc === doc) set({ fields });
}

/** Show the open job's fields and plan it; only the newest wish is worked on. */
export async function planJob(doc) {
  wanted = doc;
  set({ plan: { ...(state.plan || NO_PLAN), busy: true } });
  await loadFields(doc);
  if (planning) return;
  planning = true;
  while (wanted) {
    const doc = wanted;
    wanted = null;
    try {
      const answer = await call({ do: 'plan', job: doc });
      const plan = answer.ok
        ? { ...NO_PLAN, view: answer.view, needs: answer.needs, busy: false }
        : { ...NO_PLAN, problems: answer.problems, busy: false };
      if (!wanted) set({ plan });
    } catch (error) {
      set({ plan: { ...NO_PLAN, busy: false, broken: error.message } });
    }
  }
  planning = false;
}
