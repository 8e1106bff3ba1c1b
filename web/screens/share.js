// Share: the job's link and its QR, for a second phone; and its files.

import { html, nothing } from '../vendor/lit-html.js';
import { report, set, state } from '../state.js';
import { giveBack, shutOut, updateShown } from '../jobs.js';
import { newKey } from '../records.js';
import { getJob } from '../store.js';
import { fetchCode, fetchLinks, follow, renewLink } from '../sync.js';
import { elevation } from '../drawn.js';
import { asJson, plainName, save } from '../files.js';
import { numberOf } from '../plan.js';
import { answered, call } from '../work.js';
import { pickWall, wallAt, wallPicker } from '../walls.js';
import { standing } from '../standing.js';

const KINDS = {
  edit: { name: 'To measure', what: 'Whoever has this link can read and change the job.' },
  saw: { name: 'For the saw', what: 'Whoever has this link sees the job, marks cuts and reports a bad board. It changes nothing else.' },
};

/** Ask the laptop for the links of the open job; `kind` is looked at. */
export async function openShare(key, kind = 'edit') {
  set({ share: { key, kind, links: null, code: null, message: '', sure: false } });
  const job = await getJob(key);
  if (!job || job.kind === 'saw') return;
  let links = await fetchLinks(job.access);
  if (links.ended) {
    await shutOut(key);
    const { access, ended } = await getJob(key);
    if (!ended) links = await fetchLinks(access);
  }
  if (links.gone) {
    await giveBack(key);
    links = { message: 'The laptop did not have this job; this phone is giving it back.' };
  }
  if (state.route.key === key) patch({ links: links.edit ? links : null, message: links.message ?? '' });
}

const patch = (parts) => set({ share: { ...state.share, ...parts } });

async function makeCode() {
  const { kind } = state.share;
  const code = await fetchCode(state.job.access, kind);
  if (state.share?.kind === kind) patch({ code: code.code ? code : null, message: code.message ?? '' });
}

/**
 * Take back the link that is looked at, and show the new one. Its key is made here and kept
 * first: where the answer is lost, this phone still has what opens the job.
 */
async function takeBack() {
  const { key, kind } = state.share;
  const { access, pending } = await updateShown(key, ({ pending: before }) => ({
    pending: { ...before, [kind]: before?.[kind] ?? newKey() },
  }));
  let fresh = await renewLink(access, kind, pending[kind]);
  // It was taken back before, and the answer was lost.
  if (fresh.ended && kind === 'edit') fresh = await renewLink(pending.edit, kind, pending.edit);
  if (!fresh.key) {
    const used = fresh.problems?.some((p) => p.field === 'key'); // and taken back again since
    if (used) await updateShown(key, (now) => ({ pending: { ...now.pending, [kind]: newKey() } }));
    patch({ message: used ? 'Another phone has taken it back meanwhile. Take it back again where that was not you.' : fresh.message, sure: false });
    return;
  }
  follow(await updateShown(key, (now) => ({
    pending: { ...now.pending, [kind]: undefined }, ...(kind === 'edit' && { access: fresh.key, ended: false }),
  })));
  patch({ links: { ...state.share.links, [kind]: fresh }, code: null, sure: false, message: 'The old link opens nothing any more.' });
}

const spaced = (code) => `${code.slice(0, 4)} ${code.slice(4)}`;

function link() {
  const { share, job } = state;
  if (job.kind === 'saw') return html`<p class="hold">This phone has the saw’s link. Links are given out by the phone that measures.</p>`;
  if (!share || (!share.links && !share.message)) return html`<p class="hold">Asking the laptop for the link.</p>`;
  if (!share.links) {
    return html`<p class="hold">${share.message}</p>
      <button type="button" class="main" @click=${() => openShare(job.key).catch(report)}>Try again</button>`;
  }
  const { kind, code, sure, message } = share;
  const run = (how) => () => how().catch(report);
  return html`<div class="pair">${Object.entries(KINDS).map(([k, { name }]) => html`<button type="button" class="plain"
      aria-pressed=${k === kind} @click=${() => patch({ kind: k, code: null, sure: false, message: '' })}>${name}</button>`)}</div>
    <section class="card share">
    <h2>Hold this in front of the other phone’s camera</h2>
    <img class="qr" alt="QR code of the job’s link" src=${'data:image/svg+xml,' + encodeURIComponent(share.links[kind].qr)}>
    <label class="field tall"><span class="name">Or type the link</span>
      <textarea readonly rows="3" @focus=${(event) => event.target.select()}>${share.links[kind].link}</textarea></label>
    ${code ? html`<p>Or open Jobs on the other phone and type this code. It lasts ${code.minutes} minutes.</p>
      <p class="figure"><output class="answer code">${spaced(code.code)}</output></p>`
    : html`<button type="button" class="plain" @click=${run(makeCode)}>A short code to type</button>`}
    <p>${KINDS[kind].what}</p>
    ${sure ? html`<p class="warn">Every phone that came by this link is shut out, but for this one. What they have not sent yet stays with them.</p>
      <button type="button" class="plain" @click=${run(takeBack)}>Yes, take it back</button>
      <button type="button" class="plain" @click=${() => patch({ sure: false })}>No</button>`
    : html`<button type="button" class="plain" @click=${() => patch({ sure: true })}>Take this link back</button>`}
    ${message ? html`<p class="hold" role="status">${message}</p>` : nothing}</section>`;
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
