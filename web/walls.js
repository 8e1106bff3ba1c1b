// Which wall is looked at: this phone's own for each job, not the job's; and the picker.

import { html, nothing } from './vendor/lit-html.js';
import { announce, readLocal, set, state, writeLocal } from './state.js';

const count = (doc) => (Array.isArray(doc.walls) ? doc.walls.length : 0);

/** The wall looked at, from 0. */
export function wallAt(doc) {
  const kept = readLocal('wall', {})[state.route.key] ?? 0;
  return Math.min(Math.max(kept, 0), Math.max(count(doc) - 1, 0));
}

/** Keep which wall of a job is looked at. */
export function keepWall(key, wall) {
  writeLocal('wall', { ...readLocal('wall', {}), [key]: wall });
}

/** Look at another wall; `then` brings what is shown of it. */
export function pickWall(wall, then) {
  const { key, screen } = state.route;
  keepWall(key, wall);
  history.replaceState(null, '', `#/job/${key}/${screen}/${wall + 1}`);
  set({ item: '' });
  then();
}

/** A row to pick a wall by: back, the list of all, on. Nothing where there is but one. */
export function wallPicker(names, at, pick) {
  if (names.length < 2) return nothing;
  const go = (to) => {
    pick(to);
    announce(names[to]);
  };
  return html`<div class="walls" role="group" aria-label="Wall">
    <button type="button" class="step" aria-label="Wall before" ?disabled=${at === 0} @click=${() => go(at - 1)}>‹</button>
    <select aria-label="Wall" @change=${(event) => go(event.target.selectedIndex)}>
      ${names.map((name, i) => html`<option .selected=${i === at}>${i + 1} of ${names.length}: ${name}</option>`)}</select>
    <button type="button" class="step" aria-label="Next wall" ?disabled=${at === names.length - 1} @click=${() => go(at + 1)}>›</button>
  </div>`;
}
