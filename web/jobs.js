// What a person does to a job: start, open, change a field, undo. Every change
// is kept on this phone first, then offered to the laptop.

import { addJob, allJobs, getJob, updateJob } from './store.js';
import { alike, fetchJob, giveBack, sendSoon } from './sync.js';
import { announce, remember, set, setPrefs, state } from './state.js';
import { call, differences, planJob } from './work.js';

export async function loadJobs() {
  set({ jobs: (await allJobs()).sort((a, b) => (a.made < b.made ? 1 : -1)) });
}

/** 16 random bytes in 22 letters: nobody guesses a job's key. */
function newKey() {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  const text = btoa(String.fromCharCode(...bytes));
  return text.replaceAll('+', '-').replaceAll('/', '_').replaceAll('=', '');
}

function newRecord(key, doc, more) {
  return {
    key, made: Date.now(), doc, undo: [], rev: 0, dirty: true, sent: '', offered: [], refused: null,
    conflict: null, ...more,
  };
}

export async function startJob() {
  const key = newKey();
  await addJob(newRecord(key, {
    format: 'lapwright-job', version: 1, title: '', unit: state.prefs.unit,
    board: { stock: [{}] }, rules: {}, walls: [{ studs: {} }],
  }));
  await loadJobs();
  location.hash = `#/job/${key}/survey`;
}

const opening = new Map(); // key -> the one opening of it that is under way

/** Open the job of that key: from this phone, else from the laptop. */
export function openJob(key) {
  if (!opening.has(key)) opening.set(key, open(key).finally(() => opening.delete(key)));
  return opening.get(key);
}

async function open(key) {
  if (state.job && state.job.key === key) {
    await refreshJob();
    return;
  }
  set({ job: null, plan: null, missing: null, fields: [] });
  let record = await getJob(key);
  if (!record) {
    const got = await fetchJob(key);
    if (!got.job) {
      if (state.route.key === key) set({ missing: { key, message: got.message } });
      return;
    }
    record = newRecord(key, got.job, { rev: got.rev, dirty: false, sent: got.saved });
    await addJob(record);
    await loadJobs();
  }
  if (state.route.key !== key) return;
  setPrefs({ job: key });
  show(record);
  if (record.conflict) set({ differing: await differences(record.doc, record.conflict.doc) });
  if (record.dirty) sendSoon();
  else refreshJob();
}

/** Take the laptop's copy of the open job, where this phone has nothing of its own to send. */
export async function refreshJob() {
  const { job } = state;
  if (!job || job.dirty || job.conflict) return;
  const got = await fetchJob(job.key);
  if (got.gone) await giveBack(job.key);
  if (!got.job) return;
  // Only where nothing happened here meanwhile: an old answer must not undo a new edit.
  const fresh = await updateJob(job.key, (now) => (now.dirty || now.rev !== job.rev || got.rev === now.rev ? {}
    : { doc: got.job, rev: got.rev, sent: got.saved }));
  const changed = alike(fresh.doc, job.doc) ? [] : await differences(job.doc, fresh.doc);
  show(fresh);
  if (changed.length) {
    set({ notice: 'Another phone changed this job. ' + changed.map((d) => `${d.label}: ${d.there}, before ${d.here}`)
      .join('. ') + '. Check what is cut already.' });
  }
}

/** Put a record on the screen, where its job is the one that is open. */
function show(record) {
  if (state.route.key !== record.key) return;
  const same = state.job && state.job.key === record.key && alike(state.job.doc, record.doc);
  set({ job: same ? { ...record, doc: state.job.doc } : record });
  if (!same) planJob(record.doc);
}

/** "walls[0].studs.first" -> ["walls", 0, "studs", "first"] */
function steps(path) {
  return path.split(/[.[\]]+/).filter(Boolean).map((s) => (/^\d+$/.test(s) ? Number(s) : s));
}

export function valueAt(doc, path) {
  return steps(path).reduce((at, step) => at?.[step], doc);
}

/** A copy of `doc` with the value at `path`; undefined takes the field out. */
export function withValue(doc, path, value) {
  const copy = structuredClone(doc);
  const way = steps(path);
  const name = way.pop();
  let at = copy;
  way.forEach((step, i) => {
    const next = way[i + 1] ?? name;
    if (at[step] === undefined || at[step] === null) at[step] = typeof next === 'number' ? [] : {};
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

async function change(how) {
  set({ undone: '' });
  const record = await updateJob(state.job.key, how);
  show(record);
  await loadJobs();
  sendSoon();
}

const edited = (doc) => (now) => ({ doc: doc(now.doc), undo: remember(now.undo, now.doc), dirty: true });

/** Change one field of the open job. */
export async function edit(path, value) {
  if (path === 'unit') await changeUnit(value);
  else await change(edited((doc) => withValue(doc, path, value)));
}

/** Change the job's unit; calc gives every bare number the unit it was meant in. */
async function changeUnit(unit) {
  const { job } = await call({ do: 'unit', job: state.job.doc, to: unit });
  await change(edited(() => job));
}

export async function undoJob() {
  if (!state.job.undo.length) return;
  const { doc } = state.job;
  await change(({ undo }) => ({ doc: undo.at(-1), undo: undo.slice(0, -1), dirty: true }));
  const undone = (await differences(state.job.doc, doc)).map((d) => d.label).join(', ');
  set({ undone: `Undone: ${undone}` });
  announce(`Undone: ${undone}.`);
}

/** Both phones wrote: keep this phone's job, or take the laptop's (ours stays in undo). */
export async function settle(mine) {
  await change(({ conflict, doc, undo }) => (mine
    ? { rev: conflict.rev, conflict: null, offered: [], dirty: true }
    : {
      doc: conflict.doc, rev: conflict.rev, conflict: null, offered: [], dirty: false,
      undo: remember(undo, doc),
    }));
}
