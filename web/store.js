// Jobs on this phone (IndexedDB through idb).
// A record: {key, doc, rev, dirty, sent, undo: [doc], conflict: null | {rev, doc}}.

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

export async function putJob(record) {
  await (await opened).put('jobs', record);
}
