// Where the plan stands, on every screen of a job: what must be mended, what is
// still needed and on which wall, or what to buy.

import { html, nothing } from './vendor/lit-html.js';
import { report, set, state } from './state.js';
import { wallOf } from './doc.js';
import { edit } from './jobs.js';
import { prose } from './sketch.js';
import { pickWall } from './walls.js';
import { keepPlan, takeNext } from './plan.js';
import { loadFields } from './work.js';

const TAKE_OFF = /^(nails|glue|cost)\b|^trim\.\w+_stock|^finish\.(primer|paint|filler|caulk)_(rate|solids|film|can|price|tub|cartridge)|^finish\.loss/;
/** The screen that asks for a field. */
const screenOf = (path) => (TAKE_OFF.test(path) ? 'take-off' : /^(trim|finish)\b/.test(path) ? 'finish' : 'survey');

/** Go to a field, on its screen, of whichever wall it is. */
export function goTo(path) {
  const { key, screen } = state.route;
  const wall = Math.max(wallOf(path), 0);
  const there = screenOf(path);
  set({ goal: path });
  if (screen !== there) location.hash = `#/job/${key}/${there}/${wall + 1}`;
  else if (wallOf(path) >= 0) pickWall(wall, () => loadFields(state.job.doc).catch(report));
}

const way = (path, words) => html`<button type="button" class="plain way" @click=${() => goTo(path)}>${words}</button>`;

function takeBack(path) {
  set({ calling: null }); // the sheet it was called by does not come up again
  edit(path, undefined).catch(report);
}

/** The way to what is wrong; a mark that leaves no plan can be taken back here. */
function mend(path) {
  const mark = /^done\.\w+\[\d+\]/.exec(path);
  if (!mark) return path ? way(path, 'Go there') : nothing;
  return html`<button type="button" class="plain way" @click=${() => takeBack(mark[0])}>Take it back</button>`;
}

/** What a needed field is called, and what it is of: by its label where its form is on the screen. */
function needed({ field, message }) {
  const asked = state.fields.find((f) => f.path === field)
    ?? (/\].*\[/.test(field) ? null : state.fields.find((f) => f.path === field.replace(/^walls\[\d+\]/, `walls[${state.formWall}]`)));
  if (!asked) return { what: message.replace(/^Give /, '').replace(/\.$/, ''), of: '' };
  const { item, title } = state.parts[asked.part];
  return { what: asked.label.toLowerCase(), of: item && /\].*\[/.test(item) ? title : '' };
}

/** "height, width; left edge, width of Window 1" */
function listed(needs) {
  const groups = [];
  for (const { what, of } of needs.map(needed)) {
    if (groups.at(-1)?.of === of) groups.at(-1).all.push(what);
    else groups.push({ of, all: [what] });
  }
  return groups.map(({ of, all }) => all.join(', ') + (of && ` of ${of}`)).join('; ');
}

/** What is still needed, one line for each wall and one for the job; each leads there. */
function missing(needs) {
  const { plan } = state;
  const groups = new Map();
  const many = state.walls.length > 1;
  for (const need of needs) {
    const wall = many ? wallOf(need.field) : 0;
    groups.set(wall, [...(groups.get(wall) ?? []), need]);
  }
  return html`<div class="needs">${[...groups].map(([wall, list]) => {
    const whose = !many ? 'Still needed' : wall < 0 ? 'The job still needs' : `${state.walls[wall] ?? `Wall ${wall + 1}`} still needs`;
    return way(list[0].field, `${whose}: ${listed(list)}.`);
  })}
    ${others(needs) ? html`<p class="hold">${plan.view && !plan.busy ? 'The other walls are planned.' : 'Planning the other walls.'}</p>` : nothing}</div>`;
}

/** Whether some wall lacks nothing, nor the job. */
const others = (needs) => needs.every((n) => wallOf(n.field) >= 0) && new Set(needs.map((n) => wallOf(n.field))).size < state.walls.length;

const WORKING = html`<p class="hold stead">Working out the plan.</p>`;

/** All of it; `brief` leaves out what to buy. */
export function standing(brief = false) {
  const { plan, needs } = state;
  if (!plan) return WORKING;
  if (plan.broken) return html`<p class="problem" role="alert">${plan.broken}</p>`;
  if (plan.problems.length) {
    return html`<div class="needs"><p class="hold">No plan until this is mended:</p>
      ${plan.problems.map((p) => html`<p class="problem">${prose(p.message)} ${prose(p.fix)}</p>
        ${mend(p.field)}`)}</div>`;
  }
  const lacks = needs.length ? missing(needs) : nothing;
  // As many lines while the plan is worked out as after it: what is below them stands still.
  if (needs.length && !others(needs)) return lacks;
  if (!plan.view) return html`${lacks}${WORKING}`;
  if (plan.busy) return html`${lacks}<p class="hold stead">Working out the new plan. Don’t cut by the old one.</p>`;
  return html`${lacks}${brief ? nothing : toBuy()}`;
}

export const toBuy = () => html`<p class="figure first stead"><span>to buy</span>
  <output class="answer">${prose(state.plan.view.summary.boards)}</output></p>`;

/** How far the search for a better plan is, and the button that ends it; then what is proven. */
export function searching() {
  const { search, view, laptop } = state.plan;
  return html`<section class="search" aria-label="Search">${search
    ? html`<p>${search.proven ? '' : 'Looking for a better plan. '}This one is whole: cut by it if you like. ${prose(search.say)}</p>
      <button type="button" class="plain" ?disabled=${search.kept} @click=${keepPlan}>Keep this plan</button>`
    : html`<p>${view.summary.proven}</p>${better()}`}
    ${laptop ? html`<p class="hint">The laptop worked out this plan, sooner than this phone.</p>` : nothing}</section>`;
}

/** A better plan that waits, since the one on the screen may be cut by. */
export function better() {
  const { next } = state.plan;
  if (!next) return nothing;
  const [what, use] = next.shared ? ['Another phone uses another plan:', 'Use that plan'] : ['A better plan is ready:', 'Use the better plan'];
  return html`<p class="warn"><b>${what}</b> ${prose(next.view.summary.boards)}. What is cut already may not fit it.</p>
    <button type="button" class="plain" @click=${takeNext}>${use}</button>`;
}
