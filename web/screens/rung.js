// What this phone can do without the laptop, in words, and what helps where it can't.

import { html, nothing } from '../vendor/lit-html.js';
import { state } from '../state.js';
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
