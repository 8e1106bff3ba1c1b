// Saw: the cut list, board by board, in the order the wall wants it.

import { html, nothing } from '../vendor/lit-html.js';
import { state } from '../state.js';
import { standing } from './survey.js';
import { cautions } from './quick.js';

const cut = (c) => html`<li class="cut">
  <p class="length"><b class="answer">${c.text}</b> <em>${c.lean}</em></p>
  <p class="where"><b class="tag">${c.id}</b> ${c.where}</p>
  ${c.rip ? html`<p class="rip">${c.rip}</p>` : nothing}</li>`;

export function sawScreen() {
  const { plan } = state;
  if (!plan || !plan.view) return standing();
  const { view } = plan;
  return html`
    ${standing()}
    <p class="bound">${view.summary.bound}</p>
    <section class="fields"><h2>To buy</h2>
      <dl class="rows">${view.buy.map((b) => html`<div><dt>${b.length}</dt><dd>${b.text}</dd></div>`)}</dl></section>
    ${view.warnings.map((w) => html`<p class="warn"><b>Look out.</b> ${w}</p>`)}
    ${cautions(view.cautions)}
    <ol class="boards">${view.boards.map((b) => html`<li class="card">
      <h2>Board ${b.number} <small>of ${view.boards.length}, ${b.stock}</small></h2>
      <ol>${b.cuts.map(cut)}</ol>
      <p class="left">${b.offcut}</p></li>`)}</ol>`;
}
