// What a person does to a job: start, open, change a field, undo. Every change
// is kept on this phone first, then offered to the laptop.

import { allJobs, getJob, putJob } from './store.js';
import { fetchJob, sendSoon } from './sync.js';
import { announce, set, setPrefs, state } from './state.js';
import { planJob } from './work.js';

const MOST_UNDO = 20;

export async function loadJobs() {
  set({ jobs: (await allJobs()).sort((a, b) => (a.made < b.made ? 1 : -1)) });
}

/** 16 random bytes in 22 letters: nobody guesses a job's key. */
function newKey() {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  const text = btoa(String.fromCharCode(...bytes));
  return text.replaceAll('+', '-').replaceAll('/', '_').replaceAll('=', '');
}

export async function startJob() {
  const unit = state.prefs.unit;
  const doc = {
    format: 'lapwright-job', version: 1, title: '', unit,
    board: { stock: [{}] }, rules: {}, walls: [{ studs: {} }],
  };
  const record = {
    key: newKey(), doc, rev: 0, dirty: true, sent: '', undo: [], conflict: null, made: Date.now(),
  };
  await keep(record);
  await loadJobs();
  location.hash = `#/job/${record.key}/survey`;
}

/** Open the job of that key: from this phone, else from the laptop. */
export async function openJob(key) {
  if (state.job && state.job.key === key) {
    planJob(state.job.doc);
    return;
  }
  set({ job: null, plan: null, missing: null });
  let record = await getJob(key);
  if (!record) {
    const got = await fetchJob(key);
    if (!got.job) {
      set({ missing: { key, message: got.message } });
      return;
    }
    record = {
      key, doc: got.job, rev: got.rev, dirty: false, sent: got.saved, undo: [], conflict: null,
      made: Date.now(),
    };
    await putJob(record);
    await loadJobs();
  }
  if (state.route.key !== key) return;
  setPrefs({ job: key });
  set({ job: record });
  planJob(record.doc);
  if (!record.dirty) refresh(record);
  else sendSoon();
}

/** Take the laptop's newer copy, where this phone has nothing of its own to send. */
async function refresh(record) {
  const got = await fetchJob(record.key);
  const now = await getJob(record.key);
  if (!got.job || !now || now.dirty || got.rev <= now.rev) return;
  const fresh = { ...now, doc: got.job, rev: got.rev, sent: got.saved };
  await putJob(fresh);
  if (state.job && state.job.key === record.key) {
    set({ job: fresh });
    planJob(fresh.doc);
  }
}

async function keep(record) {
  await putJob(record);
  if (state.job && state.job.key === record.key) set({ job: record });
}

/** "walls[0].studs.first" -> ["walls", 0, "studs", "first"] */
function steps(path) {
  return path.split(/[.[\]]+/).filter(Boolean).map((s) => (/^\d+$/.test(s) ? Number(s) : s));
}

export function valueAt(doc, path) {
  return steps(path).reduce((at, step) => (at === undefined ? undefined : at[step]), doc);
}

/** A copy of `doc` with the value at `path`; undefined takes the field out. */
export function withValue(doc, path, value) {
  const copy = structuredClone(doc);
  const way = steps(path);
  const name = way.pop();
  let at = copy;
  way.forEach((step, i) => {
    const next = way[i + 1] ?? name;
    if (at[step] === undefined) at[step] = typeof next === 'number' ? [] : {};
    at = at[step];
  });
  if (value !== undefined) at[name] = value;
  else if (Array.isArray(at)) at.splice(name, 1);
  else delete at[name];
  // A second stock length that was emptied is no stock length.
  if (copy.board && copy.board.stock) {
    copy.board.stock = copy.board.stock.filter((s, i) => i === 0 || (s && Object.keys(s).length));
  }
  return copy;
}

async function change(doc, undo) {
  const record = { ...state.job, doc, undo, dirty: true };
  set({ job: record });
  await keep(record);
  await loadJobs();
  planJob(doc);
  sendSoon();
}

/** Change one field of the open job. */
export async function edit(path, value) {
  const { doc, undo } = state.job;
  await change(withValue(doc, path, value), [...undo, doc].slice(-MOST_UNDO));
}

export async function undoJob() {
  const { undo } = state.job;
  if (!undo.length) return;
  await change(undo.at(-1), undo.slice(0, -1));
  announce('Undone.');
}

/** Both phones wrote: keep this phone's job, or take the laptop's (ours stays in undo). */
export async function settle(mine) {
  const { conflict, doc, undo } = state.job;
  const record = mine
    ? { ...state.job, rev: conflict.rev, conflict: null, dirty: true }
    : {
      ...state.job, doc: conflict.doc, rev: conflict.rev, conflict: null, dirty: false,
      undo: [...undo, doc].slice(-MOST_UNDO),
    };
  set({ job: record });
  await keep(record);
  planJob(record.doc);
  if (mine) sendSoon();
}
