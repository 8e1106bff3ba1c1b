// Take-off: all there is to buy, with its cost; each line is ticked off in the store.

import { html, nothing } from '../vendor/lit-html.js';
import { announce, report, state } from '../state.js';
import { prose } from '../sketch.js';
import { edit } from '../jobs.js';
import { takeOff } from '../trade.js';
import { standing } from '../standing.js';
import { results, working } from './quick.js';
import { asksFirst } from './cautions.js';
import { formView, seekGoal } from './survey.js';

const bought = () => state.job.doc.done?.bought ?? [];

/** Whether all of a line is bought, as the job stands now: calc tells the rest of it later. */
const ticked = (item) => bought().some((b) => b.item === item.key && b.count >= item.count);

/** Tick a line off, or put it back on the list. */
async function tick(item) {
  const list = bought();
  const at = list.findIndex((b) => b.item === item.key);
  const was = ticked(item);
  if (was) {
    for (let i = list.length - 1; i >= 0; i -= 1) { // two phones may have ticked it off
      if (list[i].item === item.key) await edit(`done.bought[${i}]`, undefined);
    }
  }
  else if (at >= 0) await edit(`done.bought[${at}].count`, item.count);
  else await edit(`done.bought[${list.length}]`, { item: item.key, count: item.count });
  announce(`${item.what}: ${was ? 'to buy' : 'bought'}.`);
}

const line = (item) => html`<button type="button" class="field tick" aria-pressed=${ticked(item)} @click=${() => tick(item).catch(report)}>
  <span class="box" aria-hidden="true">${ticked(item) ? '✓' : ''}</span>
  <span class="name"><b>${prose(item.amount)}</b> ${prose(item.what)}${item.note ? html`<small>${prose(item.note)}</small>` : nothing}
    ${item.told ? html`<small class="told">▲ ${prose(item.told)}</small>` : nothing}</span>
  <b class="value">${item.cost || html`<i>no price</i>`}</b></button>`;

/** The shopping list as paper has it. */
export const shoppingTable = (off) => html`<table class="shop"><caption>Shopping list</caption>
  <thead><tr>${['', 'What', 'Price of one', 'Cost'].map((c) => html`<th scope="col">${c}</th>`)}</tr></thead>
  ${off.groups.map((g) => html`<tbody><tr class="of"><th colspan="4" scope="rowgroup">${g.title}</th></tr>
    ${g.items.map((i) => html`<tr><td>${ticked(i) ? '☑' : '☐'}</td><td><b>${prose(i.amount)}</b> ${prose(i.what)}${i.note ? html`<div>${prose(i.note)}</div>` : nothing}</td>
      <td>${i.price}</td><td>${i.cost}</td></tr>`)}</tbody>`)}
  <tbody>${off.totals.map(([label, text]) => html`<tr class="of"><th colspan="3" scope="row">${label}</th><td>${text}</td></tr>`)}</tbody></table>`;

export function takeOffScreen() {
  if (state.formOf !== 'take-off') return html`<p class="boot">Opening the take-off.</p>`;
  const now = takeOff();
  seekGoal(true);
  const off = now?.got;
  return html`
    ${off ? html`<section class="result ${now.old ? 'old' : ''}" aria-label="Cost">
        <p class="figure first"><span>${off.totals.at(-1)[0]}</span><output class="answer">${off.totals.at(-1)[1]}</output></p>
        ${off.totals.slice(0, -1).map(([label, text]) => html`<p class="figure"><span>${label}</span><b>${text}</b></p>`)}
        ${off.unpriced ? html`<p class="hold">${prose(off.unpriced)}</p>` : nothing}
        ${off.left ? html`<p><b>${off.left}</b></p>` : nothing}</section>
      ${off.waits ? html`<p class="hold">${off.waits}</p>` : nothing}
      ${off.groups.map((g) => html`<section class="fields"><h2>${g.title}</h2>${g.items.map(line)}</section>`)}
      ${results(off.answer, asksFirst)}${working(off.answer)}`
    : html`${standing(true)}${now ? nothing : html`<p class="hold">Working out the take-off.</p>`}`}
    ${formView(state.parts)}
    <div class="pair"><a class="plain" href="#/job/${state.job.key}/print">Print</a></div>`;
}
