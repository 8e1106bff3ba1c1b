// Side by side: the ways to divide the wall, where one tap uses one, and the stock lengths.

import { html, nothing } from '../vendor/lit-html.js';
import { announce, report, set, state } from '../state.js';
import { callSlow } from '../plan.js';
import { answered } from '../work.js';
import { edit } from '../jobs.js';
import { prose } from '../sketch.js';

async function compare() {
  const { doc } = state.job;
  set({ ways: { doc, busy: true, list: [] } });
  try {
    const answer = await answered(callSlow({ do: 'compare', job: doc }));
    if (state.ways && state.ways.doc === doc) set({ ways: { doc, busy: false, list: answer.ways } });
  } catch (error) {
    set({ ways: null });
    if (error.name !== 'Cancelled') report(error); // the job changed: nobody waits for it
  }
}

async function use(way) {
  await edit('rules', { ...state.job.doc.rules, ...way.rules });
  const list = state.ways.list.map((w) => ({ ...w, now: w === way }));
  set({ ways: { doc: state.job.doc, busy: false, list } });
  announce(`Now: ${way.label}.`);
}

const figures = (way) => [
  ['Narrowest rip', way.least_rip ?? 'none'], ['Slivers', String(way.slivers)],
  ['Box edges near a line', String(way.near)], ['Boards', String(way.boards)],
  [state.plan.view && state.plan.file.cost.by === 'price' ? 'Cost' : 'Length', way.cost],
];

const card = (way) => html`<section class="card way-card ${way.now ? 'now' : ''}">
  <h3>${way.label}</h3>
  ${way.problem ? html`<p class="hold">Can’t be done: ${prose(way.problem)}</p>`
    : html`<dl class="rows">${figures(way).map(([label, text]) => html`<div><dt>${label}</dt><dd>${prose(text)}</dd></div>`)}</dl>`}
  ${way.now ? html`<p class="hold">This is how the job is now.</p>`
    : way.problem ? nothing
      : html`<button type="button" class="main" aria-label="Use this: ${way.label}" @click=${() => use(way).catch(report)}>Use this</button>`}
</section>`;

export function compareView() {
  const ways = state.ways && state.ways.doc === state.job.doc ? state.ways : null;
  if (!ways) return html`<button type="button" class="plain" @click=${compare}>Compare the ways to divide</button>`;
  if (ways.busy) return html`<p class="hold" role="status">Working out every way to divide. This takes a while; the page goes on.</p>`;
  return html`<section class="ways" aria-label="Ways to divide"><h2>Ways to divide</h2>
    <p>Each by a short search, all alike: the plan of a way may cost less.</p>
    <div class="list">${ways.list.map(card)}</div></section>`;
}

/** Plan the job with each stock length alone, each two, and all; shown as they come, cheapest first. */
async function compareStock() {
  const { doc } = state.job;
  const ask = (more) => answered(callSlow({ do: 'stock', job: doc, ...more }));
  set({ buys: { doc, busy: true, list: [] } });
  try {
    const { choices } = await ask({});
    for (const { lines } of choices.length > 1 ? choices : []) {
      const { way } = await ask({ lines });
      if (!state.buys || state.buys.doc !== doc) return;
      const list = [...state.buys.list, way].sort((a, b) => Boolean(a.problem) - Boolean(b.problem) || a.amount - b.amount);
      set({ buys: { doc, busy: true, list } });
    }
    set({ buys: { ...state.buys, busy: false } });
  } catch (error) {
    set({ buys: null });
    if (error.name !== 'Cancelled') report(error); // the job changed: nobody waits for it
  }
}

const stockCard = (way) => html`<section class="card way-card"><h3>${prose(way.label)}</h3>
  ${way.problem ? html`<p class="hold">Can’t be done: ${prose(way.problem)}</p>`
    : html`<dl class="rows"><div><dt>Boards</dt><dd>${prose(way.of)}</dd></div>
      <div><dt>${state.plan.file.cost.by === 'price' ? 'Cost' : 'Length'}</dt><dd>${prose(way.cost)}</dd></div></dl>`}</section>`;

export function stockView() {
  const buys = state.buys && state.buys.doc === state.job.doc ? state.buys : null;
  if (!buys) return html`<button type="button" class="plain" @click=${compareStock}>Compare the stock lengths</button>`;
  if (!buys.busy && !buys.list.length) {
    return html`<p class="hold">There is one stock length. Add the others that you could buy in Survey, each with its price.</p>`;
  }
  return html`<section class="ways" aria-label="Stock lengths"><h2>Which stock length to buy</h2>
    ${buys.busy ? html`<p class="hold" role="status">Planning with each. This takes a while; the page goes on.</p>` : nothing}
    <div class="list">${buys.list.map(stockCard)}</div></section>`;
}
