// What this phone can do without the laptop, in words, and what helps where it can't.

import { html, nothing } from '../vendor/lit-html.js';
import { set, state } from '../state.js';
import { awayText, rungText } from '../shell.js';

// In a tab of its own: where the laptop is gone, this one must not be left.
const apart = (path, words) => html`<a class="plain" href=${path} target="_blank" rel="noopener">${words}</a>`;

export function rung() {
  const { reach, worker } = state;
  return html`<p class="rung">${rungText()}</p>
    ${reach.known && !reach.ok ? html`<p class="away">${awayText(state.jobs)}</p>` : nothing}
    ${['none', 'refused'].includes(worker.rung) ? apart('/setup', 'Keep this page on the phone') : nothing}
    ${worker.rung === 'failed' ? resetLink() : nothing}`;
}

/** Where a page that is stuck is mended. */
export const resetLink = () => apart('/reset', 'Reset this page');

const COPY = 'Save a job file now and then, under Share.';
const KEPT = {
  yes: 'This phone keeps its jobs until you delete them.',
  no: `This phone may clear its jobs when its space runs short. ${COPY}`,
  unknown: `This phone doesn’t say whether it keeps its jobs. ${COPY}`,
};

/** Whether this phone keeps its jobs, told once; above the tabs, so that no field moves, and
 * where it covers no drawing, QR or cut. */
export function kept() {
  if (!state.kept || !['survey', 'jobs'].includes(state.route.screen)) return nothing;
  const close = () => set({ kept: '' });
  const key = state.route.key || state.prefs.job;
  return html`<aside class="low" role="status"><p>${KEPT[state.kept]}</p><div class="pair">
    ${state.kept !== 'yes' && key ? html`<a class="plain" href="#/job/${key}/share" @click=${close}>Save one now</a>` : nothing}
    <button type="button" class="plain" @click=${close}>Understood</button></div></aside>`;
}
