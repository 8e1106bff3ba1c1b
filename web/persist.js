// Whether this phone keeps what is saved here, or clears it when space runs short: asked after
// the first job is saved, and told once.

import { readLocal, set, writeLocal } from './state.js';

const TOLD = 'told-kept';
let asking = false;

/** Ask the phone to keep the jobs on it; its answer goes into `state.kept`, once on a phone. */
export async function askToKeep() {
  if (asking || readLocal(TOLD, false)) return;
  asking = true;
  const kept = await answer();
  writeLocal(TOLD, true);
  set({ kept });
}

/** 'yes', 'no', or 'unknown' where the phone does not say. */
async function answer() {
  if (!navigator.storage?.persist) return 'unknown';
  try {
    return (await navigator.storage.persist()) ? 'yes' : 'no';
  } catch (error) {
    console.error(error);
    return 'unknown';
  }
}
