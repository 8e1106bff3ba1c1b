// The jobs on this phone; and a job file is opened here.

import { html, nothing } from '../vendor/lit-html.js';
import { announce, report, set, state } from '../state.js';
import { readJobFile } from '../files.js';
import { keepJob, openLink, startJob } from '../jobs.js';
import { openCode } from '../sync.js';
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

/** Where a job stands between this phone and the laptop. */
function standingOf({ apart = [], outbox = [], kind, ended }) {
  if (ended) return 'Its link was taken back';
  if (apart.length) return 'Two phones say different things';
  return (kind === 'saw' ? 'For the saw. ' : '') + (outbox.length ? `Saved on this phone, ${outbox.length} to send` : 'Sent to the laptop');
}

async function openTyped(input) {
  const found = await openCode(input.value);
  if (!found.key) {
    set({ codeTold: [found.message, ...(found.problems ?? []).map((p) => p.fix)].join(' ') });
    return;
  }
  set({ codeTold: '' });
  if (!(await openLink(found.key))) set({ codeTold: state.missing.message });
}

/** Open a job by the short code that another phone shows. */
const typed = () => html`<section class="fields"><h2>From another phone</h2>
  <label class="field"><span class="name">Short code<small>8 digits, under Share on the other phone</small></span>
    <input id="typed" type="text" inputmode="numeric" autocomplete="off" maxlength="11" aria-label="Short code"></label>
  ${state.codeTold ? html`<p class="problem" role="alert">${state.codeTold}</p>` : nothing}
  <button type="button" class="plain" @click=${() => openTyped(document.getElementById('typed')).catch(report)}>Open by the code</button></section>`;

export function jobsScreen() {
  return html`<div class="list">
    ${state.jobs.map((j) => html`<a class="card go" href="#/job/${j.key}/${j.kind === 'saw' ? 'saw' : 'survey'}">
      <h2>${j.doc.title || 'Untitled job'}</h2>
      <p>${standingOf(j)}</p></a>`)}
    ${state.jobs.length ? '' : html`<p class="hold">No job is on this phone yet. Start one, open a job file, or open the link that another phone shows under Share.</p>`}
    ${state.file ? refusal(state.file) : nothing}
    ${unitPicker()}
    <button type="button" class="main" @click=${() => startJob().catch(report)}>Start a job</button>
    <input type="file" id="job-file" accept=".json,application/json" hidden @change=${(event) => openFile(event.target).catch(report)}>
    <button type="button" class="plain" @click=${() => document.getElementById('job-file').click()}>Open a job file</button>
    ${typed()}
    ${rung()}
    ${state.worker.rung === 'failed' ? nothing : resetLink()}
  </div>`;
}
