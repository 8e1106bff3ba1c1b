// Saw: the cut list, one board at a time in the order the wall wants them, or
// the whole list. Which board the saw is at is this phone's own, not the job's.

import { html, nothing } from '../vendor/lit-html.js';
import { announce, readLocal, set, state, writeLocal } from '../state.js';
import { card as cardOf } from '../drawn.js';
import { better, searching, standing } from '../standing.js';
import { workBy } from '../plan.js';
import { cutsOf } from './card.js';
import { cautions } from './quick.js';
import { prose } from '../sketch.js';

const place = () => ({ board: 0, all: false, plan: '', ...readLocal('saw', {})[state.job.key] });

/** Keep where the saw is, and in which plan. */
function go(patch) {
  const plan = markOf(state.plan.view.boards);
  writeLocal('saw', { ...readLocal('saw', {}), [state.job.key]: { ...place(), ...patch, plan } });
  set({});
}

/** Whether the saw is between the first board and the last of the open job. */
export function midway() {
  const { board } = place();
  const boards = state.plan?.view?.boards;
  return board > 0 && !(boards && board >= boards.length - 1);
}

const UNFINISHED = 'Not searched to the end: another phone may show another plan meanwhile.';

/** What tells one plan's boards from another's. */
const markOf = (boards) => boards.map((b) => b.cuts.map((c) => [c.id, c.text, c.lean, c.rip, ...c.ends, ...c.cuts].join()).join()).join(';');

const cut = (c) => html`<li class="cut">
  <p class="length"><b class="answer" aria-label=${c.say}>${prose(c.text)}</b> <em>${c.lean}</em></p>
  <p class="where"><b class="tag">${c.id}</b> ${prose(c.where)}</p>
  ${c.lengths.map(([label, text]) => html`<p>${label}: <b>${prose(text)}</b></p>`)}
  ${c.ends.map((end) => html`<p class="rip">${prose(end)}</p>`)}
  ${c.rip ? html`<p class="rip">${prose(c.rip)}</p>` : nothing}
  ${c.cuts.length || c.scribe.length ? shaped(c) : nothing}</li>`;

/** What is cut out of a piece or off its edges, and its sketch. */
function shaped({ id, cuts, scribe }) {
  const seen = cardOf(state.plan.file, id).value;
  return cutsOf({ cuts, scribe, sketch: seen && seen.sketch });
}

const card = (b, count) => html`<section class="card board">
  <h2>Board ${b.number} <small>of ${count}, ${b.stock}</small></h2>
  <ol>${b.cuts.map(cut)}</ol>
  <p class="left">Left over: ${b.offcut}</p></section>`;

export function sawScreen() {
  const { plan } = state;
  if (!plan || !plan.view || plan.busy) return standing();
  workBy(plan.file);
  const { boards, buy, summary, warnings } = plan.view;
  const { all, board, plan: then } = place();
  const changed = board > 0 && then !== markOf(boards);
  const at = Math.min(board, boards.length - 1);
  const step = (to) => {
    go({ board: to });
    announce(`Board ${to + 1} of ${boards.length}. ${boards[to].cuts.map((c) => c.say).join('; ')}`);
  };
  return html`
    ${plan.next ? better() : html`<p class="hold stead">${plan.search ? UNFINISHED : summary.proven}</p>`}
    ${changed ? html`<p class="warn"><b>Look out.</b> The plan has changed since board ${board + 1} was cut
      by the old one. Check what is cut already against this list.</p>` : nothing}
    ${all ? boards.map((b) => card(b, boards.length)) : card(boards[at], boards.length)}
    ${all ? nothing : html`<div class="pair">
      <button type="button" class="plain" ?disabled=${at === 0} @click=${() => step(at - 1)}>Back</button>
      <button type="button" class="main" ?disabled=${at === boards.length - 1} @click=${() => step(at + 1)}>Next board</button></div>`}
    <button type="button" class="plain" aria-pressed=${all} @click=${() => go({ all: !all })}>Whole list</button>
    ${cautions(plan.view.cautions)}
    ${warnings.map((w) => html`<p class="warn"><b>Look out.</b> ${prose(w)}</p>`)}
    <p><b>${plan.view.hang}</b></p>
    ${standing()}${searching()}<p class="bound">${prose(summary.bound)}</p>
    <section class="fields"><h2>To buy</h2>
      <ul class="rows">${buy.map((b) => html`<li>${prose(b.text)}</li>`)}</ul></section>`;
}
