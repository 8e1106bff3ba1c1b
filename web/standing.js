// Where the plan stands, on every screen of a job: what must be mended, what is
// still needed and on which wall, or what to buy.

import { html, nothing } from './vendor/lit-html.js';
import { report, set, state } from './state.js';
import { wallOf } from './doc.js';
import { prose } from './sketch.js';
import { pickWall, wallAt } from './walls.js';
import { loadFields } from './work.js';

/** Go to a field in Survey, of whichever wall it is. */
export function goTo(path) {
  const { key, screen } = state.route;
  const wall = Math.max(wallOf(path), 0);
  set({ goal: path });
  if (screen !== 'survey') location.hash = `#/job/${key}/survey/${wall + 1}`;
  else if (wallOf(path) >= 0) pickWall(wall, () => loadFields(state.job.doc).catch(report));
}

const way = (path, words) => html`<button type="button" class="plain way" @click=${() => goTo(path)}>${words}</button>`;

/** What a needed field is called: by its label where it is on the screen's wall or like one there. */
function needed({ field, message }) {
  const like = field.replace(/^walls\[\d+\]/, `walls[${state.formWall}]`);
  const asked = /\].*\[/.test(field) ? null : state.fields.find((f) => f.path === like);
  return asked ? asked.label.toLowerCase() : message.replace(/\.$/, '');
}

/** What is still needed, one line for each wall and one for the job. */
function missing(needs, some) {
  const groups = new Map();
  for (const need of needs) {
    const wall = wallOf(need.field);
    groups.set(wall, [...(groups.get(wall) ?? []), need]);
  }
  const many = state.walls.length > 1;
  const here = state.route.screen === 'survey' ? wallAt(state.job.doc) : -1;
  return html`<div class="needs">${[...groups].map(([wall, list]) => {
    const whose = wall >= 0 && many ? `${state.walls[wall] ?? `Wall ${wall + 1}`} still needs` : 'Still needed';
    const words = `${whose}: ${list.map(needed).join(', ')}.`;
    return wall === here || wall < 0 ? html`<p class="hold">${words}</p>` : way(list[0].field, words);
  })}
    ${some ? html`<p class="hold">The other walls are planned.</p>` : nothing}</div>`;
}

/** All of it; `brief` leaves out what to buy. */
export function standing(brief = false) {
  const { plan } = state;
  if (!plan) return html`<p class="hold">Working out the plan.</p>`;
  if (plan.broken) return html`<p class="problem" role="alert">${plan.broken}</p>`;
  if (plan.problems.length) {
    return html`<div class="needs"><p class="hold">No plan until this is mended:</p>
      ${plan.problems.map((p) => html`<p class="problem">${prose(p.message)} ${prose(p.fix)}</p>
        ${p.field ? way(p.field, 'Go there') : nothing}`)}</div>`;
  }
  const needs = plan.needs.length ? missing(plan.needs, Boolean(plan.view)) : nothing;
  if (!plan.view) return plan.needs.length ? needs : html`<p class="hold">Working out the plan.</p>`;
  if (plan.busy) return html`<p class="hold">The job changed: working out the new plan. Don’t cut by the old one.</p>`;
  return html`${needs}${brief ? nothing : toBuy()}`;
}

export const toBuy = () => html`<p class="figure first"><span>to buy</span>
  <output class="answer">${prose(state.plan.view.summary.boards)}</output></p>
  ${state.plan.laptop ? html`<p class="hint">The laptop worked out this plan, sooner than this phone.</p>` : nothing}`;
