// The plan of the open job: this phone's own search, the laptop's where that is sooner, or the one
// that the other phones use; kept on this phone, and shared once it is worked by.

import { createEngine } from './engine.js';
import { alike } from './doc.js';
import { onlyMoreCut, sameButMarks, sameLayout } from './done.js';
import { report, set, state } from './state.js';
import { laptop } from './reach.js';
import { getPlan, putPlan } from './store.js';
import { fetchPlan, isThere, sendPlan } from './sync.js';
import { answered, call, calcMark, loadFields, onRestart } from './work.js';

const NO_PLAN = {
  file: null, view: null, problems: [], laptop: false, busy: true, broken: '', search: null, next: null,
};

let planner = null; // started with the first job
const newPlanner = () => createEngine({ ahead: true });
let asked = 0;
let planned = null; // the job that was asked to be planned last
let working = 0; // calls of the second engine under way, but for plans

onRestart(() => {
  planner?.cancel();
  planned = null;
  if (state.job) planJob(state.job);
});

const madeFor = new WeakMap(); // plan file -> the job's document it is of
const RECENT = 4;
let recent = []; // plans that marks took the place of, for an Undo: {doc, plan}

/** Whether the plan on the screen is of this document but for its marks. */
export const planIsOf = (doc) => sameButMarks(madeFor.get(state.plan.file) ?? {}, doc);

/** Put a plan of this document on the screen. */
function show(doc, plan) {
  if (plan.file) madeFor.set(plan.file, doc);
  set({ plan });
}

/** Show the open job's fields and plan it; a plan that is no longer wanted is stopped. */
export function planJob(job) {
  if (planned?.key === job.key && state.plan && !state.plan.broken && sameLayout(planned.doc, job.doc)) {
    planned = job; // what changed lies beside the layout
    loadFields(job.doc).catch(report);
    return;
  }
  const before = planned;
  planned = job;
  const mine = ++asked;
  const held = state.plan?.file && !state.plan.broken && madeFor.get(state.plan.file);
  if (held && sameButMarks(held, job.doc)) {
    // Back at what the plan is of, before there was another one: the form is of the other yet.
    if (before?.key !== job.key || !sameButMarks(before.doc, job.doc)) loadFields(job.doc).catch(report);
    keepTo(job, held, () => mine === asked).catch((error) => {
      if (mine === asked) set({ plan: { ...NO_PLAN, busy: false, broken: error.message } });
    });
    return;
  }
  if (planner && ((state.plan && state.plan.busy) || working || planner.state.message)) planner.cancel();
  planner ??= newPlanner();
  working = 0;
  set({ plan: { ...(state.plan || NO_PLAN), busy: true, search: null, next: null } });
  loadFields(job.doc).catch(report);
  plan(job, () => mine === asked).catch((error) => {
    if (mine === asked) set({ plan: { ...NO_PLAN, busy: false, broken: error.message } });
  });
}

/**
 * More is done of the job, or taken back: keep to the plan on the screen where it still holds, so
 * that nothing else changes under the saw. It stays in sight meanwhile where pieces were cut
 * just as planned.
 */
async function keepTo(job, held, wanted) {
  const { plan: before } = state;
  const known = recent.find((r) => sameLayout(r.doc, job.doc));
  if (before.busy) {
    planner?.cancel();
    working = 0;
  }
  planner ??= newPlanner();
  set({ plan: { ...before, problems: [], search: null, next: null, busy: before.busy || !(known || onlyMoreCut(held, job.doc)) } });
  const answer = known ?? await planner.call({ do: 'keep', job: job.doc, plan: before.file });
  if (!wanted()) return;
  if (!alike(held, job.doc)) recent = [...recent.filter((r) => !sameLayout(r.doc, held)), { doc: held, plan: before }].slice(-RECENT);
  if (known) show(job.doc, { ...NO_PLAN, ...known.plan, search: null, next: null, busy: false });
  else if (answer.ok && answer.plan) {
    if (inUse.has(before.file)) inUse.add(answer.plan);
    if (published.has(before.file)) published.add(answer.plan); // the others come to it by the marks
    show(job.doc, { ...NO_PLAN, file: answer.plan, view: answer.view, laptop: before.laptop, busy: false });
  } else {
    set({ plan: { ...state.plan, busy: true } });
    await plan(job, wanted);
    return;
  }
  keep(job, true);
}

const SOON = 700; // ms that this phone has to itself: most plans are there by then
const PATIENCE = 60000; // ms that the laptop may take
const LOOK = 2000; // ms between two looks whether it is still there
const TURN = 400; // ms that the engine is kept from what else is asked of it

/**
 * Plan the job while it is `wanted()`: show the plan this phone had of it, else its first one, then
 * search on for a better one, until the search ends, the person keeps what there is, or the laptop
 * has it: searched to the end, both give the same.
 */
