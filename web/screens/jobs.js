// The jobs on this phone.

import { html } from '../vendor/lit-html.js';
import { report, state } from '../state.js';
import { startJob } from '../jobs.js';
import { rungText } from '../shell.js';
import { unitPicker } from './quick.js';

export function jobsScreen() {
  return html`<div class="list">
    ${state.jobs.map((j) => html`<a class="card go" href="#/job/${j.key}/survey">
      <h2>${j.doc.title || 'Untitled job'}</h2>
      <p>${j.conflict ? 'Changed on two phones' : j.dirty ? 'Saved on this phone, not sent yet' : 'Sent to the laptop'}</p></a>`)}
    ${state.jobs.length ? '' : html`<p class="hold">No job is on this phone yet. Start one, or open the link that another phone shows under Share.</p>`}
    ${unitPicker()}
    <button type="button" class="main" @click=${() => startJob().catch(report)}>Start a job</button>
    <p class="rung">${rungText()}</p>
  </div>`;
}
