// The job beside its layout, as calc answers it: "take-off", what to buy, and "steps", the work with
// its figures. Asked for when a screen wants it, once for each document and plan; the last answer
// stays in sight meanwhile.

import { alike } from './doc.js';
import { report, set, state } from './state.js';
import { answered } from './work.js';
import { callSlow } from './plan.js';

const asked = {}; // part -> the document and the plan file that it was asked of last

/** What calc needs of a plan for this: neither shapes nor cuts, nor the proof. */
function slim(file) {
  const { certificate, pieces, walls, ...rest } = file;
  const bare = ({ shape, cuts, scribe, lengths, widths, ...piece }) => piece;
  return { ...rest, pieces: pieces.map(bare), walls: walls.map(({ pole, ...wall }) => wall) };
}

async function ask(part, doc, file) {
  const answer = await answered(callSlow({ do: 'trade', job: doc, plan: file && slim(file), of: [part] }));
  if (state.job?.doc !== doc || asked[part].doc !== doc || asked[part].file !== file) return;
  const got = part === 'take-off' ? answer.take_off : answer.sections;
  set({ trade: { ...state.trade, [part]: { got, doc, file } } });
}

/**
 * The answer for what is on the screen, {got, old}: `got` null where no wall can be planned; the
 * last answer, with `old` true, while a new one is worked out; null before the first.
 */
function trade(part) {
  const { doc } = state.job;
  const file = state.plan?.view ? state.plan.file : null;
  const waits = !state.plan || state.plan.busy; // for the plan that is being worked out
  if (waits) return last(part, doc, null);
  if (asked[part]?.doc !== doc || asked[part].file !== file) {
    asked[part] = { doc, file };
    ask(part, doc, file).catch((error) => {
      if (error.name !== 'Cancelled') report(error); // what is wrong is told once
      else if (asked[part].doc === doc && asked[part].file === file) asked[part] = {}; // asked again
    });
  }
  return last(part, doc, file);
}

function last(part, doc, file) {
  const had = state.trade?.[part];
  return had ? { got: had.got, old: had.doc !== doc || had.file !== file } : null;
}

export const takeOff = () => trade('take-off');
export const steps = () => trade('steps');

/** Whether two documents differ in their marks alone, or not at all. */
const sameButDone = (a, b) => a === b || alike({ ...a, done: null }, { ...b, done: null });

/** The steps as they were answered last: no mark at the saw has them worked out anew. */
export function lastSteps() {
  const had = state.trade?.steps;
  return had && asked.steps.doc && sameButDone(asked.steps.doc, state.job.doc) ? had.got : steps()?.got;
}
