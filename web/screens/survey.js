// Survey: the job's fields, made from calc's declaration of them.

import { html, nothing } from '../vendor/lit-html.js';
import { state } from '../state.js';
import { openPad } from '../pad.js';
import { call, readLength } from '../work.js';
import { prose } from '../sketch.js';
import { edit, undoJob, valueAt, withValue } from '../jobs.js';

const LENGTHS = ['length', 'lengths'];
const KEYED = [...LENGTHS, 'count', 'money'];
const unitOf = () => state.job.doc.unit || 'in';
const ownerOf = () => 'job:' + state.job.key;

/** What the keypad needs to know of one field of the open job. */
export function surveyPad({ field: path, index }) {
  const field = state.fields.find((f) => f.path === path);
  if (!field || !state.job) return null;
  const { doc, undo } = state.job;
  const unit = unitOf();
  const many = field.kind === 'lengths';
  const length = LENGTHS.includes(field.kind);
  const at = many ? `${path}[${index}]` : path;
  const keyed = state.fields.filter((f) => KEYED.includes(f.kind) && !f.choices.length);
  const after = keyed[keyed.indexOf(field) + 1];
  const asValue = (text) => (text === '' ? undefined : text); // calc reads it
  return {
    label: many ? `${field.label} ${index + 1}` : field.label,
    hint: field.hint,
    kind: length ? 'length' : field.kind,
    unit,
    now: many ? (field.now || [])[index] : field.now ?? field.default,
    canUndo: undo.length > 0,
    undo: undoJob,
    next: (wasKeyed) => {
      if (many && wasKeyed) return { field: path, index: index + 1 };
      return after && after.kind !== 'lengths' ? { field: after.path } : null;
    },
    commit: (text) => edit(at, asValue(text)),
    async check(text) {
      if (text === null || text === '') return { problem: null, note: field.hint };
      const checked = await call({ do: 'check', job: withValue(doc, at, asValue(text)) });
      const problem = checked.problems.find((p) => p.field === at) || null;
      if (problem || !length) return { problem, note: problem ? problem.message : field.hint };
      const seen = await readLength(text, unit);
      return { problem: null, figure: { label: 'reads', text: seen.text, lean: seen.lean }, say: seen.say };
    },
  };
}

const problemsAt = (path) => (state.plan ? state.plan.problems : [])
  .filter((p) => p.field === path || p.field.startsWith(path + '['))
  .map((p) => html`<p class="problem" role="alert">${prose(p.message)} ${prose(p.fix)}</p>`);

function row(field) {
  const { path, now } = field;
  const name = html`<span class="name">${field.label}${field.hint ? html`<small>${field.hint}</small>` : nothing}</span>`;
  const mend = problemsAt(path);
  if (field.kind === 'text') {
    return html`<label class="field">${name}<input type="text" maxlength="80" autocomplete="off" .value=${now || ''}
      @change=${(event) => edit(path, event.target.value.trim() || undefined)}></label>${mend}`;
  }
  if (field.choices.length) return choiceRow(field, name, mend);
  if (field.kind === 'lengths') {
    const list = now || [];
    return html`<div class="many">${name}
      ${list.map((text, i) => html`<button type="button" class="chip" @click=${() => openPad(ownerOf(), path, i)}
        aria-label="${field.label} ${i + 1}: ${text}">${text}</button>`)}
      <button type="button" class="chip add" @click=${() => openPad(ownerOf(), path, list.length)}
        aria-label="Add to ${field.label}">+ add</button></div>${mend}`;
  }
  const value = now ?? field.default;
  return html`<button type="button" class="field" @click=${() => openPad(ownerOf(), path)}>${name}
    <b class="value">${value != null ? prose(String(value)) : html`<i>${field.needed ? 'needed' : 'none'}</i>`}</b></button>${mend}`;
}

/** A choice; of a length, the usual readings or another one by the keypad. */
function choiceRow(field, name, mend) {
  const { path, choices } = field;
  const given = valueAt(state.job.doc, path) ?? field.default;
  const length = field.kind === 'length';
  const known = choices.some(([key]) => key === given);
  const pick = (event) => {
    if (event.target.value === 'other') openPad(ownerOf(), path);
    else edit(path, event.target.value);
  };
  return html`<label class="field">${name}<select @change=${pick}>
    ${given ? nothing : html`<option selected disabled>needed</option>`}
    ${choices.map(([key, label]) => html`<option value=${key} ?selected=${key === given}>${label}</option>`)}
    ${given && !known ? html`<option value=${given} selected>${field.now}</option>` : nothing}
    ${length ? html`<option value="other">another…</option>` : nothing}
  </select></label>${mend}`;
}

export function surveyScreen() {
  const groups = [];
  for (const field of state.fields) {
    const last = groups.at(-1);
    if (last && last.name === field.group) last.fields.push(field);
    else groups.push({ name: field.group, fields: [field] });
  }
  return html`
    <div class="pair"><a class="plain" href="#/jobs">All jobs</a>
      <a class="plain" href="#/job/${state.job.key}/share">Share</a></div>
    ${standing()}
    ${state.job.doc.walls?.length > 1 ? html`<p class="hold">This job has ${state.job.doc.walls.length}
      walls; here is the first. The others are in its file.</p>` : nothing}
    ${groups.map((g) => html`<section class="fields"><h2>${g.name}</h2>${g.fields.map(row)}</section>`)}`;
}

/** Where the plan stands: what is needed, what must be mended, or what to buy. */
export function standing() {
  const { plan } = state;
  if (!plan) return html`<p class="hold">Working out the plan.</p>`;
  if (plan.broken) return html`<p class="problem" role="alert">${plan.broken}</p>`;
  if (plan.problems.length) {
    return html`<p class="hold">No plan until this is mended:</p>
      ${plan.problems.map((p) => html`<p class="problem">${prose(p.message)} ${prose(p.fix)}</p>`)}`;
  }
  if (plan.needs.length) {
    return html`<p class="hold">Still needed: ${plan.needs.map(needed).join(', ')}.</p>`;
  }
  if (!plan.view) return html`<p class="hold">Working out the plan.</p>`;
  if (plan.busy) return html`<p class="hold">The job changed: working out the new plan. Don’t cut by the old one.</p>`;
  return html`<p class="figure first"><span>to buy</span>
    <output class="answer">${prose(plan.view.summary.boards)}</output></p>`;
}

function needed({ field, message }) {
  const asked = state.fields.find((f) => f.path === field);
  return asked ? asked.label.toLowerCase() : message;
}
