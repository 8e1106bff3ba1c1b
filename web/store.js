// Jobs on this phone (IndexedDB through idb).
// A record: {key, made, doc, undo: [doc], rev, dirty, sent, offered: [doc], refused, conflict}.
// made: when it came to this phone, ms; rev: the laptop's revision it stands on,
// 0 for none; dirty: not yet acknowledged; sent: when it was, by the laptop's
// clock; offered: what was sent since the last acknowledgement, which may have
// arrived though its answer did not; refused: why the laptop did not take it, or
// null; conflict: the laptop's {rev, doc} where another phone wrote as well, or null.

import { openDB } from './vendor/idb.js';
import { report } from './state.js';

const opened = Promise.resolve().then(() => openDB('lapwright', 1, {
  upgrade(db) {
    db.createObjectStore('jobs', { keyPath: 'key' });
  },
})).catch((error) => {
  report(new Error('This phone keeps no jobs: they are gone when the page is closed, but for what '
    + `the laptop has. Allow storage for this page in the browser’s settings. (${error.message})`));
  return null;
});
const held = new Map(); // the jobs, where the phone keeps none

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
