// One field of a job's form, by its kind; and what the keypad needs to know of it.

import { html, nothing } from '../vendor/lit-html.js';
import { set, state } from '../state.js';
import { openPad } from '../pad.js';
import { call, readLength } from '../work.js';
import { prose } from '../sketch.js';
import { edit, undoJob } from '../jobs.js';
import { isWall, valueAt, wallOf, within, withValue } from '../doc.js';

const LENGTHS = ['length', 'lengths'];
const KEYED = [...LENGTHS, 'count', 'money'];
const ownerOf = () => 'job:' + state.job.key;
const isKeyed = (field) => (KEYED.includes(field.kind) || field.suffix !== null) && !field.choices.length;
export const isEmpty = (field) => field.now === null || field.now === undefined || field.now.length === 0;

/** Open the keypad, unless the form of another wall is on its way. */
export function key(field, index = null) {
  const { path } = state.fields.find((f) => f.path === field) ?? {};
  if (path) openPad(ownerOf(), path, index);
}

/**
 * The field that OK goes on to: the next of the same part, then the next that is still needed.
 * Looked up by its path: what was keyed may have brought another form meanwhile.
 */
function after(path) {
  const keyed = state.fields.filter(isKeyed);
  const at = keyed.findIndex((f) => f.path === path);
  if (at < 0) return null;
  const { part } = keyed[at];
  const next = keyed[at + 1];
  // What stands behind a choice and may be left out is gone to by a tap alone.
  const follows = next && state.fields[state.fields.indexOf(next) - 1] === keyed[at];
  if (next && next.part === part && (next.needed || follows)) return next.kind === 'lengths' ? null : next;
  if (state.parts[part].item) return null;
  return keyed.slice(at + 1).find((f) => f.needed && isEmpty(f)) ?? null;
}

/** What the keypad needs to know of one field of the open job. */
export function surveyPad({ field: path, index }) {
  const field = state.fields.find((f) => f.path === path);
  if (!field || !state.job) return null;
  const { doc, undo } = state.job;
  const unit = doc.unit || 'in';
  const many = field.kind === 'lengths';
  const length = LENGTHS.includes(field.kind);
  const at = many ? `${path}[${index}]` : path;
  const asValue = (text) => (text === '' ? undefined : text); // calc reads it
  const { item, title: part } = state.parts[field.part];
  const title = item && isWall(item) ? state.walls[wallOf(item)] : part;
  return {
    label: `${item ? `${title}: ` : ''}${field.label}${many ? ` ${index + 1}` : ''}`,
    hint: field.hint,
    kind: length ? 'length' : field.kind,
    suffix: field.suffix,
    unit,
    now: many ? (field.now || [])[index] : field.now ?? field.default,
    canUndo: undo.length > 0,
    undo: undoJob,
    next: (wasKeyed) => {
      if (many && wasKeyed) return { field: path, index: index + 1 };
      const next = after(path);
      return next && { field: next.path };
    },
    commit: (text) => {
      if (item) set({ item });
      return edit(at, asValue(text));
    },
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

export const problem = (p) => html`<p class="problem" role="alert">${prose(p.message)} ${prose(p.fix)}</p>`;
export const need = (n) => html`<p class="hold needed">${prose(n.message)}</p>`;

/** What is wrong at a field, or missing where its label does not say so. */
function marks(field) {
  const { problems = [] } = state.plan ?? {};
  return [
    ...problems.filter((p) => within(p.field, field.path)).map(problem),
    ...state.needs.filter((n) => within(n.field, field.path) && !(field.needed && isEmpty(field))).map(need),
  ];
}

export function row(field) {
  const { path, now } = field;
  const name = html`<span class="name">${field.label}${field.hint ? html`<small>${field.hint}</small>` : nothing}</span>`;
  const mend = marks(field);
  if (field.kind === 'text') {
    return html`<label class="field" data-path=${path}>${name}<input type="text" maxlength=${path.endsWith('name') ? 40 : 80} autocomplete="off" placeholder=${field.default ?? ''} .value=${now || ''}
      @change=${(event) => edit(path, event.target.value.trim() || undefined)}></label>${mend}`;
  }
  if (field.choices.length) return choiceRow(field, name, mend);
  if (field.kind === 'lengths') {
    const list = now || [];
    return html`<div class="many" data-path=${path}>${name}
      ${list.map((text, i) => html`<button type="button" class="chip" @click=${() => key(path, i)}
        aria-label="${field.label} ${i + 1}: ${text}">${text}</button>`)}
      <button type="button" class="chip add" @click=${() => key(path, list.length)}
        aria-label="Add to ${field.label}">+ add</button></div>${mend}`;
  }
  const value = now ?? field.default;
  return html`<button type="button" class="field" data-path=${path} @click=${() => key(path)}>${name}
    <b class="value">${value != null ? prose(String(value)) : html`<i>${field.needed ? 'needed' : 'none'}</i>`}</b></button>${mend}`;
}

/** A choice; of a length, the usual readings or another one by the keypad. */
function choiceRow(field, name, mend) {
  const { path, choices } = field;
  const given = valueAt(state.job.doc, path) ?? field.default;
  const length = field.kind === 'length';
  const known = choices.some(([value]) => value === given);
  const empty = given === null || given === undefined;
  const pick = (event) => {
    if (event.target.value === 'other') key(path);
    else edit(path, event.target.value);
  };
  return html`<label class="field" data-path=${path}>${name}<select @change=${pick}>
    ${empty ? html`<option .selected=${empty} disabled>needed</option>` : nothing}
    ${choices.map(([value, label]) => html`<option value=${value} .selected=${value === given}>${label}</option>`)}
    ${!empty && !known ? html`<option value=${given} .selected=${!known}>${field.now}</option>` : nothing}
    ${length ? html`<option value="other">another…</option>` : nothing}
  </select></label>${mend}`;
}
