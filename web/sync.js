// Between this phone and the laptop. Nothing is called sent before the laptop
// has said so; a request gives up by itself, and unsent work is tried for ever.

import { allJobs, updateJob } from './store.js';
import { set, state } from './state.js';

const GIVE_UP_MS = 2500;
const AGAIN_MS = 8000;
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

export async function fetchJob(key) {
  const { status, body } = await ask('/api/jobs/' + key);
  if (status === 200) return body;
  if (status === 0) {
    return {
      message: 'This job is not on this phone, and the laptop is not reachable. '
        + 'Join the laptop\'s network, then try again.',
    };
  }
  return { message: body.error.message };
}

export async function fetchLink(key) {
  const { status, body } = await ask(`/api/jobs/${key}/link`);
  if (status === 200) return body;
  return { message: status ? body.error.message : 'The laptop is not reachable, and the link comes from it.' };
}

/** Send what is unsent, soon; then keep trying. */
export function sendSoon(delay = 150) {
  clearTimeout(timer);
  timer = setTimeout(sendAll, delay);
}

async function sendAll() {
  if (busy) {
    again = true;
    return;
  }
  busy = true;
  again = false;
  let left = 0;
  for (const record of await allJobs()) {
    if (record.dirty && !record.conflict && !(await send(record))) left += 1;
  }
  busy = false;
  if (again) sendSoon();
  else if (left) sendSoon(AGAIN_MS);
}

/** True where nothing of this record is left to try. */
async function send({ key, doc, rev }) {
  const { status, body } = rev
    ? await ask('/api/jobs/' + key, 'PUT', { job: doc, base: rev })
    : await ask('/api/jobs', 'POST', { job: doc, key });
  if (status === 0) return false;
  const sent = JSON.stringify(doc);
  const record = await updateJob(key, (now) => {
    if (status === 200 || status === 201) {
      return { rev: body.rev, dirty: JSON.stringify(now.doc) !== sent, sent: body.saved, refused: null };
    }
    if (status === 409) return { conflict: { rev: body.current.rev, doc: body.current.job } };
    if (status === 404) return { rev: 0 }; // the laptop has lost it: give it back
    return { refused: body.error };
  });
  if (record.dirty && !record.conflict && !record.refused) again = true;
  if (state.job && state.job.key === key) set({ job: { ...record, doc: sameDoc(record.doc) } });
  return !record.dirty || Boolean(record.conflict) || Boolean(record.refused);
}

/** The document that is on the screen, where it is the same: nothing to plan anew. */
function sameDoc(doc) {
  return JSON.stringify(doc) === JSON.stringify(state.job.doc) ? state.job.doc : doc;
}

/** Is the laptop there? Asked on start, on return and now and then. */
export async function ping() {
  await ask('/api/ping');
  if (state.reach.ok) sendSoon();
}

export function watchLaptop() {
  ping();
  setInterval(() => { if (!document.hidden) ping(); }, 15000);
  document.addEventListener('visibilitychange', () => { if (!document.hidden) ping(); });
  window.addEventListener('online', ping);
}
