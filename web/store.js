// Jobs and their plans on this phone (IndexedDB through idb).
// A record: {key, access, kind, id, made, writer, next, top, turn, copy, doc, apart, undo, rev, outbox,
// sent, refused, ended, pending}.
// key: what this phone calls it, for ever; access: the key that opens it on the laptop, kind "edit" or
// "saw"; id: the laptop's name of it, '' before it has said so; made: when it came here, ms.
// copy: what is merged (calc/shared/merge.py); doc: the job in it; apart: the fields that two phones
// wrote apart; top: the largest number in it; turn: how often it changed here.
// writer: this phone's name in it; next: the number it wrote under last.
// undo: [{writer, number, before}]; outbox: [{number, write}] the laptop has not acknowledged.
// rev: the laptop's revision it stands on, 0 for none; sent: when it acknowledged last, by its clock;
// refused: why it did not take what was sent, or null; ended: its key was taken back; pending: {edit,
// saw}: the keys that this phone has asked for in place of old ones, until it has heard of them, or null.
// A plan: {key, job, calc, file, view, laptop, over, used}: made of the document `job` by the calc of
// that mark; over: searched to the end, or kept; used: somebody may be cutting by it.

import { openDB } from './vendor/idb.js';
import { report } from './state.js';

const open = () => Promise.resolve().then(() => openDB('lapwright', 2, {
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
  terminated() {
    opened = open(); // by the phone, as when it ran short of memory
  },
})).catch((error) => {
  report(new Error('This phone keeps no jobs: they are gone when the page is closed, but for what '
    + `the laptop has. Allow storage for this page in the browser’s settings. (${error.message})`));
  return null;
});
let opened = open();
const held = new Map(); // the jobs, where the phone keeps none
const heldPlans = new Map();
const others = globalThis.BroadcastChannel ? new BroadcastChannel('lapwright') : null; // tabs

// What is told as saved is on the phone's disk by then, and not only with its system: a flat
// battery takes nothing of it.
const KEPT = { durability: 'strict' };

/** `changed(key)` is called where another tab changed a job. */
export function onOtherTab(changed) {
  if (others) others.onmessage = ({ data }) => changed(data);
}

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
  if (db) {
    const { store, done } = db.transaction('jobs', 'readwrite', KEPT);
    await Promise.all([store.add(record), done]);
  } else held.set(record.key, record);
  others?.postMessage(record.key);
}

/**
 * Change a record in one step, so that an edit and an answer from the laptop
 * never overwrite each other: `how(record)` gives the parts that change, null for none.
 * Returns the new record.
 */
export async function updateJob(key, how) {
  const db = await opened;
  if (!db) {
    held.set(key, { ...held.get(key), ...how(held.get(key)) });
    return held.get(key);
  }
  const { store, done } = db.transaction('jobs', 'readwrite', KEPT);
  const record = await store.get(key);
  const parts = how(record);
  const next = { ...record, ...parts };
  await Promise.all([parts && store.put(next), done]);
  if (parts) others?.postMessage(key);
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
