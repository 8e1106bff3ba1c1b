// Quick: the calculators, made from calc's declarations.

import { html, nothing } from '../vendor/lit-html.js';
import { announce, readQuick, remember, report, set, setPrefs, state, writeQuick } from '../state.js';
import { openPad } from '../pad.js';
import { call, loadDeclarations } from '../work.js';
import { prose, sketch } from '../sketch.js';
import { rung } from './rung.js';

const find = (name) => state.calculators.find((c) => c.name === name);
const kept = (name) => state.quick[name] || { values: {}, undo: [] };

/** What stands in a field, in the unit of the page. */
function seenIn(name, field) {
  const answer = state.answers[name];
  const pair = answer && answer.seen.find(([key]) => key === field.key);
  return pair ? pair[1] : kept(name).values[field.key] ?? field.default;
}

/** What a bare number means, for new jobs and the calculators. */
export function unitPicker() {
  const pick = (unit) => {
    setPrefs({ unit });
    set({ answers: {} });
    loadDeclarations().catch(report);
  };
  return html`<label class="pick"><span>A bare number means</span>
    <select @change=${(event) => pick(event.target.value)}>
      ${state.units.map(([key, label]) => html`<option value=${key} ?selected=${key === state.prefs.unit}>${label}</option>`)}
    </select></label>`;
}

export function quickList() {
  return html`<div class="list">
    <a class="card go" href="#/jobs"><h3>Jobs</h3><p>The whole wall: survey, layout, cut list, take-off, finish.</p></a>
    ${state.calculators.map((c, i) => html`${c.group !== state.calculators[i - 1]?.group ? html`<h2 class="group-of">${c.group}</h2>` : nothing}
      <a class="card go" href="#/quick/${c.name}"><h3>${c.title}</h3><p>${c.question}</p></a>`)}
    ${state.calculators.length ? nothing : html`<p class="boot">Getting the calculators ready.</p>`}
    ${unitPicker()}
    ${rung()}
  </div>`;
}

const ask = (name, values) => call({ do: 'quick', name, values, unit: state.prefs.unit });

export async function answerQuick(name) {
  const answer = await ask(name, kept(name).values);
  if (answer.ok) set({ answers: { ...state.answers, [name]: answer } });
  else set({ notice: answer.problems[0].message });
}

async function change(name, key, value) {
  const { values, undo } = readQuick(name);
  writeQuick(name, { values: { ...values, [key]: value }, undo: remember(undo, values) });
  await answerQuick(name);
}

export async function undoQuick(name) {
  const { undo } = readQuick(name);
  if (!undo.length) return;
  writeQuick(name, { values: undo.at(-1), undo: undo.slice(0, -1) });
  await answerQuick(name);
  announce('Undone.');
}

function withIndex(list, index, text) {
  const copy = [...(list || [])];
  if (text === '') copy.splice(index, 1);
  else copy[index] = text;
  return copy;
}

/** What the keypad needs to know of one field of one calculator. */
export function quickPad({ owner, field: key, index }) {
  const name = owner.slice('quick:'.length);
  const calculator = find(name);
  const field = calculator && calculator.fields.find((f) => f.key === key);
  if (!field) return null;
  const { values } = kept(name);
  const now = values[key];
  const many = field.kind === 'lengths';
  const value = (text) => (many ? withIndex(now, index, text) : text);
  const keyed = calculator.fields.filter((f) => ['length', 'count', 'lengths', 'money'].includes(f.kind) || f.suffix !== null);
  const after = keyed[keyed.indexOf(field) + 1];
  const count = (f) => (values[f.key] || []).length;
  return {
    label: many ? `${field.label} ${index + 1}` : field.label,
    hint: field.hint,
    kind: field.kind,
    suffix: field.suffix,
    unit: state.prefs.unit,
    now: many ? (seenIn(name, field) || [])[index] : seenIn(name, field),
    canUndo: kept(name).undo.length > 0,
    undo: () => undoQuick(name),
    next: (wasKeyed) => {
      if (many && wasKeyed) return { field: key, index: count(field) + (index === count(field) ? 1 : 0) };
      return after ? { field: after.key, index: after.kind === 'lengths' ? count(after) : null } : null;
    },
    commit: (text) => change(name, key, value(text)),
    async check(text) {
      const given = text === null ? values : { ...values, [key]: value(text) };
      const seen = await ask(name, given);
      const { problems } = seen;
      const figure = seen.ok && seen.answer ? seen.answer.figures[0] : null;
      return {
        problem: problems.find((p) => p.field === key) || null,
        figure,
        say: figure && `${figure.label}: ${figure.say}`,
        note: seen.ok && seen.needs.length ? `Still needed: ${labels(calculator, seen.needs)}` : problems.map((p) => p.message).join(' '),
      };
    },
  };
}

const labels = (calculator, keys) => keys
  .map((key) => calculator.fields.find((f) => f.key === key).label).join(', ');

