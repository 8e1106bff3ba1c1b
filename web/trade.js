// The job beside its layout, as calc answers it: what to buy, how it is finished. Asked for when a
// screen wants it, once for each document and plan; the last answer stays in sight meanwhile.

import { alike } from './doc.js';
import { report, set, state } from './state.js';
import { answered } from './work.js';
import { callSlow } from './plan.js';

let asked = { doc: null, file: null };

/** What calc needs of a plan for this: neither shapes nor cuts, nor the proof. */
function slim(file) {
  const { certificate, pieces, walls, ...rest } = file;
  const bare = ({ shape, cuts, scribe, lengths, widths, ...piece }) => piece;
  return { ...rest, pieces: pieces.map(bare), walls: walls.map(({ pole, ...wall }) => wall) };
}

async function ask(doc, file) {
  const answer = await answered(callSlow({ do: 'trade', job: doc, plan: file && slim(file) }));
  if (state.job?.doc === doc && asked.doc === doc && asked.file === file) set({ trade: { ...answer, doc, file } });
}

/** Whether two documents differ in their marks alone, or not at all. */
const sameButDone = (a, b) => a === b || alike({ ...a, done: null }, { ...b, done: null });

/** What stands in the way, from the last answer: no mark at the saw has it worked out anew. */
export const warned = () => (state.trade && sameButDone(asked.doc ?? {}, state.job.doc) ? state.trade : trade());

/**
 * The answer for what is on the screen: {take_off, sections, needs}; the last one, with `old` true,
 * while a new one is worked out; null before the first.
 */
export function trade() {
  const { job, plan, trade: now } = state;
  const file = plan?.view && !plan.busy ? plan.file : null;
  const { doc } = job;
  if (asked.doc !== doc || asked.file !== file) {
    asked = { doc, file };
    ask(doc, file).catch((error) => {
      if (asked.doc === doc && asked.file === file) asked = { doc: null, file: null };
      if (error.name !== 'Cancelled') report(error);
    });
  }
  return now && { ...now, old: now.doc !== doc || now.file !== file };
}
