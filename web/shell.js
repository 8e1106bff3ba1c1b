// The service worker: what this phone can do without the laptop, said in plain words.

import { set, state } from './state.js';

const RUNGS = {
  checking: 'Looking whether this page is saved on this phone.',
  none: 'Works while this tab is open. Don’t reload away from the laptop.',
  refused: 'This phone doesn’t trust the laptop’s certificate yet. Works while this tab is open.',
  saving: 'Saving this page on this phone.',
  saved: 'Saved on this phone. Opens without the laptop.',
};

export const rungText = () => RUNGS[state.worker.rung];

const rung = (name) => set({ worker: { ...state.worker, rung: name } });

export async function installShell() {
  const workers = navigator.serviceWorker;
  if (!workers) return rung('none');
  rung('saving');
  let registration;
  try {
    registration = await workers.register('/sw.js', { updateViaCache: 'none' });
  } catch (error) {
    if (error.name !== 'SecurityError') throw error;
    return rung('refused');
  }
  const waiting = () => set({ worker: { ...state.worker, waiting: Boolean(registration.waiting && workers.controller) } });
  registration.addEventListener('updatefound', () => {
    registration.installing?.addEventListener('statechange', waiting);
  });
  waiting();
  workers.addEventListener('message', (event) => {
    if (event.data.saved !== undefined) rung(event.data.saved ? 'saved' : 'saving');
  });
  const ready = await workers.ready;
  ready.active.postMessage('saved?');
  return undefined;
}

/** Change to the version that waits. Only ever on the person's tap. */
export async function useNewVersion() {
  const registration = await navigator.serviceWorker.getRegistration();
  navigator.serviceWorker.addEventListener('controllerchange', () => location.reload());
  registration.waiting.postMessage('take over');
}
