// Between this phone and the laptop. Nothing is called sent before the laptop
// has said so; a request gives up by itself, and unsent work is tried for ever.

import { allJobs } from './store.js';
import { report, set, state } from './state.js';
import { giveBack, hear, mergeIn, refreshJob, shutOut, updateShown } from './jobs.js';
import { hearPlan } from './plan.js';
import { laptop, lost } from './reach.js';
import { sendable } from './records.js';
import { heardVersion } from './shell.js';

const GIVE_UP_MS = 2500;
const PLAN_MS = 4500; // a plan is large
const AGAIN_MS = 3000;
const MOST_AT_ONCE = 200; // writes in one request
const LOOK_MS = 15000;
const OLD_MS = 30000; // without a word from the laptop, what is shown may be old
const FIRST_MS = 5000; // the same, since the job was opened
let timer = 0;
let due = Infinity; // when it goes off
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

/** Take back the links of that kind, for the one of that key: {key, link, qr} of it. */
export const renewLink = (access, kind, key) => got(`/api/jobs/${access}/links`,
  'The laptop did not answer, so this link may still open the job. Join the laptop’s network, then take it back again.', 'POST', { kind, key });

/** A short code: {code, minutes}. */
export const fetchCode = (access, kind) => got(`/api/jobs/${access}/code`, 'A code comes from the laptop, and ' + AWAY, 'POST', { kind });

/** The key that a typed code stands for: {key, kind}. */
export const openCode = (code) => got('/api/codes', 'A code is looked up on the laptop, and ' + AWAY, 'POST', { code });

/** The plan in use of a job: {rev, job, plan}. */
export const fetchPlan = (access) => got(`/api/jobs/${access}/plan`, '');

/** Have this plan used on every phone; {status} 409: another one of the same job is. */
export const sendPlan = (access, job, plan, instead) => ask(`/api/jobs/${access}/plan`, 'PUT', { job, plan, instead }, PLAN_MS);

/** Whether the laptop answers at all. */
export const isThere = async () => (await ask('/api/ping')).status === 200;

/** Send what is unsent, soon; then keep trying. */
export function sendSoon(delay = 50) {
  const at = performance.now() + delay;
  if (at >= due) return; // whoever keys fast puts nothing off
  due = at;
  clearTimeout(timer);
  timer = setTimeout(() => {
    due = Infinity;
    sendAll().catch(report);
  }, delay);
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
    const open = (await allJobs()).filter((r) => sendable(r).length && !r.ended && !r.refused);
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
async function send(record) {
  const { key, access, rev } = record;
  const now = sendable(record).slice(0, MOST_AT_ONCE);
  const writes = now.map((o) => o.write);
  const { status, body } = rev
    ? await ask(`/api/jobs/${access}/writes`, 'POST', { writes, have: rev })
    : await ask('/api/jobs', 'POST', { key: access, writes });
  if (status === 0 || status >= 500) return false;
  if (status === 404) {
    await giveBack(key); // the laptop has lost it
    return false;
  }
  if (status === 410) {
    await shutOut(key);
    return true;
  }
  if (status !== 200 && status !== 201) {
    await updateShown(key, () => ({ refused: body.error }));
    return true;
  }
  const numbers = now.map((o) => o.number);
  const left = (at) => ({ outbox: at.outbox.filter((o) => !numbers.includes(o.number)) });
  const stands = { id: body.id, rev: body.rev, sent: body.saved };
  // The laptop stood elsewhere: it has more than this phone, or less.
  if (body.copy) {
    await updateShown(key, left);
    await hear(key, { ...stands, copy: body.copy });
  }
  const after = await updateShown(key, (at) => ({ ...(body.copy ? {} : left(at)), ...stands, refused: null }));
  if (state.job?.key === key) follow(after);
  const more = sendable(after).length > 0;
  if (more) again = true;
  return !more;
}

/** Look for the laptop on start, on return and now and then. */
export function watchLaptop() {
  const look = async () => {
    if (document.hidden) return;
    const { status, body } = await ask('/api/ping');
    if (status !== 200) return;
    heardVersion(body.version).catch(report);
    sendSoon();
    if (state.job) follow(state.job);
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
    const old = Date.now() - Math.max(state.live.heard, since + FIRST_MS - OLD_MS) > OLD_MS;
    if (old !== state.live.old) set({ live: { ...state.live, old } });
    if (old && stream && Date.now() - opened > OLD_MS) restart(); // it hangs
  }, 2000);
}

// The live stream: one for this page, of the job that is open, closed while nobody looks.

const PHONE = crypto.getRandomValues(new Uint32Array(3)).join('-'); // this page's own name in the stream
const RETRY_MS = 2000;
const SILENT_MS = 4500; // that a stream may take to begin
let stream = null; // the EventSource
let followed = ''; // the key it is of
let opened = 0; // when
let last = ''; // the key that was followed last
let since = Date.now(); // since when
let timeout = 0; // of a stream that does not begin, or until the next is opened

function unfollow() {
  clearTimeout(timeout);
  stream?.close();
  stream = null;
  followed = '';
}

function restart() {
  unfollow();
  if (state.job) follow(state.job);
}

function restartSoon() {
  unfollow();
  timeout = setTimeout(restart, RETRY_MS);
}

/** Hear at once what other phones write to the job that is open. */
export function follow({ key, access, rev, ended }) {
  if (document.hidden || followed === access) return;
  unfollow();
  if (!rev || ended) return; // the laptop does not have it yet
  followed = access;
  if (last !== access) {
    last = access;
    since = Date.now();
    set({ live: { heard: 0, old: false } });
  }
  laptop(`/api/jobs/${access}/live?phone=${PHONE}`).then((url) => {
    if (!stream && followed === access && !document.hidden) listen(url, key);
  }).catch(report);
}

function listen(url, key) {
  const mine = new EventSource(url);
  stream = mine;
  opened = Date.now();
  timeout = setTimeout(restartSoon, SILENT_MS);
  let turn = Promise.resolve(); // one event after the other
  const on = (name, run) => mine.addEventListener(name, (event) => {
    clearTimeout(timeout);
    set({ live: { heard: Date.now(), old: false } });
    reached(true);
    turn = turn.then(() => mine === stream && state.job?.key === key && run(JSON.parse(event.data))).catch(report);
  });
  on('hello', async ({ rev, plan }) => {
    sendSoon();
    if (rev !== state.job.rev) await refreshJob();
    hearPlan(state.job, plan).catch(report);
  });
  on('job', async ({ before, rev, saved, writes }) => {
    if (rev === state.job.rev) return;
    if (writes && before === state.job.rev) {
      await mergeIn(key, writes, (now) => (now.rev === before ? { rev, sent: saved } : {}));
    } else if (rev > state.job.rev) await refreshJob();
  });
  on('plan', ({ plan }) => { hearPlan(state.job, plan).catch(report); });
  on('beat', () => {});
  mine.addEventListener('ended', () => {
    unfollow();
    shutOut(key).catch(report);
  });
  mine.onerror = () => {
    if (mine !== stream) return;
    const answered = mine.readyState === EventSource.CLOSED; // but not by a stream
    restartSoon();
    if (answered) refreshJob().catch(report); // it has lost the job, or the link was taken back
  };
}
