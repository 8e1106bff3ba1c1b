// The engine as the page uses it: answers at once from one worker, plans from
// another, so that a key never waits for a plan. What they say goes into the state.

import { createEngine } from './engine.js';
import { alike, wallOf } from './doc.js';
import { onlyMoreCut, sameButMarks } from './done.js';
import { readLocal, report, set, state, writeLocal } from './state.js';
import { getPlan, putPlan } from './store.js';
import { wallAt } from './walls.js';

const NO_PLAN = {
  file: null, view: null, problems: [], laptop: false, busy: true, broken: '', search: null, next: null,
};

const engine = createEngine({ onState: (now) => set({ engine: now }) });
let planner = null; // started with the first job
const newPlanner = () => createEngine({ ahead: true });
let asked = 0;
let working = 0; // calls of the second engine under way, but for plans

export const call = (request) => engine.call(request);

/** Fetch what only a job needs of calc, before a job asks for it. */
export const loadJobCalc = () => engine.ahead();

/** The answer that is asked for, or an error that says what calc found wrong. */
export async function answered(asking) {
  const answer = await asking;
  if (!answer.ok) throw new Error(answer.problems.map((p) => `${p.message} ${p.fix}`).join(' '));
  return answer;
}

/** Start an engine that broke again, and work out anew what is on the screen. */
export function restartEngine() {
  engine.cancel();
  planner?.cancel();
  if (state.job) planJob(state.job);
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

/** Survey's fields for one wall, from 0, with what the job holds in each. */
export async function loadFields(doc, wall = wallAt(doc)) {
  const form = await askFields(doc, wall);
  if (!state.job || state.job.doc !== doc || wallAt(doc) !== wall) return;
  const { fields, parts, walls, needs } = form;
  set({ fields, parts, walls, needs, addWall: form.add_wall, formWall: wall });
  const { pad } = state;
  if (pad && pad.owner.startsWith('job:') && !pad.field.startsWith('mark:') && !fields.some((f) => f.path === pad.field)) set({ pad: null });
}

const askFields = (job, wall, unit = job.unit || 'in') => call({ do: 'fields', unit, job, wall });

/** Where two documents of a job differ, field by field: [{label, here, there}], as text. */
export async function differences(here, there) {
  const sides = [here, there].map((doc) => ({ doc, walls: wallsOf(doc) }));
  const count = Math.max(1, ...sides.map((s) => s.walls.length));
  const out = [];
  for (let i = 0; i < count; i += 1) {
    const same = alike(sides[0].walls[i], sides[1].walls[i]);
    if (i > 0 && same) continue;
    const both = sides.every((s) => s.walls[i] !== undefined);
    const forms = [];
    for (const { doc, walls } of sides) forms.push(await askFields(doc, walls[i] === undefined ? 0 : i, here.unit || 'in'));
    const name = forms[sides[0].walls[i] === undefined ? 1 : 0].walls[i];
    if (!both && count > 1) out.push({ label: name, ...thereOrNot(sides.map((s) => s.walls[i] !== undefined)) });
    const held = forms.map((form) => heldIn(form, i, count > 1 ? `${name}: ` : '', both));
    for (const [path, { label }] of new Map([...held[0], ...held[1]])) {
      const [ours, theirs] = held.map((h) => h.get(path));
      if (!ours || !theirs) out.push({ label, ...thereOrNot([ours, theirs]) });
      else if (ours.text !== theirs.text) out.push({ label, here: ours.text, there: theirs.text });
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
export function planJob({ key, doc }) {
  const mine = ++asked;
  const held = state.plan?.file && !state.plan.broken && madeFor.get(state.plan.file);
  if (held && sameButMarks(held, doc)) {
    keepTo({ key, doc }, held, () => mine === asked).catch((error) => {
      if (mine === asked) set({ plan: { ...NO_PLAN, busy: false, broken: error.message } });
    });
    return;
  }
  if (planner && ((state.plan && state.plan.busy) || working || planner.state.message)) planner.cancel();
  planner ??= newPlanner();
  working = 0;
  set({ plan: { ...(state.plan || NO_PLAN), busy: true, search: null, next: null } });
  loadFields(doc).catch(report);
  plan({ key, doc }, () => mine === asked).catch((error) => {
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
  const known = recent.find((r) => alike(r.doc, job.doc));
  if (before.busy) {
    planner?.cancel();
    working = 0;
  }
  planner ??= newPlanner();
  set({ plan: { ...before, problems: [], search: null, next: null, busy: before.busy || !(known || onlyMoreCut(held, job.doc)) } });
  const answer = known ?? await planner.call({ do: 'keep', job: job.doc, plan: before.file });
  if (!wanted()) return;
  if (!alike(held, job.doc)) recent = [...recent.filter((r) => !alike(r.doc, held)), { doc: held, plan: before }].slice(-RECENT);
  if (known) show(job.doc, { ...NO_PLAN, ...known.plan, search: null, next: null, busy: false });
  else if (answer.ok && answer.plan) {
    if (inUse.has(before.file)) inUse.add(answer.plan);
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
const TURN = 400; // ms that the engine is kept from what else is asked of it

/**
 * Plan the job while it is `wanted()`: show the plan this phone had of it, else its first one, then
 * search on for a better one, until the search ends, the person keeps what there is, or the laptop
 * has it: searched to the end, both give the same.
 */
async function plan(job, wanted) {
  const before = await getPlan(job.key);
  if (!wanted()) return;
  const known = before && alike(before.job, job.doc) ? await viewed(before) : await keptFrom(before, job);
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
  const there = byLaptop(job.doc, planner, asking).then((answer) => ({ ...answer, laptop: true }));
  try {
    const first = await Promise.race([planner.call({ do: 'begin', job: job.doc }), there]);
    if (!wanted()) return;
    if (first.laptop && !working) planner.cancel(); // what else it works at goes on
    if (!known) show(job.doc, answerOf(first));
    else if (first.laptop) offer(first, null);
    else set({ plan: { ...state.plan, search: first.progress } });
    if (first.laptop) keep(job, true);
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
  if (!engine.calc) await call({ do: 'read', text: '0' }); // its mark comes with it
  if (kept.calc === engine.calc) return kept;
  return { ...kept, view: (await answered(call({ do: 'view', plan: kept.file }))).view };
}

let keeping = Promise.resolve(); // plans are written down one after the other

/** Have the plan on the screen here after a reload; over: there is no more to search for. */
function keep(job, over) {
  const { file, view, laptop } = state.plan;
  if (!file) return;
  const kept = { key: job.key, job: job.doc, calc: engine.calc, file, view, laptop, over, used: inUse.has(file) };
  keeping = keeping.then(() => putPlan(kept)).catch(report);
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
    if (answer.laptop) {
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

/** The plan is worked by: it changes no more but by a button. */
export function workBy(file) {
  if (inUse.has(file)) return;
  inUse.add(file);
  if (state.plan.file === file) keep(state.job, !state.plan.search);
}

/** Show a better plan, or where the one on the screen is worked by, have it ready; `search`
 * goes on, or is null. One that costs more than what is shown, from before a reload, is neither. */
function offer({ plan: file, view, laptop = false }, search) {
  const { file: now } = state.plan;
  madeFor.set(file, madeFor.get(now));
  const better = { ...NO_PLAN, file, view, laptop, busy: false, search };
  const same = alike(file.boards, now.boards) && alike(file.pieces, now.pieces);
  if (same) {
    if (inUse.has(now)) inUse.add(file); // the same plan; what is proven of it may be more
    set({ plan: { ...state.plan, file, view, laptop, search } });
  } else if (file.cost.total > now.cost.total) set({ plan: { ...state.plan, search } });
  else if (inUse.has(now)) set({ plan: { ...state.plan, search, next: { ...better, search: null } } });
  else set({ plan: better });
}

/** Take the better plan that is ready. */
export function takeNext() {
  const { next, search } = state.plan;
  set({ plan: { ...next, search }, card: null });
  keep(state.job, !search);
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
      const response = await fetch('/api/plan', {
        method: 'POST', headers: { 'Content-Type': 'application/json' }, body: JSON.stringify({ job: doc }),
        signal: asking.signal,
      });
      if (!response.ok) return; // this phone tells what is wrong
      const answer = await response.json();
      if (mine.calc && answer.calc === mine.calc) resolve({ ok: true, ...answer, laptop: true });
    };
    const waiting = setTimeout(() => ask().catch(() => {}), SOON); // out of reach: this phone goes on
    const ending = setTimeout(() => asking.abort(), SOON + PATIENCE);
    asking.signal.addEventListener('abort', () => [waiting, ending].forEach(clearTimeout));
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
