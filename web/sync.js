// Between this phone and the laptop. Nothing is called sent before the laptop
// has said so; a request gives up by itself, and unsent work is tried for ever.

import { allJobs } from './store.js';
import { report, set, state } from './state.js';
import { giveBack, hear, mergeIn, refreshJob, updateShown } from './jobs.js';
import { hearPlan } from './plan.js';
import { laptop, lost } from './reach.js';
import { heardVersion } from './shell.js';

const GIVE_UP_MS = 2500;
const PLAN_MS = 5000; // a plan is large
const AGAIN_MS = 8000;
const LOOK_MS = 15000;
const OLD_MS = 30000; // without a word from the laptop, what is shown may be old
const FIRST_MS = 5000; // the same, since the page opened
const started = Date.now();
let timer = 0;
let busy = false;
let again = false;

/** One request to the laptop: {status, body}, or {status: 0} where it is out of reach. */
export async function ask(path, method = 'GET', body = undefined, patience = GIVE_UP_MS) {
  const abort = new AbortController();
  const timeout = setTimeout(() => abort.abort(), patience);
  try {
    const response = await fetch(await laptop(path), {
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
    lost();
    return { status: 0, body: null };
  } finally {
    clearTimeout(timeout);
  }
}

function reached(ok) {
  if (!state.reach.known || state.reach.ok !== ok) set({ reach: { known: true, ok } });
}

const AWAY = 'the laptop is not reachable. Join the laptop’s network, then try again.';

/** The laptop's answer; or {message, gone, ended} in place of it, `away` where it is out of reach. */
async function got(path, away, method, body) {
  const { status, body: said } = await ask(path, method, body);
  if (status === 200) return said;
  if (status === 0) return { message: away };
  return { message: said.error.message, gone: status === 404, ended: status === 410, problems: said.error.problems };
}

/** The laptop's copy of a job by the key that opens it: {id, kind, copy, rev, saved}. */
export const fetchJob = (access) => got('/api/jobs/' + access, 'This job is not on this phone, and ' + AWAY);

/** {edit: {link, qr}, saw: {link, qr}} */
export const fetchLinks = (access) => got(`/api/jobs/${access}/links`, 'The links come from the laptop, and ' + AWAY);

/** Take back the links of that kind: {key, link, qr} of the new one. */
export const renewLink = (access, kind) => got(`/api/jobs/${access}/links`, 'Nothing was taken back: ' + AWAY, 'POST', { kind });

/** A short code: {code, minutes}. */
export const fetchCode = (access, kind) => got(`/api/jobs/${access}/code`, 'A code comes from the laptop, and ' + AWAY, 'POST', { kind });

/** The key that a typed code stands for: {key, kind}. */
export const openCode = (code) => got('/api/codes', 'A code is looked up on the laptop, and ' + AWAY, 'POST', { code });

/** The plan in use of a job: {rev, job, plan}. */
export const fetchPlan = (access) => got(`/api/jobs/${access}/plan`, '');

/** Have this plan used on every phone; {status} 409: another one of the same job is. */
export const sendPlan = (access, job, plan, instead) => ask(`/api/jobs/${access}/plan`, 'PUT', { job, plan, instead }, PLAN_MS);

/** Send what is unsent, soon; then keep trying. */
export function sendSoon(delay = 50) {
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
    const open = (await allJobs()).filter((r) => r.outbox?.length && !r.ended && !r.refused);
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
async function send({ key, access, rev, outbox }) {
  const writes = outbox.map((o) => o.write);
  const { status, body } = rev
    ? await ask(`/api/jobs/${access}/writes`, 'POST', { writes, have: rev })
    : await ask('/api/jobs', 'POST', { key: access, writes });
  if (status === 0 || status >= 500) return false;
  if (status === 404) {
    await giveBack(key); // the laptop has lost it
    return false;
  }
  if (status !== 200 && status !== 201) {
    await updateShown(key, () => (status === 410 ? { ended: true } : { refused: body.error }));
    return true;
  }
  const numbers = outbox.map((o) => o.number);
  const left = (now) => ({ outbox: now.outbox.filter((o) => !numbers.includes(o.number)) });
  const at = { id: body.id, rev: body.rev, sent: body.saved };
  // The laptop stood elsewhere: it has more than this phone, or less.
  if (body.copy) {
    await updateShown(key, left);
    await hear(key, { ...at, copy: body.copy, saved: body.saved });
  }
  const record = await updateShown(key, (now) => ({ ...(body.copy ? {} : left(now)), ...at, refused: null }));
  if (state.job?.key === key) follow(record);
  if (record.outbox.length) again = true;
  return !record.outbox.length;
}

/** Look for the laptop on start, on return and now and then. */
export function watchLaptop() {
  const look = async () => {
    if (document.hidden) return;
    const { body } = await ask('/api/ping');
    if (!state.reach.ok) return;
    heardVersion(body.version).catch(report);
    sendSoon();
    if (state.job && !stream) follow(state.job);
  };
  const soon = () => look().catch(report);
  soon();
  setInterval(soon, LOOK_MS);
  window.addEventListener('online', soon);
  const shown = () => {
    if (document.hidden) unfollow();
    else {
      if (state.job) follow(state.job);
      soon();
    }
  };
  document.addEventListener('visibilitychange', shown);
  window.addEventListener('pageshow', ({ persisted }) => persisted && shown());
  window.addEventListener('pagehide', unfollow);
  setInterval(() => {
    const old = Date.now() - Math.max(state.live.heard, started + FIRST_MS - OLD_MS) > OLD_MS;
    if (old !== state.live.old) set({ live: { ...state.live, old } });
    if (stream && Date.now() - opened > OLD_MS && old) restart(); // it hangs
  }, 2000);
}

// The live stream: one for this page, of the job that is open, closed while nobody looks.

const PHONE = crypto.getRandomValues(new Uint32Array(3)).join('-'); // this page's own name in the stream
const RETRY_MS = 2000;
let stream = null; // the EventSource
let followed = ''; // the key it is of
let opened = 0; // when
let retry = 0;

function unfollow() {
  clearTimeout(retry);
  stream?.close();
  stream = null;
}

function restart() {
  unfollow();
  if (state.job && !document.hidden) follow(state.job);
}

/** Hear at once what other phones write to the job that is open. */
export function follow({ key, access, rev, ended }) {
  if (document.hidden || (stream && followed === access)) return;
  unfollow();
  if (!rev || ended) return; // the laptop does not have it yet
  followed = access;
  opened = Date.now();
  laptop(`/api/jobs/${access}/live?phone=${PHONE}`).then((url) => {
    if (!stream && followed === access && !document.hidden) listen(url, key);
  }).catch(report);
}

function listen(url, key) {
  stream = new EventSource(url);
  const on = (name, run) => stream.addEventListener(name, (event) => {
    set({ live: { heard: Date.now(), old: false } });
    reached(true);
    Promise.resolve(run(JSON.parse(event.data))).catch(report);
  });
  on('hello', async ({ rev: there, plan }) => {
    sendSoon();
    if (state.job?.key !== key) return;
    if (there !== state.job.rev) await refreshJob();
    await hearPlan(state.job, plan);
  });
  on('job', async ({ before, rev: there, saved, writes }) => {
    if (state.job?.key !== key || there === state.job.rev) return;
    if (writes && before === state.job.rev) {
      await mergeIn(key, writes, (now) => (now.rev === before ? { rev: there, sent: saved } : {}));
    } else if (there > state.job.rev) await refreshJob();
  });
  on('plan', ({ plan }) => state.job?.key === key && hearPlan(state.job, plan));
  on('beat', () => {});
  on('ended', () => updateShown(key, () => ({ ended: true })).then(unfollow));
  stream.onerror = () => {
    if (stream?.readyState !== EventSource.CLOSED) return; // it tries again by itself
    unfollow();
    refreshJob().catch(report); // it has lost the job, or the link was taken back
    retry = setTimeout(restart, RETRY_MS);
  };
}