async function plan(job, wanted) {
  const before = await getPlan(job.key);
  if (!wanted()) return;
  const known = before && sameLayout(before.job, job.doc) ? await viewed(before) : await keptFrom(before, job);
  if (!wanted()) return;
  if (known) {
    if (known.used) inUse.add(known.file);
    show(job.doc, { ...NO_PLAN, file: known.file, view: known.view, laptop: known.laptop, busy: false });
    if (known.over) {
      keep(job, true);
      return;
    }
  }
  const asking = new AbortController();
  const there = Promise.race([byLaptop(job.doc, planner, asking), usedByOthers(job)]);
  try {
    const first = await Promise.race([planner.call({ do: 'begin', job: job.doc }), there]);
    if (!wanted()) return;
    if (first.elsewhere && !working) planner.cancel(); // what else it works at goes on
    if (!known) show(job.doc, answerOf(first));
    else if (first.elsewhere) offer(first, null);
    else set({ plan: { ...state.plan, search: first.progress } });
    if (first.elsewhere) keep(job, true);
    else if (first.ok && first.id !== null) {
      keep(job, false);
      await improve(first, there, wanted, job).catch((error) => {
        if (!wanted()) return; // the job changed: nobody waits for it
        set({ plan: { ...state.plan, search: null } }); // what there is stays right
        report(error);
      });
    }
  } finally {
    asking.abort();
  }
}

/** The plan this phone had before more was marked, where that still holds; else null. */
async function keptFrom(before, { doc }) {
  if (!before?.file || !sameButMarks(before.job, doc)) return null;
  const { ok, plan: file, view } = await planner.call({ do: 'keep', job: doc, plan: before.file });
  return ok && file ? { ...before, file, view, over: true } : null;
}

/** A plan this phone had, with a view by the calc that runs now. */
async function viewed(kept) {
  if (!calcMark()) await call({ do: 'read', text: '0' }); // its mark comes with it
  if (kept.calc === calcMark()) return kept;
  return { ...kept, view: (await answered(call({ do: 'view', plan: kept.file }))).view };
}

let keeping = Promise.resolve(); // plans are written down one after the other

/** Have the plan on the screen here after a reload; over: there is no more to search for. */
function keep(job, over) {
  const { file, view, laptop } = state.plan;
  if (!file) return;
  const kept = { key: job.key, job: job.doc, calc: calcMark(), file, view, laptop, over, used: inUse.has(file) };
  keeping = keeping.then(() => putPlan(kept)).catch(report);
  if (over || kept.used) publish(job, file, false).catch(report);
}

const published = new WeakSet(); // plan files that the laptop has, or that lost to another

let unsent = null; // a plan that the laptop did not answer to: {key, file, instead}

/** Have the plan used on the other phones too; where they use another one, it is offered here. */
async function publish(job, file, instead) {
  const { rev, access } = state.job?.key === job.key ? state.job : job;
  if (!rev || (published.has(file) && !instead)) return;
  const { status } = await sendPlan(access, job.doc, file, instead);
  if (status === 0 && state.plan?.file === file) unsent = { key: job.key, file, instead };
  if (status === 200 || status === 409) published.add(file);
  if (status === 409) await lookAt(job);
}

const NEVER = new Promise(() => {});

/** The plan that the laptop's phones use of just this job, but for its marks; null where there is none. */
async function byOthers(job) {
  if (!job.rev) return null;
  const { message, plan: file, job: of } = await fetchPlan(job.access);
  if (message !== undefined) heard.delete(job.key); // it is asked again
  if (!file || !sameButMarks(of, job.doc)) return null;
  const made = sameLayout(of, job.doc) ? { plan: file, ...await answered(call({ do: 'view', plan: file })) }
    : await planner.call({ do: 'keep', job: job.doc, plan: file }); // more was marked since
  if (made.ok === false || !made.plan) return null;
  published.add(made.plan);
  return { ...made, ok: true, laptop: false, shared: true, elsewhere: true };
}

/** As byOthers, but never anything where there is none, or where that can't be used. */
const usedByOthers = (job) => byOthers(job).catch((error) => {
  if (error.name !== 'Cancelled') console.error(error); // this phone plans by itself
}).then((plan) => plan ?? NEVER);

const heard = new Map(); // job's key -> the revision of its plan that was looked at last

/** The laptop is there, and the phones use the plan of that revision, 0 for none. */
export async function hearPlan(job, revision) {
  const { key, file, instead } = unsent ?? {};
  unsent = null;
  if (key === job.key && file === state.plan?.file && !state.plan.busy) await publish(job, file, instead);
  if (!revision || heard.get(job.key) === revision) return;
  heard.set(job.key, revision);
  await lookAt(job);
}

async function lookAt(job) {
  const answer = await byOthers(job);
  if (!answer || !state.job || !sameLayout(state.job.doc, job.doc) || !state.plan?.file || state.plan.busy) return;
  if (samePlan(answer.plan, state.plan.file)) return; // nothing is drawn anew for it
  offer(answer, state.plan.search);
  keep(job, !state.plan.search);
}

