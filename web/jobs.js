// What a person does to a job: start, open, change a field, undo. Every change
// is kept on this phone first, then offered to the laptop.

import { addJob, allJobs, getJob, updateJob } from './store.js';
import { fetchJob, giveBack, sendSoon } from './sync.js';
import { NO_FORM, NOTHING_OPEN, announce, remember, set, setPrefs, state } from './state.js';
import { alike, withValue } from './doc.js';
import { marksBetween } from './done.js';
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

export const startJob = () => keepJob({
  format: 'lapwright-job', version: 1, title: '', unit: state.prefs.unit,
  board: { stock: [{}] }, rules: {}, walls: [{ studs: {} }],
});

/** Keep a document as a new job on this phone, and open it. */
export async function keepJob(doc) {
  const key = newKey();
  await addJob(newRecord(key, doc));
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
  set({ job: null, plan: null, missing: null, ...NO_FORM, ...NOTHING_OPEN });
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
    set({ notice: 'Another phone changed this job. ' + changed.slice(0, 6).map((d) => `${d.label}: ${d.there}, before ${d.here}`)
      .join('. ') + (changed.length > 6 ? `. And ${changed.length - 6} more` : '') + '. Check what is cut already.' });
  }
}

/** Put a record on the screen, where its job is the one that is open. */
function show(record) {
  if (state.route.key !== record.key) return;
  const same = state.job && state.job.key === record.key && alike(state.job.doc, record.doc);
  set({ job: same ? { ...record, doc: state.job.doc } : record });
  if (!same) planJob(state.job);
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
  const labels = [...marksBetween(doc, state.job.doc), ...(await differences(state.job.doc, doc)).map((d) => d.label)];
  const undone = labels.slice(0, 3).join(', ') + (labels.length > 3 ? ` and ${labels.length - 3} more` : '');
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
