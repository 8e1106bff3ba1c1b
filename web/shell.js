// The service worker: what this phone can do without the laptop, said in plain words; and new
// versions of the page, which come by the person's tap alone.

import { set, state } from './state.js';
import { RUNNING } from './version.js';

const RUNGS = {
  checking: 'Looking whether this page is saved on this phone.',
  none: 'Works while this tab is open. Don’t reload away from the laptop.',
  refused: 'This phone doesn’t trust the laptop’s certificate yet. Works while this tab is open.',
  failed: 'This page could not be saved on this phone. Works while this tab is open.',
  saving: 'Saving this page on this phone.',
  saved: 'Saved on this phone. Opens without the laptop.',
};
const ASK_MS = 2500; // for what the laptop has now; it may be away
const FETCH_MS = 20000; // for a version that is on its way

export const rungText = () => RUNGS[state.worker.rung];

/** The laptop does not answer: what it has got of the jobs on this phone, and when. */
export function awayText(jobs) {
  if (!jobs.length) return 'Laptop not reachable.';
  const last = Math.max(...jobs.map(({ sent }) => (sent ? Date.parse(sent) : 0)));
  const open = jobs.reduce((sum, { outbox = [] }) => sum + outbox.length, 0);
  return `Laptop not reachable. ${last ? `Last sent ${when(new Date(last))}` : 'Nothing sent yet'}, ${open} not sent.`;
}

/** "14:05", on another day with its date. */
function when(at) {
  const clock = at.toLocaleTimeString('en-GB', { hour: '2-digit', minute: '2-digit' });
  const today = at.toDateString() === new Date().toDateString();
  return today ? clock : `${clock} on ${at.toLocaleDateString('en-GB', { day: 'numeric', month: 'long' })}`;
}

const tell = (patch) => set({ worker: { ...state.worker, ...patch } });

export async function installShell() {
  const workers = navigator.serviceWorker;
  if (!workers) {
    tell({ rung: 'none' });
    return;
  }
  workers.addEventListener('message', ({ data }) => {
    if (data.saved === undefined) return;
    tell({ rung: data.saved ? 'saved' : 'saving' });
    if (data.version !== RUNNING) tell({ waiting: true });
  });
  // Another tab changed the version: this one goes on with its own, and is told.
  workers.addEventListener('controllerchange', () => workers.controller?.postMessage('saved?'));
  let registration;
  try {
    registration = await workers.register('/sw.js', { updateViaCache: 'none' });
  } catch (error) {
    console.error(error);
    // With the laptop away an earlier worker still serves; else it is as said.
    registration = await workers.getRegistration();
    if (!registration?.active) {
      tell({ rung: error.name === 'SecurityError' ? 'refused' : 'failed' });
      return;
    }
  }
  if (!registration.active) tell({ rung: 'saving' });
  watch(registration);
  const ready = await workers.ready;
  ready.active.postMessage('saved?');
}

function watch(registration) {
  const look = () => {
    if (registration.waiting && navigator.serviceWorker.controller) tell({ waiting: true });
    if (!registration.active && !registration.installing && !registration.waiting) tell({ rung: 'failed' });
  };
  const follow = () => registration.installing?.addEventListener('statechange', look);
  registration.addEventListener('updatefound', follow);
  follow();
  look();
}

let heard = RUNNING;
// What could not be had is looked for anew when the person comes back to the page.
document.addEventListener('visibilitychange', () => { heard = RUNNING; });

/** The laptop has said which version it serves: where it is another one, have it ready. */
export async function heardVersion(version) {
  if (!version || version === heard) return;
  heard = version;
  const registration = await navigator.serviceWorker?.getRegistration();
  if (registration) await registration.update().catch(console.error);
  else tell({ waiting: version !== RUNNING });
}

/** Change to the laptop's version, or where it is away to the one that waits. Only ever on a tap. */
export async function useNewVersion() {
  tell({ changing: true });
  const registration = await navigator.serviceWorker?.getRegistration();
  if (registration) {
    await within(ASK_MS, registration.update().catch(console.error));
    if (registration.installing) await within(FETCH_MS, installed(registration.installing));
    if (registration.waiting) await within(FETCH_MS, tookOver(registration.waiting));
  }
  location.reload();
}

const within = (ms, what) => Promise.race([what, new Promise((done) => setTimeout(done, ms))]);

const installed = (worker) => new Promise((done) => {
  worker.addEventListener('statechange', done, { once: true });
});

function tookOver(worker) {
  const done = new Promise((resolve) => {
    navigator.serviceWorker.addEventListener('controllerchange', resolve, { once: true });
  });
  worker.postMessage('take over');
  return done;
}
