// What a person does to a job: start, open, change a field, undo, pick. Every change is a
// write: kept on this phone first, then sent to the laptop. What other phones write is merged.

import { allJobs, getJob, onOtherTab, updateJob } from './store.js';
import { fetchJob, follow, sendSoon } from './sync.js';
import { NO_FORM, NOTHING_OPEN, announce, remember, report, set, setPrefs, state } from './state.js';
import { askToKeep } from './persist.js';
import { alike, pathOf, placeOf, withValue } from './doc.js';
import { marksBetween } from './done.js';
import { isWorkedBy, planJob } from './plan.js';
import { fromLink, joined, newJob, onlyMarks, parts, sameOwn, sendable, takeOver } from './records.js';
import { answered, call, differences } from './work.js';

const byAge = (jobs) => jobs.sort((a, b) => (a.made < b.made ? 1 : -1));

/** All jobs of this phone. */
export async function loadJobs() {
  await takeOver();
  set({ jobs: byAge(await allJobs()) });
}

/** Have a record among the jobs as it is now. */
const list = (record) => set({ jobs: byAge([...state.jobs.filter((j) => j.key !== record.key), record]) });

export const startJob = () => keepJob({
  format: 'lapwright-job', version: 1, title: '', unit: state.prefs.unit,
  board: { stock: [{}] }, rules: {}, walls: [{ studs: {} }],
});

/** Keep a document as a new job on this phone, and open it. */
export async function keepJob(doc) {
  const record = await newJob(doc);
  list(record);
  askToKeep().catch(report);
  location.hash = `#/job/${record.key}/survey`;
}

/** Open the job that a link or a code leads to; false, and told in `missing`, where there is none. */
export async function openLink(access) {
  const record = await fromLink(access);
  if (record) {
    list(record);
    location.replace(`#/job/${record.key}/${record.kind === 'saw' ? 'saw' : 'survey'}`);
  }
  return Boolean(record);
}

const opening = new Map(); // key -> the one opening of it that is under way

/** Open the job of that key, as this phone calls it. */
export function openJob(key) {
  if (!opening.has(key)) opening.set(key, open(key).finally(() => opening.delete(key)));
  return opening.get(key);
}

async function open(key) {
  if (state.job?.key !== key) set({ job: null, plan: null, trade: null, missing: null, told: '', ...NO_FORM, ...NOTHING_OPEN });
  await takeOver();
  const record = (await getJob(key)) ?? (await fromLink(key));
  if (!record) return;
  if (record.key !== key) {
    location.replace(`#/job/${record.key}/${state.route.screen}`);
    return;
  }
  if (state.route.key !== key) return;
  if (!record.copy) {
    set({ missing: { key, message: 'A version of this page from long ago kept this job, and it could not be taken over.' } });
    return;
  }
  setPrefs({ job: key });
  show(record);
  list(record);
  if (sendable(record).length) sendSoon();
  follow(record);
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
      tellChange(before.doc, record).catch(report);
      return record;
    }
  }
}

let told = { notice: '', rows: new Map() }; // what other phones changed, in the notice that is open

/** Say what another phone changed: quietly, but where somebody cuts by it or is keying it in. */
async function tellChange(before, record) {
  const open = state.job?.key === record.key;
  const cutting = open && (record.doc.done || (state.plan?.file && isWorkedBy(state.plan.file)));
  show(record);
  list(record);
  if (!open || alike(before, record.doc)) return;
  const asked = record.apart.map((a) => a.label);
  const changed = (await differences(before, record.doc)).filter((d) => !asked.includes(d.label));
  if (!changed.length) return;
  const labels = changed.map((d) => d.label);
  set({ told: `Another phone: ${labels.slice(0, 3).join(', ')}${labels.length > 3 ? ` and ${labels.length - 3} more` : ''}` });
  announce(state.told);
  const keying = state.pad?.owner === `job:${record.key}` && changed.some((d) => d.path === state.pad.field);
  if (!cutting && !keying) return;
  if (!state.notice || state.notice !== told.notice) told = { notice: '', rows: new Map() };
  for (const { label, here, there } of changed) told.rows.set(label, { here: told.rows.get(label)?.here ?? here, there });
  const rows = [...told.rows].map(([label, { here, there }]) => `${label}: ${there}, before ${here}`);
  const more = rows.length > 6 ? `. And ${rows.length - 6} more` : '';
  told.notice = `Another phone changed this job. ${rows.slice(0, 6).join('. ')}${more}.${cutting ? ' Check what is cut already.' : ''}`;
  set({ notice: told.notice });
}

