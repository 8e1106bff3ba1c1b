// Saw: the next cut, in the order the wall wants them, or the whole list board by board.

import { html, nothing } from '../vendor/lit-html.js';
import { announce, readLocal, set, state, writeLocal } from '../state.js';
import { better, searching, standing } from '../standing.js';
import { resumeMarks, unsettled } from '../marks.js';
import { planIsOf, workBy } from '../plan.js';
import { beforeHanging } from './layout.js';
import { asks, details, nextCut } from './next.js';
import { asksFirst } from './cautions.js';
import { prose } from '../sketch.js';

const whole = () => readLocal('saw', {})[state.job.key]?.all ?? false;

function showAll(all) {
  writeLocal('saw', { ...readLocal('saw', {}), [state.job.key]: { all } });
  set({});
}

/** Whether something is being asked or marked that a new page would cut short. */
export const midway = () => Boolean(state.calling) || asks() || unsettled();

const UNFINISHED = 'Not searched to the end: another phone may show another plan meanwhile.';

const cut = (c) => html`<li class="cut ${c.state === 'cut' ? 'made' : ''}">
  <p class="length"><b class="answer" aria-label=${c.say}>${prose(c.text)}</b> <em>${c.lean}</em></p>
  <p class="where"><b class="tag">${c.id}</b> ${c.state === 'cut' ? html`<b>cut</b>, ` : nothing}${prose(c.where)}</p>
  ${c.called ? html`<p class="rip">${prose(c.called)}</p>` : nothing}
  ${details(c, state.plan.file)}</li>`;

const card = (b, count) => html`<section class="card board">
  <h2>Board ${b.number} <small>of ${count}, ${b.stock}${b.note ? `, ${b.note}` : ''}</small></h2>
  <ol>${b.cuts.map(cut)}</ol>
  <p class="left">Left over: ${b.offcut}</p></section>`;

let called = ''; // the called cut that was told last

/** Tell of a length that another phone called. */
function tell(queue) {
  const head = queue[0]?.called ? queue[0].head : '';
  if (head && head !== called) announce(head);
  called = head;
}

export function sawScreen() {
  const { plan } = state;
  resumeMarks();
  if (!plan || !plan.view) return standing();
  const { boards, buy, queue, summary, warnings } = plan.view;
  if (plan.busy && !planIsOf(state.job.doc)) return standing();
  if (!plan.busy) {
    workBy(plan.file);
    tell(queue);
  }
  const all = whole();
  return html`
    ${all && !plan.busy ? boards.map((b) => card(b, boards.length)) : nextCut()}
    ${plan.next && !plan.busy ? better() : nothing}
    <button type="button" class="plain" aria-pressed=${all} @click=${() => showAll(!all)}>Whole list</button>
    ${warnings.map((w) => html`<p class="warn"><b>Look out.</b> ${prose(w)}</p>`)}
    ${beforeHanging()}
    ${asksFirst(plan.view.cautions)}
    <p><b>${plan.view.hang}</b></p>
    ${standing()}
    ${plan.busy ? nothing : html`${plan.search ? html`<p class="hold">${UNFINISHED}</p>${searching()}` : html`<p class="hold">${summary.proven}</p>`}
      <p class="bound">${prose(summary.bound)}</p>
      <section class="fields"><h2>To buy</h2>${summary.fetch ? html`<p>${summary.fetch}</p>` : nothing}
        <ul class="rows">${buy.map((b) => html`<li>${prose(b.text)}</li>`)}</ul></section>`}`;
}
