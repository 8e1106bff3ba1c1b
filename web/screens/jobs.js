// The jobs on this phone; and a job file is opened here.

import { html, nothing } from '../vendor/lit-html.js';
import { announce, report, set, state } from '../state.js';
import { readJobFile } from '../files.js';
import { keepJob, startJob } from '../jobs.js';
import { prose } from '../sketch.js';
import { unitPicker } from './quick.js';
import { resetLink, rung } from './rung.js';

async function openFile(input) {
  const [file] = input.files;
  input.value = ''; // the same file, once mended, is a new pick
  if (!file) return;
  set({ file: null });
  const { doc, ...refused } = await readJobFile(file);
  if (doc) await keepJob(doc);
  else {
    set({ file: refused });
    announce(refused.message);
  }
}

/** A file that was not opened, with everything that is wrong with it. */
function refusal({ name, message, problems }) {
  return html`<section class="card refused" role="alert"><h2>${name}</h2><p class="hold">${message}</p>
    ${problems.map((p) => html`<div class="problem"><p>${prose(p.message)} ${prose(p.fix)}</p>
      <p>Field ${p.field || 'of the whole file'}${p.value === '' ? nothing : html`, value ${p.value}`}</p></div>`)}
    <button type="button" class="plain" @click=${() => set({ file: null })}>Close</button></section>`;
}

export function jobsScreen() {
  return html`<div class="list">
    ${state.jobs.map((j) => html`<a class="card go" href="#/job/${j.key}/survey">
      <h2>${j.doc.title || 'Untitled job'}</h2>
      <p>${j.conflict ? 'Changed on two phones' : j.dirty ? 'Saved on this phone, not sent yet' : 'Sent to the laptop'}</p></a>`)}
    ${state.jobs.length ? '' : html`<p class="hold">No job is on this phone yet. Start one, open a job file, or open the link that another phone shows under Share.</p>`}
    ${state.file ? refusal(state.file) : nothing}
    ${unitPicker()}
    <button type="button" class="main" @click=${() => startJob().catch(report)}>Start a job</button>
    <input type="file" id="job-file" accept=".json,application/json" hidden @change=${(event) => openFile(event.target).catch(report)}>
    <button type="button" class="plain" @click=${() => document.getElementById('job-file').click()}>Open a job file</button>
    ${rung()}
    ${state.worker.rung === 'failed' ? nothing : resetLink()}
  </div>`;
}
