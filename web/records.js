// The records of the jobs on this phone: how one comes to be, by a person, a link, a code, or the
// page's first version; what of it may be sent.

import { addJob, allJobs, getJob, updateJob } from './store.js';
import { report, set } from './state.js';
import { fetchJob } from './sync.js';
import { answered, call } from './work.js';

/** `count` random bytes in letters; of 16 nobody guesses a job's key. */
function letters(count) {
  const bytes = crypto.getRandomValues(new Uint8Array(count));
  const text = btoa(String.fromCharCode(...bytes));
  return text.replaceAll('+', '-').replaceAll('/', '_').replaceAll('=', '');
}

export const newKey = () => letters(16);
const newWriter = () => letters(6);

const newRecord = (key, parts) => ({
  key, access: key, kind: 'edit', id: '', made: Date.now(), writer: newWriter(), next: 0, turn: 0, undo: [], rev: 0,
  outbox: [], sent: '', refused: null, ended: false, pending: null, ...parts,
});

/** What a joined copy gives a record. */
export const parts = ({ copy, job, apart, top }) => ({ copy, doc: job, apart, top });

export const joined = async (copies) => parts(await answered(call({ do: 'join', copies })));

/** A document as a new record, all of it one write. */
async function adopted(key, doc, more) {
  const record = newRecord(key, more);
  const { copy, ...rest } = await answered(call({ do: 'adopt', job: doc, writer: record.writer, number: 1 }));
  return { ...record, ...parts({ copy, ...rest }), next: 1, outbox: [{ number: 1, write: copy }] };
}

/** Keep a document as a new job on this phone; its record. */
export async function newJob(doc) {
  const record = await adopted(newKey(), doc);
  await addJob(record);
  return record;
}

let old = null; // the first version's jobs being taken over, once

/** Make jobs that the first version of this page kept what all others are. */
export function takeOver() {
  old ??= allJobs().then(async (all) => {
    for (const { key, doc, made, copy } of all) {
      if (copy) continue;
      try {
        const record = await adopted(key, doc, { made });
        await updateJob(key, (now) => (now.copy ? null : record)); // another tab may have been sooner
      } catch (error) {
        report(error); // this one stays as it is, and keeps no other from being opened
      }
    }
  });
  return old;
}

/** The record of what that key opens, the phone's own where it has it; null, and told, where there is none. */
export async function fromLink(access) {
  const here = (await allJobs()).find((j) => j.access === access || j.key === access);
  if (here) return here;
  const got = await fetchJob(access);
  if (!got.copy) {
    set({ missing: { key: access, message: got.message } });
    return null;
  }
  const known = (await allJobs()).find((j) => j.id === got.id);
  if (!known) {
    const record = newRecord(access, { kind: got.kind, id: got.id, rev: got.rev, sent: got.saved, ...await joined([got.copy]) });
    await addJob(record);
    return record;
  }
  // A link to measure opens no less than the saw's, which is taken where nothing else is left.
  if (!known.ended && got.kind === 'saw') return known;
  return updateJob(known.key, (now) => ({
    access, kind: got.kind, ended: false, refused: null, pending: null,
    // The saw writes under a name that nothing but marks was written under.
    ...(got.kind === now.kind ? {} : { writer: newWriter() }),
  }));
}

/** Whether all that a write changes are marks of what is done. */
export const onlyMarks = ({ fields }) => Object.keys(fields).every((path) => path.startsWith('/done/'));

/** What the laptop takes of what is unsent: by the saw's link marks alone, under its own name. */
export function sendable({ kind, writer, outbox = [] }) {
  if (kind !== 'saw') return outbox;
  const own = ({ fields }) => Object.values(fields).flat().every((w) => w[0] === writer);
  return outbox.filter(({ write }) => onlyMarks(write) && own(write));
}

/** Whether something unsent waits for another link. */
export const waiting = (record) => record.outbox.length > sendable(record).length;

/** Whether both know the same of what this phone wrote: another tab may have written as well. */
export const sameOwn = (a, b) => {
  const own = (r) => JSON.stringify(r.copy.seen[b.writer] ?? null);
  return own(a) === own(b);
};