function fieldRow(calculator, field) {
  const name = calculator.name;
  const now = seenIn(name, field);
  const wrong = state.answers[name] && state.answers[name].problems.find((p) => p.field === field.key);
  const problem = wrong ? html`<p class="problem" role="alert">${prose(wrong.message)} ${prose(wrong.fix)}</p>` : nothing;
  const hint = field.hint ? html`<small>${field.hint}</small>` : nothing;
  const owner = 'quick:' + name;
  if (field.kind === 'choice') {
    return html`<label class="field"><span class="name">${field.label}${hint}</span>
      <select @change=${(event) => change(name, field.key, event.target.value)}>
        ${field.choices.map(([key, label]) => html`<option value=${key} ?selected=${key === now}>${label}</option>`)}
      </select></label>${problem}`;
  }
  if (field.kind === 'flag') {
    return html`<button type="button" class="field" aria-pressed=${now === 'yes'}
      @click=${() => change(name, field.key, now === 'yes' ? 'no' : 'yes')}>
      <span class="name">${field.label}${hint}</span><b class="value">${now === 'yes' ? 'yes' : 'no'}</b></button>${problem}`;
  }
  if (field.kind === 'lengths') {
    const list = now || [];
    return html`<div class="many"><span class="name">${field.label}${hint}</span>
      ${list.map((text, i) => html`<button type="button" class="chip" @click=${() => openPad(owner, field.key, i)}
        aria-label="${field.label} ${i + 1}: ${text}">${text}</button>`)}
      <button type="button" class="chip add" @click=${() => openPad(owner, field.key, list.length)}
        aria-label="Add to ${field.label}">+ add</button></div>${problem}`;
  }
  return html`<button type="button" class="field" @click=${() => openPad(owner, field.key)}>
    <span class="name">${field.label}${hint}</span>
    <b class="value">${now ? prose(now) : html`<i>${field.needed ? 'needed' : 'none'}</i>`}</b></button>${problem}`;
}

export function quickScreen(name) {
  const calculator = find(name);
  if (!calculator) {
    return html`<p class="boot">${state.calculators.length ? `There is no calculator “${name}”.` : 'Getting the calculator ready.'}</p>`;
  }
  const seen = state.answers[name];
  const answer = seen && seen.answer;
  const fieldKeys = calculator.fields.map((f) => f.key);
  const general = seen ? seen.problems.filter((p) => !fieldKeys.includes(p.field)) : [];
  return html`
    <section class="result" aria-label="Answer">
      ${answer ? figures(answer.figures)
    : html`<p class="hold">${seen && seen.needs.length ? `Still needed: ${labels(calculator, seen.needs)}`
      : seen && seen.problems.length ? 'No answer until the marked field is mended.' : calculator.question}</p>`}
      ${general.map((p) => html`<p class="problem" role="alert">${prose(p.message)} ${prose(p.fix)}</p>`)}
      ${answer ? answer.warnings.map((w) => html`<p class="warn"><b>Look out.</b> ${prose(w)}</p>`) : nothing}
    </section>
    ${answer ? results(answer) : nothing}
    ${fieldLists(calculator)}
    ${answer ? working(answer, calculator.sources) : nothing}`;
}

/** The arithmetic of an answer, and where it stands. */
export const working = (answer, sources = []) => html`<details class="working"><summary>Working and sources</summary>
  <ol>${answer.working.map((line) => html`<li>${prose(line)}</li>`)}</ol>
  <ul>${sources.map((line) => html`<li>${line}</li>`)}
    ${answer.cautions.map((c) => html`<li>${c.source}</li>`)}</ul></details>`;

/** The readings a person must give, then, folded, those that stand well as they are. */
function fieldLists(calculator) {
  const main = [];
  calculator.fields.forEach((f, i) => {
    const goesOn = !f.needed && main.length > 0 && main.at(-1) === calculator.fields[i - 1];
    if (f.kind === 'choice' || f.kind === 'lengths' || (f.default === '' && (f.needed || goesOn))) main.push(f);
  });
  const more = calculator.fields.filter((f) => !main.includes(f));
  const seen = state.answers[calculator.name];
  const open = more.some((f) => (kept(calculator.name).values[f.key] ?? '') !== ''
    || (seen && seen.problems.some((p) => p.field === f.key)));
  return html`<section class="fields" aria-label="Readings"><h2>Readings</h2>
      ${main.map((f) => fieldRow(calculator, f))}</section>
    <details class="more" ?open=${open}><summary>More readings</summary>
      <div class="fields">${more.map((f) => fieldRow(calculator, f))}</div></details>`;
}

export function figures(list) {
  if (!list.length) return nothing;
  const [first, ...rest] = list;
  return html`<p class="figure first"><span>${first.label}</span>
      <output class="answer" aria-label=${first.say}>${prose(first.text)}</output> <em>${first.lean}</em></p>
    ${rest.map((f) => html`<p class="figure"><span>${f.label}</span><b aria-label=${f.say}>${prose(f.text)}</b> <em>${f.lean}</em></p>`)}`;
}

export function results(answer, warned = cautions) {
  return html`
    ${answer.sketch ? sketch(answer.sketch) : nothing}
    ${answer.rows.length ? html`<dl class="rows">${answer.rows.map(([label, text]) => html`<div><dt>${label}</dt><dd>${prose(text)}</dd></div>`)}</dl>` : nothing}
    ${answer.tables.map(table)}
    ${warned(answer.cautions)}`;
}

/** A table; one of many columns stands row by row on a narrow screen. */
function table({ title, columns, rows }) {
  return html`<table class=${columns.length > 3 ? 'stack' : nothing}><caption>${title}</caption>
    <thead><tr>${columns.map((c) => html`<th scope="col">${c}</th>`)}</tr></thead>
    <tbody>${rows.map((row) => html`<tr>${row.map((cell, i) => html`<td data-of=${columns[i]} class=${cell && cell !== '-' ? nothing : 'bare'}><span>${prose(cell)}</span></td>`)}</tr>`)}</tbody></table>`;
}

/** The usual cautions, in one block. */
export function cautions(list) {
  if (!list.length) return nothing;
  return html`<section class="cautions" aria-label="Cautions"><h2>Caution</h2>
    <ul>${list.map((c) => html`<li>${c.text}</li>`)}</ul></section>`;
}