/** Ask the laptop for the whole of the open job, and merge it. */
export async function refreshJob() {
  const { job } = state;
  if (!job || job.ended) return;
  const got = await fetchJob(job.access);
  if (got.gone && job.rev) await giveBack(job.key);
  if (got.ended) await shutOut(job.key);
  if (!got.copy) return;
  set({ live: { heard: Date.now(), old: false } });
  await hear(job.key, got);
}

/** The laptop's whole copy: what this phone has beyond it is sent again. */
export async function hear(key, { id, kind, copy, rev, saved }) {
  const record = await mergeIn(key, [copy], () => ({ rev, id, sent: saved, ...(kind && { kind }) }));
  if (!record.outbox.length && !alike(record.copy, copy)) await giveBack(key);
}

/**
 * The laptop says that the key of a job was taken back: by another phone; or by this one, and the
 * answer was lost. Then its new key opens the job.
 */
export async function shutOut(key) {
  const { pending } = await getJob(key);
  if (pending?.edit) {
    const got = await fetchJob(pending.edit);
    if (got.copy) {
      await updateJob(key, () => ({ access: pending.edit, pending: null, ended: false }));
      await hear(key, got);
      sendSoon();
      follow(await getJob(key));
      return;
    }
    if (!got.gone && !got.ended) return; // out of reach: it is asked again
  }
  await updateShown(key, () => ({ ended: true }));
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
  list(record);
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
  const { key } = state.job;
  const mine = turn.then(() => written(key, ask, more));
  turn = mine.catch(() => {});
  return mine;
}

const SAW = 'This phone has the saw’s link, which marks cuts and changes nothing else. Nothing was changed. '
  + 'Open the link to measure on this phone, or key it in on the phone that measures.';

/**
 * Write what `ask(job)` asks calc for, null for nothing; it is on this phone when this is over.
 * `more(record, step)` gives what changes with it.
 */
async function written(key, ask, more = () => ({})) {
  set({ undone: '', told: '' });
  for (;;) {
    const now = await getJob(key);
    // What the person saw; but what another tab of this phone has written since, this phone knows.
    const seen = state.job?.key === key && sameOwn(state.job, now) ? state.job : now;
    const request = await ask(seen);
    if (!request) return null;
    const step = { writer: now.writer, number: Math.max(now.next, now.top) + 1 };
    const made = await answered(call({ ...request, copy: seen.copy, ...step }));
    if (!Object.keys(made.write.fields).length) {
      await updateShown(key, (at) => more(at, null));
      return made;
    }
    if (now.kind === 'saw' && !onlyMarks(made.write)) throw new Error(SAW);
    if (await commit(key, seen, made, step, more)) return made;
  }
}

/** Put what was made of the record `seen` into the record as it is now; false where another tab
 * of this phone wrote meanwhile: then it is made anew, or this phone would be at odds with itself. */
async function commit(key, seen, { write, before, ...made }, step, more) {
  let at = seen;
  let whole = parts(made);
  for (;;) {
    let now = null;
    const record = await updateJob(key, (found) => {
      now = found;
      if (found.turn !== at.turn) return null;
      const outbox = [...found.outbox, { number: step.number, write }];
      return { ...whole, turn: found.turn + 1, next: step.number, outbox, refused: null, ...more(found, { ...step, before }) };
    });
    if (now.turn === at.turn) {
      show(record);
      list(record);
      sendSoon();
      return true;
    }
    if (!sameOwn(seen, now)) return false;
    at = now;
    whole = await joined([now.copy, write]);
  }
}

const undoable = (now, step) => (step ? { undo: remember(now.undo, step) } : {});

/** Change one field of the open job; undefined takes it, or the item of a list, out. */
export async function edit(path, value) {
  const place = placeOf(state.job.doc, path);
  if (path === 'unit') {
    await change(async ({ doc }) => ({ do: 'write', job: (await call({ do: 'unit', job: doc, to: value })).job }), undoable);
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
  const made = await change((job) => job.undo.length && { do: 'undo', step: job.undo.at(-1) }, (now) => ({ undo: now.undo.slice(0, -1) }));
  if (!made) return;
  const labels = [...marksBetween(doc, state.job.doc), ...(await differences(state.job.doc, doc)).map((d) => d.label)];
  const undone = labels.slice(0, 3).join(', ') + (labels.length > 3 ? ` and ${labels.length - 3} more` : '');
  const stays = made.kept ? 'Changed on another phone since, so it stays. ' : '';
  set({ undone: (stays + (undone ? `Undone: ${undone}` : '')).trim() });
  announce(state.undone);
}

/** The person's pick of what two phones wrote apart. */
export const settle = (path, place) => change(() => ({ do: 'settle', path, place }), undoable);

onOtherTab((key) => {
  getJob(key).then((record) => {
    if (!record.copy) return;
    show(record);
    list(record);
  }).catch(report);
});
