// What a person does to a job: start, open, change a field, undo, pick. Every change is a
// write: kept on this phone first, then sent to the laptop. What other phones write is merged.

import { addJob, allJobs, getJob, onOtherTab, updateJob } from './store.js';
import { fetchJob, follow, sendSoon } from './sync.js';
import { NO_FORM, NOTHING_OPEN, announce, remember, report, set, setPrefs, state } from './state.js';
import { askToKeep } from './persist.js';
import { alike, pathOf, placeOf, withValue } from './doc.js';
import { marksBetween } from './done.js';
import { planJob } from './plan.js';
import { answered, call, differences } from './work.js';

export async function loadJobs() {
  set({ jobs: (await allJobs()).sort((a, b) => (a.made < b.made ? 1 : -1)) });
}

/** `count` random bytes in letters; of 16 nobody guesses a job's key. */
function letters(count) {
  const bytes = crypto.getRandomValues(new Uint8Array(count));
  const text = btoa(String.fromCharCode(...bytes));
  return text.replaceAll('+', '-').replaceAll('/', '_').replaceAll('=', '');
}

const newRecord = (key, parts) => ({
  key, access: key, kind: 'edit', id: '', made: Date.now(), writer: letters(6), next: 0, turn: 0, undo: [], rev: 0,
  outbox: [], sent: '', refused: null, ended: false, ...parts,
});

/** What a joined copy gives a record. */
const parts = ({ copy, job, apart, top }) => ({ copy, doc: job, apart, top });

export const startJob = () => keepJob({
  format: 'lapwright-job', version: 1, title: '', unit: state.prefs.unit,
  board: { stock: [{}] }, rules: {}, walls: [{ studs: {} }],
});

/** Keep a document as a new job on this phone, and open it. */
export async function keepJob(doc) {
  const key = letters(16);
  const writer = letters(6);
  const made = await answered(call({ do: 'adopt', job: doc, writer, number: 1 }));
  await addJob(newRecord(key, { ...parts(made), writer, next: 1, outbox: [{ number: 1, write: made.copy }] }));
  askToKeep().catch(report);
  await loadJobs();
  location.hash = `#/job/${key}/survey`;
}

/** Open the job that a link or a code leads to. */
export async function openLink(access) {
  const record = await fromLink(access);
  if (record) location.replace(`#/job/${record.key}/${record.kind === 'saw' ? 'saw' : 'survey'}`);
}

/** The record of what that key opens, the phone's own where it has it; null, and told, where there is none. */
async function fromLink(access) {
  const here = (await allJobs()).find((j) => j.access === access || j.key === access);
  if (here) return here;
  const got = await fetchJob(access);
  if (!got.copy) {
    set({ missing: { key: access, message: got.message } });
    return null;
  }
  let record = (await allJobs()).find((j) => j.id === got.id);
  if (!record) {
    record = newRecord(access, { kind: got.kind, id: got.id, rev: got.rev, sent: got.saved, ...await joined([got.copy]) });
    await addJob(record);
  } else if (record.ended || got.kind === 'edit') {
    record = await updateJob(record.key, () => ({ access, kind: got.kind, ended: false }));
  }
  await loadJobs();
  return record;
}

const joined = async (copies) => parts(await answered(call({ do: 'join', copies })));

const opening = new Map(); // key -> the one opening of it that is under way

/** Open the job of that key, as this phone calls it. */
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
  const record = (await getJob(key)) ?? (await fromLink(key));
  if (!record) return;
  if (record.key !== key) {
    location.replace(`#/job/${record.key}/${state.route.screen}`);
    return;
  }
  const now = record.copy ? record : await ofFirstVersion(record);
  if (state.route.key !== key) return;
  setPrefs({ job: key });
  show(now);
  if (now.outbox.length) sendSoon();
  follow(now);
}

/** A job that the first version of this page kept: all of it is one write, to be merged. */
async function ofFirstVersion({ key, doc, made }) {
  const record = newRecord(key, { made });
  const { copy, ...rest } = await answered(call({ do: 'adopt', job: doc, writer: record.writer, number: 1 }));
  const now = { ...record, ...parts({ copy, ...rest }), next: 1, outbox: [{ number: 1, write: copy }] };
  return updateJob(key, () => now);
}

/**
 * Merge writes or copies into a record, whatever happens to it meanwhile; `more(record)` gives
 * what changes with it. Shows it where it is open, and tells what another phone changed.
 */
export async function mergeIn(key, copies, more = () => ({})) {
  for (;;) {
    const before = await getJob(key);
    const now = await joined([before.copy, ...copies]);
    let done = false;
    const record = await updateJob(key, (at) => {
      done = at.turn === before.turn;
      if (!done) return null;
      return alike(at.copy, now.copy) ? more(at) : { ...now, turn: at.turn + 1, ...more(at) };
    });
    if (done) {
      await tellChange(before.doc, record);
      return record;
    }
  }
}

