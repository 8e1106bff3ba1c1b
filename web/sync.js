// Between this phone and the laptop. Nothing is called sent before the laptop
// has said so; a request gives up by itself, and unsent work is tried for ever.

import { allJobs, updateJob } from './store.js';
import { report, set, state } from './state.js';
import { alike } from './doc.js';
import { heardVersion } from './shell.js';
import { differences } from './work.js';

const GIVE_UP_MS = 2500;
const AGAIN_MS = 8000;
const LOOK_MS = 15000;
let timer = 0;
let busy = false;
let again = false;

/** One request to the laptop: {status, body}, or {status: 0} where it is out of reach. */
async function ask(path, method = 'GET', body = undefined) {
  const abort = new AbortController();
  const timeout = setTimeout(() => abort.abort(), GIVE_UP_MS);
  try {
    const response = await fetch(path, {
      method, signal: abort.signal, cache: 'no-store',
      headers: body ? { 'Content-Type': 'application/json' } : {},
      body: body && JSON.stringify(body),
    });
    const answer = { status: response.status, body: await response.json() };
    reached(true);
    return answer;
  } catch {
    // Aborted, refused or cut off: out of reach, which the page says in words.
    reached(false);
    return { status: 0, body: null };
  } finally {
    clearTimeout(timeout);
  }
}

function reached(ok) {
  if (!state.reach.known || state.reach.ok !== ok) set({ reach: { known: true, ok } });
}

/** The laptop's copy of a job: {job, rev, saved}; or {message, gone} where there is none. */
export async function fetchJob(key) {
  const { status, body } = await ask('/api/jobs/' + key);
  if (status === 200) return body;
  if (status === 0) {
    return {
      message: 'This job is not on this phone, and the laptop is not reachable. '
        + 'Join the laptop’s network, then try again.',
    };
  }
  return { message: body.error.message, gone: status === 404 };
}

/** {link, qr}; or {message, gone} where there is none. */
export async function fetchLink(key) {
  const { status, body } = await ask(`/api/jobs/${key}/link`);
  if (status === 200) return body;
  if (status === 0) return { message: 'The laptop is not reachable, and the link comes from it.' };
  return { message: body.error.message, gone: status === 404 };
}

/** The laptop has lost this job, which this phone has: give it back. */
export async function giveBack(key) {
  shown(await updateJob(key, () => ({ rev: 0, dirty: true, offered: [], conflict: null })));
  sendSoon(0);
}

/** Send what is unsent, soon; then keep trying. */
export function sendSoon(delay = 150) {
  clearTimeout(timer);
  timer = setTimeout(() => sendAll().catch(report), delay);
}

async function sendAll() {
  if (busy) {
    again = true;
    return;
  }
  busy = true;
  again = false;
  let left = 1;
  try {
    const open = (await allJobs()).filter((r) => r.dirty && !r.conflict);
    const done = [];
    for (const record of open) done.push(await send(record));
    left = done.filter((d) => !d).length;
  } finally {
    busy = false;
    if (again) sendSoon();
    else if (left) sendSoon(AGAIN_MS);
  }
}

/** True where nothing of this record is left to try. */
async function send({ key }) {
  // What is offered is written down first: its answer may get lost.
  const { doc, rev } = await updateJob(key, ({ doc: now, offered = [] }) => ({
    offered: offered.some((o) => alike(o, now)) ? offered : [...offered, now],
  }));
  const { status, body } = rev
    ? await ask('/api/jobs/' + key, 'PUT', { job: doc, base: rev })
    : await ask('/api/jobs', 'POST', { job: doc, key });
  if (status === 0) return false;
  const record = await updateJob(key, (now) => {
    if (status === 200 || status === 201) {
      return { rev: body.rev, dirty: !alike(now.doc, doc), sent: body.saved, refused: null, offered: [] };
    }
    if (status === 409) {
      const theirs = body.current;
      // Our own words, whose answer got lost: no quarrel.
      if (now.offered.some((o) => alike(o, theirs.job))) return { rev: theirs.rev, offered: [] };
      return { conflict: { rev: theirs.rev, doc: theirs.job } };
    }
    if (status === 404) return { rev: 0, offered: [] }; // the laptop has lost it: give it back
    return { refused: body.error };
  });
  shown(record);
  if (record.conflict && state.job && state.job.key === key) {
    set({ differing: await differences(record.doc, record.conflict.doc) });
  }
  const settled = !record.dirty || Boolean(record.conflict) || Boolean(record.refused);
  if (!settled) again = true;
  return settled;
}

/** Put what the laptop said of a record on the screen. */
function shown(record) {
  const jobs = state.jobs.map((j) => (j.key === record.key ? record : j));
  if (!state.job || state.job.key !== record.key) set({ jobs });
  // The same document stays the same object: there is nothing to plan anew.
  else set({ jobs, job: { ...record, doc: alike(record.doc, state.job.doc) ? state.job.doc : record.doc } });
}

/** Look for the laptop on start, on return and now and then; `found` where it answers. */
export function watchLaptop(found) {
  const look = async () => {
    if (document.hidden) return;
    const { body } = await ask('/api/ping');
    if (!state.reach.ok) return;
    heardVersion(body.version).catch(report);
    sendSoon();
    await found();
  };
  const soon = () => look().catch(report);
  soon();
  setInterval(soon, LOOK_MS);
  document.addEventListener('visibilitychange', soon);
  window.addEventListener('online', soon);
}
