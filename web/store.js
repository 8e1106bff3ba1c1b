// Jobs on this phone (IndexedDB through idb).
// A record: {key, made, doc, undo: [doc], rev, dirty, sent, refused, conflict}.
// made: when it came to this phone, ms; rev: the laptop's revision it stands on,
// 0 for none; dirty: not yet acknowledged; sent: when it was, by the laptop's
// clock; refused: why the laptop did not take it, or null; conflict: the
// laptop's {rev, doc} where another phone wrote as well, or null.

import { openDB } from './vendor/idb.js';

const opened = openDB('lapwright', 1, {
  upgrade(db) {
    db.createObjectStore('jobs', { keyPath: 'key' });
  },
});

export async function allJobs() {
  return (await opened).getAll('jobs');
}

export async function getJob(key) {
  return (await opened).get('jobs', key);
}

export async function addJob(record) {
  await (await opened).add('jobs', record);
}

/**
 * Change a record in one step, so that an edit and an answer from the laptop
 * never overwrite each other: `how(record)` gives the parts that change.
 * Returns the new record.
 */
export async function updateJob(key, how) {
  const { store, done } = (await opened).transaction('jobs', 'readwrite');
  const record = await store.get(key);
  const next = { ...record, ...how(record) };
  store.put(next);
  await done;
  return next;
}
