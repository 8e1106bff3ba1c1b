// Survey: the job's fields for one wall, made from calc's declaration of them.
// A part is a group of fields, or one of a list (an opening, a box, a reading)
// that can be opened, added and taken out.

import { html, nothing } from '../vendor/lit-html.js';
import { announce, report, set, state } from '../state.js';
import { loadFields } from '../work.js';
import { prose } from '../sketch.js';
import { edit } from '../jobs.js';
import { isWall, wallOf, within } from '../doc.js';
import { pickWall, wallAt, wallPicker } from '../walls.js';
import { standing } from '../standing.js';
import { isEmpty, key, need, problem, row } from './fields.js';

const pick = (wall) => pickWall(wall, () => loadFields(state.job.doc).catch(report));

/** Add what a part offers, open it, and open its keypad where a reading comes first. */
async function add({ path, value, label }) {
  set({ item: path });
  await edit(path, value);
  await loadFields(state.job.doc);
  set({ goal: path });
  announce(label);
  const first = state.fields.find((f) => within(f.path, path));
  if (first && first.kind === 'length' && !first.choices.length) key(first.path);
  else if (first && first.kind === 'lengths') key(first.path, 0);
}

async function addWall() {
  const { path, value } = state.addWall;
  await edit(path, value);
  pick(state.job.doc.walls.length - 1);
}

async function takeOut({ item, title }) {
  const what = isWall(item) ? state.walls[wallOf(item)] : title;
  set({ item: '' });
  await edit(item, undefined);
  if (isWall(item)) pick(wallAt(state.job.doc));
  set({ undone: `Taken out: ${what}` });
  announce(`Taken out: ${what}. Undo brings it back.`);
}

/** What an item holds, in a line: "window, left 20-1/2", width 36"". */
function inShort(fields) {
  const said = ({ label, now, default: usual, choices }) => {
    const value = now ?? usual;
    if (value === null || value === undefined || value.length === 0) return [];
    if (now === null && choices.length) return [];
    const choice = choices.find(([key]) => key === value);
    return choice ? [choice[1]] : [`${label.toLowerCase()} ${[value].flat().join('; ')}`];
  };
  return fields.filter((f) => f.kind !== 'text').flatMap(said).join(', ');
}

const folds = (part) => part.folded || Boolean(part.item && !isWall(part.item));
/** What a part that folds is called while it is open. */
const nameOf = (part) => part.item ?? part.title;

const takeOutButton = (part, words) => html`<button type="button" class="plain" @click=${() => takeOut(part).catch(report)}>${words}</button>`;

/** A part that is shut but for its name and what it holds, until it is touched. */
function folded(part, fields) {
  const { item, title } = part;
  const { problems = [] } = state.plan ?? {};
  const open = state.item === nameOf(part) || fields.some((f) => f.path === state.goal);
  const lacks = fields.some((f) => f.needed && isEmpty(f));
  const wrong = problems.filter((p) => p.field === item || (!open && fields.some((f) => within(p.field, f.path))));
  return html`<div class="item ${open ? 'open' : ''}" data-path=${item ?? nothing}>
    <button type="button" class="field" aria-expanded=${open} @click=${() => set({ item: open ? '' : nameOf(part) })}>
      <span class="name"><b>${title}</b>${open ? nothing : html`<small>${prose(inShort(fields))}</small>`}</span>
      <b class="value"><i>${open ? 'close' : lacks ? 'needed' : 'open'}</i></b></button>
    ${wrong.map(problem)}${state.needs.filter((n) => n.field === item).map(need)}
    ${open ? html`${fields.map(row)}${item ? takeOutButton(part, `Take out ${title}`) : nothing}` : nothing}
  </div>`;
}

/** Notes on a list as a whole, under the button that adds to it. */
function listMarks({ path }) {
  const list = path.replace(/\[\d+\]$/, '');
  const { problems = [] } = state.plan ?? {};
  return [...problems.filter((p) => p.field === list).map(problem), ...state.needs.filter((n) => n.field === list).map(need)];
}

/** The list of a wall that a part is of, or adds to: "walls[0].openings". */
const listOf = (part) => /^(walls\[\d+\]\.\w+)\[\d+\]$/.exec(part?.item ?? part?.add?.path)?.[1];

/** A list's title over the first of its parts: that of the part that adds to it. */
function heading(i) {
  const list = listOf(state.parts[i]);
  if (!list || list === listOf(state.parts[i - 1])) return nothing;
  const adds = state.parts.find((p) => p.add && listOf(p) === list);
  return adds ? html`<h2>${adds.title}</h2>` : nothing;
}

function partView(part, i) {
  const fields = state.fields.filter((f) => f.part === i);
  const more = part.add ? html`<button type="button" class="plain add" @click=${() => add(part.add).catch(report)}>+ ${part.add.label}</button>
    ${listMarks(part.add)}` : nothing;
  if (folds(part)) return html`${heading(i)}${folded(part, fields)}${more}`;
  return html`${fields.length ? html`<h2>${part.title}</h2>` : heading(i)}${fields.map(row)}
    ${part.item ? takeOutButton(part, 'Take out this wall') : nothing}${more}`;
}

/** Bring the field that was asked for into sight, once it is there. */
function reachGoal() {
  const { goal, parts, fields } = state;
  const places = [...document.querySelectorAll('main [data-path]')];
  const at = places.find((e) => e.dataset.path === goal) ?? places.find((e) => within(goal, e.dataset.path));
  const part = parts.find((p, i) => folds(p) && (p.item === goal || fields.some((f) => f.part === i && f.path === goal)));
  set({ goal: '', item: part ? nameOf(part) : state.item });
  if (!at) return;
  at.scrollIntoView({ block: 'center' });
  (at.matches('button, label') ? at : at.querySelector('button'))?.focus({ preventScroll: true });
}

/** Parts of a form, the first of them being the one of index `from`. */
export const formView = (list, from = 0) => html`<section class="fields">${list.map((p, i) => partView(p, from + i))}</section>`;

/** Where a field of this form was asked for, bring it into sight. */
export function seekGoal(there) {
  if (state.goal && there) requestAnimationFrame(reachGoal);
}

export function surveyScreen() {
  if (state.formOf !== 'survey') return html`<p class="boot">Opening the survey.</p>`;
  const { parts, walls, fields } = state;
  const at = wallAt(state.job.doc);
  const first = parts.findIndex((p, i) => fields.some((f) => f.part === i && wallOf(f.path) >= 0));
  const adding = state.addWall && html`<button type="button" class="plain add" @click=${() => addWall().catch(report)}>+ Add a wall</button>`;
  seekGoal(state.formWall === at);
  return html`
    <div class="pair three"><a class="plain" href="#/quick">Quick</a><a class="plain" href="#/jobs">All jobs</a>
      <a class="plain" href="#/job/${state.job.key}/share">Share</a></div>
    ${standing()}
    ${formView(parts.slice(0, first))}
    ${wallPicker(walls, at, pick)}${adding}
    ${formView(parts.slice(first), first)}`;
}
