// Finish: the steps in their order, each shut but for its answer and what to look out for, until
// it is touched: then its figures, what it asks first, and its working.

import { html, nothing } from '../vendor/lit-html.js';
import { set, state } from '../state.js';
import { prose } from '../sketch.js';
import { steps } from '../trade.js';
import { standing } from '../standing.js';
import { asksFirst } from './cautions.js';
import { figures, results, working } from './quick.js';
import { formView, seekGoal } from './survey.js';

/** What a step answers, in a line. */
const inShort = ({ figures: all, rows }) => {
  const said = all.slice(0, 2).map((f) => `${f.label.toLowerCase()} ${[f.text, f.lean].filter(Boolean).join(' ')}`);
  return said.length ? said.join(', ') : rows.slice(0, 1).map(([label, text]) => `${label.toLowerCase()}: ${text}`).join('');
};

function step(one) {
  const name = `step ${one.key}`;
  const open = state.item === name;
  return html`<div class="item ${open ? 'open' : ''}" id="step-${one.key}">
    <button type="button" class="field" aria-expanded=${open} @click=${() => set({ item: open ? '' : name })}>
      <span class="name"><b>${one.title}</b>${open ? nothing : html`<small>${prose(inShort(one))}</small>`}</span>
      <b class="value"><i>${open ? 'close' : 'open'}</i></b></button>
    ${one.warnings.map((w) => html`<p class="warn"><b>Look out.</b> ${prose(w)}</p>`)}
    ${open ? html`${figures(one.figures)}${asksFirst(one.cautions)}${results({ ...one, cautions: [] })}${working(one)}` : nothing}</div>`;
}

export function finishScreen() {
  if (state.formOf !== 'finish') return html`<p class="boot">Opening the finish.</p>`;
  const now = steps();
  seekGoal(true);
  return html`
    ${now?.got ? html`<section class="fields ${now.old ? 'old' : ''}" aria-label="Steps"><h2>The work, step by step</h2>${now.got.map(step)}</section>` : html`${standing(true)}${now ? nothing : html`<p class="hold">Working out the finish.</p>`}`}
    ${formView(state.parts)}
    <div class="pair"><a class="plain" href="#/job/${state.job.key}/print">Print</a></div>`;
}