const answerOf = (answer) => (answer.ok
  ? { ...NO_PLAN, file: answer.plan, view: answer.view, laptop: Boolean(answer.laptop), busy: false, search: answer.progress ?? null }
  : { ...NO_PLAN, problems: answer.problems, busy: false });

/** Search on from the first plan, a turn at a time; a better one is shown, or offered. */
async function improve({ id, progress }, there, wanted, job) {
  let now = progress;
  let turns = 1;
  let shown = performance.now();
  let over = now.ended;
  while (!over) {
    const start = performance.now();
    const answer = await Promise.race([planner.call({ do: 'more', id, turns }), there]);
    if (!wanted()) return;
    if (answer.elsewhere) {
      offer(answer, null);
      keep(job, true);
      return;
    }
    now = (await answered(answer)).progress;
    const took = performance.now() - start;
    if (took < TURN / 2) turns = Math.min(2 * turns, MOST_TURNS);
    else if (took > TURN) turns = Math.max(1, Math.floor(turns / 2));
    set({ plan: { ...state.plan, search: { ...now, kept: Boolean(state.plan.search?.kept) } } });
    over = now.ended || state.plan.search.kept;
    if (now.better && (over || (performance.now() - shown > OFTEN && !inUse.has(state.plan.file)))) {
      const taken = await answered(planner.call({ do: 'take', id }));
      if (!wanted()) return;
      offer(taken, over ? null : state.plan.search);
      keep(job, over);
      shown = performance.now();
    }
  }
  set({ plan: { ...state.plan, search: null } });
  keep(job, true);
}

const OFTEN = 3000; // ms between two plans shown
const MOST_TURNS = 200;
const inUse = new WeakSet(); // plan files that somebody may be cutting by

/** Whether somebody may be cutting by it. */
export const isWorkedBy = (file) => inUse.has(file);

/** The plan is worked by: it changes no more but by a button. */
export function workBy(file) {
  if (inUse.has(file)) return;
  inUse.add(file);
  if (state.plan.file === file) keep(state.job, !state.plan.search);
}

const samePlan = (a, b) => alike(a.boards, b.boards) && alike(a.pieces, b.pieces);

/** Show a better plan, or where the one on the screen is worked by, have it ready; `search`
 * goes on, or is null. One that costs more than what is shown, from before a reload, is neither. */
function offer({ plan: file, view, laptop = false, shared = false }, search) {
  const { file: now } = state.plan;
  madeFor.set(file, madeFor.get(now));
  const better = { ...NO_PLAN, file, view, laptop, busy: false, search };
  if (samePlan(file, now)) {
    if (inUse.has(now)) inUse.add(file); // the same plan; what is proven of it may be more
    set({ plan: { ...state.plan, file, view, laptop, search } });
  } else if (file.cost.total > now.cost.total && !shared) set({ plan: { ...state.plan, search } });
  else if (inUse.has(now)) set({ plan: { ...state.plan, search, next: { ...better, search: null, shared } } });
  else set({ plan: better });
}

/** Take the better plan that is ready. */
export function takeNext() {
  const { next, search } = state.plan;
  set({ plan: { ...next, search }, card: null });
  keep(state.job, !search);
  if (!next.shared) publish(state.job, next.file, true).catch(report);
}

/** Search no further, and leave the plan on the screen as it is. */
export function keepPlan() {
  workBy(state.plan.file);
  set({ plan: { ...state.plan, search: { ...state.plan.search, kept: true } } });
}

/** The laptop's plan of the job; never anything where it is out of reach, or has another calc. */
function byLaptop(doc, mine, asking) {
  return new Promise((resolve) => {
    const ask = async () => {
      const response = await fetch(await laptop('/api/plan'), {
        method: 'POST', headers: { 'Content-Type': 'application/json' }, body: JSON.stringify({ job: doc }),
        signal: asking.signal,
      });
      if (!response.ok) return; // this phone tells what is wrong
      const answer = await response.json();
      if (mine.calc && answer.calc === mine.calc) resolve({ ok: true, ...answer, laptop: true, elsewhere: true });
    };
    const waiting = setTimeout(() => ask().catch(() => {}), SOON); // out of reach: this phone goes on
    const ending = setTimeout(() => asking.abort(), SOON + PATIENCE);
    // A laptop that hangs is not waited for: one that is at work still answers this.
    const looking = setInterval(() => isThere().then((is) => is || asking.abort()).catch(report), LOOK);
    asking.signal.addEventListener('abort', () => [waiting, ending, looking].forEach(clearTimeout));
  });
}

/** The place in the plan, from 1, of the job's wall of that index: the plan leaves out the walls
 * that still need something. 0 where it is not planned. */
export const numberOf = (wall) => state.plan.file.walls.findIndex((w) => w.number === wall + 1) + 1;

/** A call that takes long, by the engine that plans; Cancelled where the job changes meanwhile. */
export async function callSlow(request) {
  planner ??= newPlanner();
  const mine = asked;
  working += 1;
  try {
    return await planner.call(request);
  } finally {
    if (mine === asked) working -= 1;
  }
}
