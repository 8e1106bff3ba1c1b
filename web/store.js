// Jobs and their plans on this phone (IndexedDB through idb).
// A record: {key, made, doc, undo: [doc], rev, dirty, sent, offered: [doc], refused, conflict}.
// made: when it came to this phone, ms; rev: the laptop's revision it stands on,
// 0 for none; dirty: not yet acknowledged; sent: when it was, by the laptop's
// clock; offered: what was sent since the last acknowledgement, which may have
// arrived though its answer did not; refused: why the laptop did not take it, or
// null; conflict: the laptop's {rev, doc} where another phone wrote as well, or null.
// A plan: {key, job, calc, file, view, laptop, over, used}: made of the document `job` by the calc of
// that mark; over: searched to the end, or kept; used: somebody may be cutting by it.

import { openDB } from './vendor/idb.js';
import { report } from './state.js';

const opened = Promise.resolve().then(() => openDB('lapwright', 2, {
  upgrade(db, from) {
    if (from < 1) db.createObjectStore('jobs', { keyPath: 'key' });
    db.createObjectStore('plans', { keyPath: 'key' });
  },
  blocked() {
    report(new Error('Another tab of this page is of an older version. Close it, and this one goes on.'));
  },
  blocking(current, blockedVersion, event) {
    event.target.close(); // a newer version of this page is open in another tab
    report(new Error('A newer version of this page is open in another tab. Reload this one.'));
  },
})).catch((error) => {
  report(new Error('This phone keeps no jobs: they are gone when the page is closed, but for what '
    + `the laptop has. Allow storage for this page in the browser’s settings. (${error.message})`));
  return null;
});
const held = new Map(); // the jobs, where the phone keeps none
const heldPlans = new Map();

export async function allJobs() {
  const db = await opened;
  return db ? db.getAll('jobs') : [...held.values()];
}

export async function getJob(key) {
  const db = await opened;
  return db ? db.get('jobs', key) : held.get(key);
}

export async function addJob(record) {
  const db = await opened;
  if (db) await db.add('jobs', record);
  else held.set(record.key, record);
}

/**
 * Change a record in one step, so that an edit and an answer from the laptop
 * never overwrite each other: `how(record)` gives the parts that change.
 * Returns the new record.
 */
export async function updateJob(key, how) {
  const db = await opened;
  if (!db) {
    held.set(key, { ...held.get(key), ...how(held.get(key)) });
    return held.get(key);
  }
  const { store, done } = db.transaction('jobs', 'readwrite');
  const record = await store.get(key);
  const next = { ...record, ...how(record) };
  await Promise.all([store.put(next), done]);
  return next;
}

/** The plan of the job of that key that was on the screen last, if any. */
export async function getPlan(key) {
  const db = await opened;
  return db ? db.get('plans', key) : heldPlans.get(key);
}

export async function putPlan(plan) {
  const db = await opened;
  if (db) await db.put('plans', plan);
  else heldPlans.set(plan.key, plan);
}
