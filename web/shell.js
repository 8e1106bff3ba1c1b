// The service worker: what this phone can do without the laptop, said in plain words.

import { set, state } from './state.js';

const RUNGS = {
  checking: 'Looking whether this page is saved on this phone.',
  none: 'Works while this tab is open. Don’t reload away from the laptop.',
  refused: 'This phone doesn’t trust the laptop’s certificate yet. Works while this tab is open.',
  failed: 'This page could not be saved on this phone. Works while this tab is open.',
  saving: 'Saving this page on this phone.',
  saved: 'Saved on this phone. Opens without the laptop.',
};

export const rungText = () => RUNGS[state.worker.rung];

const rung = (name) => set({ worker: { ...state.worker, rung: name } });

export async function installShell() {
  const workers = navigator.serviceWorker;
  if (!workers) {
    rung('none');
    return;
  }
  workers.addEventListener('message', (event) => {
    if (event.data.saved !== undefined) rung(event.data.saved ? 'saved' : 'saving');
  });
  let registration;
  try {
    registration = await workers.register('/sw.js', { updateViaCache: 'none' });
  } catch (error) {
    console.error(error);
    // With the laptop away an earlier worker still serves; else it is as said.
    registration = await workers.getRegistration();
    if (!registration?.active) {
      rung(error.name === 'SecurityError' ? 'refused' : 'failed');
      return;
    }
  }
  if (!registration.active) rung('saving');
  watch(registration);
  const ready = await workers.ready;
  ready.active.postMessage('saved?');
}

function watch(registration) {
  const look = () => {
    const waiting = Boolean(registration.waiting && navigator.serviceWorker.controller);
    set({ worker: { ...state.worker, waiting } });
    if (!registration.active && !registration.installing && !registration.waiting) rung('failed');
  };
  const follow = () => registration.installing?.addEventListener('statechange', look);
  registration.addEventListener('updatefound', follow);
  follow();
  look();
}

/** Change to the version that waits. Only ever on the person's tap. */
export async function useNewVersion() {
  const registration = await navigator.serviceWorker.getRegistration();
  if (!registration?.waiting) {
    location.reload(); // another tab has changed to it already
    return;
  }
  navigator.serviceWorker.addEventListener('controllerchange', () => location.reload());
  registration.waiting.postMessage('take over');
}