async function tellChange(before, record) {
  const changed = state.job?.key === record.key && !alike(before, record.doc) ? await differences(before, record.doc) : [];
  show(record);
  await loadJobs();
  const asked = record.apart.map((a) => a.label);
  const plain = changed.filter((d) => !asked.includes(d.label));
  if (plain.length) {
    set({ notice: 'Another phone changed this job. ' + plain.slice(0, 6).map((d) => `${d.label}: ${d.there}, before ${d.here}`)
      .join('. ') + (plain.length > 6 ? `. And ${plain.length - 6} more` : '') + '. Check what is cut already.' });
  }
}

/** Ask the laptop for the whole of the open job, and merge it. */
export async function refreshJob() {
  const { job } = state;
  if (!job || job.ended) return;
  const got = await fetchJob(job.access);
  if (got.gone && job.rev) await giveBack(job.key);
  if (got.ended) await updateShown(job.key, () => ({ ended: true }));
  if (got.copy) await hear(job.key, got);
}

/** The laptop's whole copy: what this phone has beyond it is sent again. */
export async function hear(key, { id, kind, copy, rev, saved }) {
  const record = await mergeIn(key, [copy], () => ({ rev, id, sent: saved, ...(kind && { kind }) }));
  if (!record.outbox.length && !alike(record.copy, copy)) await giveBack(key);
}

/** The laptop lacks something that this phone has: send all of it. */
export async function giveBack(key) {
  if ((await getJob(key)).kind === 'saw') return; // the laptop takes its marks alone
  await updateShown(key, (now) => ({ rev: 0, outbox: [{ number: now.next, write: now.copy }] }));
  sendSoon(0);
}

/** Change a record in what is not merged, and show it. */
export async function updateShown(key, how) {
  const record = await updateJob(key, how);
  show(record);
  await loadJobs();
  return record;
}

/** Put a record on the screen, where its job is the one that is open. */
export function show(record) {
  if (state.route.key !== record.key) return;
  const before = state.job && state.job.key === record.key ? state.job.doc : null;
  const same = before && alike(before, record.doc);
  const { pad } = state;
  set({ job: same ? { ...record, doc: before } : record });
  if (same) return;
  if (before && pad && pad.owner === `job:${record.key}`) {
    const field = pathOf(record.doc, placeOf(before, pad.field));
    if (field !== pad.field) set({ pad: field === null ? null : { ...pad, field } });
    if (field === null) set({ notice: 'Another phone took out what was being keyed in here.' });
  }
  planJob(state.job);
}

let turn = Promise.resolve(); // one change of a person after the other: each has seen the one before

function change(ask, more) {
  const mine = turn.then(() => written(ask, more));
  turn = mine.catch(() => {});
  return mine;
}

/** Write what `ask(job)` asks calc for; it is on this phone when this is over. */
async function written(ask, more = () => ({})) {
  set({ undone: '' });
  const seen = state.job;
  const request = ask(seen);
  const { next: number } = await updateJob(seen.key, (now) => ({ next: Math.max(now.next, now.top) + 1 }));
  const { writer } = seen;
  const made = await answered(call({ ...request, copy: seen.copy, writer, number }));
  const { write, before } = made;
  if (!Object.keys(write.fields).length) {
    await updateShown(seen.key, (now) => more(now, null));
    return made;
  }
  const kept = (now) => ({ outbox: [...now.outbox, { number, write }], ...more(now, { writer, number, before }) });
  let record = await updateJob(seen.key, (now) => (now.turn === seen.turn
    ? { ...parts(made), turn: now.turn + 1, ...kept(now) } : null));
  if (record.turn === seen.turn) record = await mergeIn(seen.key, [write], kept);
  else show(record);
  await loadJobs();
  sendSoon();
  return made;
}

const undoable = (now, step) => (step ? { undo: remember(now.undo, step) } : {});

/** Change one field of the open job; undefined takes it, or the item of a list, out. */
export async function edit(path, value) {
  const place = placeOf(state.job.doc, path);
  if (path === 'unit') {
    const { job } = await call({ do: 'unit', job: state.job.doc, to: value });
    await change(() => ({ do: 'write', job }), undoable);
    return;
  }
  await change(({ doc }) => {
    const now = pathOf(doc, place);
    if (now === null) throw new Error('Another phone took out what this belongs to. Nothing was changed.');
    return { do: 'write', job: withValue(doc, now, value) };
  }, undoable);
}

export async function undoJob() {
  const { doc, undo } = state.job;
  if (!undo.length) return;
  const { kept } = await change((job) => ({ do: 'undo', step: job.undo.at(-1) }), (now) => ({ undo: now.undo.slice(0, -1) }));
  const labels = [...marksBetween(doc, state.job.doc), ...(await differences(state.job.doc, doc)).map((d) => d.label)];
  const undone = labels.slice(0, 3).join(', ') + (labels.length > 3 ? ` and ${labels.length - 3} more` : '');
  const stays = kept ? 'Changed on another phone since, so it stays. ' : '';
  set({ undone: stays + (undone ? `Undone: ${undone}` : '') });
  announce(state.undone);
}

/** The person's pick of what two phones wrote apart. */
export const settle = (path, place) => change(() => ({ do: 'settle', path, place }), undoable);

onOtherTab((key) => {
  getJob(key).then(show).catch(report);
});
