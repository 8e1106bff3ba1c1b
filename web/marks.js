// Marks of what is done: a piece cut or too short, a board that is no good, a length
// called from the wall. What each holds comes from calc; here it is put into the job.

import { announce, readLocal, report, set, state, writeLocal } from './state.js';
import { alike } from './doc.js';
import { marks } from './done.js';
import { edit } from './jobs.js';

const BOUNCE_MS = 500; // a second touch of the same button sooner than this is a bounce
const PLACE = ['wall', 'course', 'run', 'piece'];
const samePlace = (a, b) => PLACE.every((key) => a[key] === b[key]);

let pending = []; // marks on their way into the job: {job, key, mark}
let resumed = ''; // the job whose marks of before a reload were taken up
let turn = Promise.resolve(); // one after the other: each goes to the end of its list
let last = -BOUNCE_MS; // when a button was touched last, ms

const PENDING = 'marks'; // in localStorage, written at once: a reload loses no mark

function keep(list) {
  pending = list;
  writeLocal(PENDING, list.length ? list : null);
  set({});
}

/** Put one mark into the job; it counts on the screen at once. */
function put(key, mark, words) {
  const mine = { job: state.job.key, key, mark };
  keep([...pending, mine]);
  announce(words);
  store(mine);
}

function store(mine, again = false) {
  const { job, key, mark } = mine;
  turn = turn.then(async () => {
    if (state.job?.key !== job) { // it waits until its job is open again
      resumed = '';
      return;
    }
    const list = marks(state.job.doc, key);
    if (!again || !list.some((other) => holds(other, mark))) await edit(`done.${key}[${list.length}]`, mark);
    keep(pending.filter((other) => other !== mine));
  }).catch(report);
}

/** Whether a stored mark is this one; it may have been given an id. */
const holds = (stored, mark) => Object.keys(mark).every((key) => alike(stored[key], mark[key]));

/** Take up the marks that were on their way when the page went away. */
export function resumeMarks() {
  const { key } = state.job;
  if (resumed === key) return;
  resumed = key;
  pending = readLocal(PENDING, []);
  pending.filter((mine) => mine.job === key).forEach((mine) => store(mine, true));
}

/** Do it, unless a finger bounced: the next cut stands where the last one stood. */
function once(act) {
  const now = performance.now();
  if (now - last < BOUNCE_MS) return;
  last = now;
  act();
}

export const markCut = (row) => once(() => put('cut', { ...row.mark, state: 'cut' }, `Piece ${row.id} is cut.`));

export const markRejected = (row) => once(() => put('rejected', row.reject, `Board ${row.board} is no good.`));

export const markShort = (row, text) => put('cut', { ...row.mark, state: 'short', length: text }, `Piece ${row.id} came out too short.`);

export const sendCall = (place, text, words) => put('called', { ...place, length: text }, words);

/** Of these cuts those that are still to be made: a mark counts before the plan knows of it. */
export function stillToCut(queue, doc) {
  const waiting = pending.filter((p) => p.key === 'cut' && p.job === state.job.key);
  const cut = [...marks(doc, 'cut'), ...waiting.map((p) => p.mark)];
  const done = cut.filter((mark) => mark.state !== 'short');
  return queue.filter((row) => !done.some((mark) => samePlace(mark, row.mark)));
}

/** Of these cuts those whose length stays, whatever the plan will be: their run is partly up, and
 * no other length was called for them. */
export function settledCuts(rows, doc) {
  const calls = [...marks(doc, 'called'), ...pending.filter((p) => p.key === 'called').map((p) => p.mark)];
  return rows.filter((row) => row.bound && !calls.some((call) => samePlace(call, row.mark)));
}

/** Whether a mark is on its way after which the cuts on the screen may be others. */
export const unsettled = () => pending.some((p) => p.job === state.job.key && (p.key !== 'cut' || p.mark.state === 'short'));
