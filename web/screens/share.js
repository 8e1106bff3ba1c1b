// Share: the job's link and its QR, for a second phone; and its files.

import { html, nothing } from '../vendor/lit-html.js';
import { report, set, state } from '../state.js';
import { fetchLink, giveBack } from '../sync.js';
import { elevation } from '../drawn.js';
import { asJson, plainName, save } from '../files.js';
import { answered, call, numberOf } from '../work.js';
import { pickWall, wallAt, wallPicker } from '../walls.js';
import { standing } from '../standing.js';

export async function openShare(key) {
  set({ share: null });
  let share = await fetchLink(key);
  if (share.gone && state.job && state.job.key === key) {
    await giveBack(key);
    share = { message: 'The laptop did not have this job; this phone is giving it back.' };
  }
  if (state.route.key === key) set({ share: { key, ...share } });
}

function link() {
  const { share, job } = state;
  if (!share) return html`<p class="hold">Asking the laptop for the link.</p>`;
  if (!share.link) {
    return html`<p class="hold">${share.message}</p>
      <button type="button" class="main" @click=${() => openShare(job.key).catch(report)}>Try again</button>`;
  }
  return html`<section class="card share">
    <h2>Hold this in front of the other phone’s camera</h2>
    <img class="qr" alt="QR code of the job’s link" src=${'data:image/svg+xml,' + encodeURIComponent(share.qr)}>
    <label class="field tall"><span class="name">Or type the link</span>
      <textarea readonly rows="3" @focus=${(event) => event.target.select()}>${share.link}</textarea></label>
    <p>Whoever has the link can read and change this job.</p></section>`;
}

async function saveCsv(file, name) {
  const answer = await answered(call({ do: 'csv', plan: file }));
  save(`${name}-cut-list.csv`, 'text/csv;charset=utf-8', answer.text);
}

async function saveDrawing(file, number) {
  const { svg } = await elevation(file, number, { paper: 'A4' }).promise;
  save(`${plainName(file.title || 'job', file.walls[number - 1].name)}.svg`, 'image/svg+xml', svg);
}

function files() {
  const { job, plan, walls } = state;
  const name = plainName(job.doc.title || 'job');
  const at = wallAt(job.doc);
  const ready = plan && plan.file && !plan.busy && !plan.problems.length;
  const one = (label, run) => html`<button type="button" class="plain" @click=${() => Promise.resolve(run()).catch(report)}>${label}</button>`;
  return html`<section class="fields files"><h2>Files</h2>
    ${one('Job file', () => save(`${name}-job.json`, 'application/json', asJson(job.doc)))}
    ${ready ? html`
      ${one('Plan file', () => save(`${name}-plan.json`, 'application/json', asJson(plan.file)))}
      ${one('Cut list as CSV', () => saveCsv(plan.file, name))}
      ${wallPicker(walls, at, (wall) => pickWall(wall, () => {}))}
      ${numberOf(at) ? one('Drawing as SVG', () => saveDrawing(plan.file, numberOf(at))) : nothing}
      <a class="plain" href="#/job/${job.key}/print">Print</a>` : standing()}</section>`;
}

export function shareScreen() {
  return html`<div class="pair"><a class="plain" href="#/job/${state.job.key}/survey">Back to the survey</a></div>
    ${link()}${files()}`;
}
