// Finish: the steps in their order, each with its figures, what it asks first, and its working.

import { html, nothing } from '../vendor/lit-html.js';
import { state } from '../state.js';
import { prose } from '../sketch.js';
import { trade } from '../trade.js';
import { standing } from '../standing.js';
import { asksFirst } from './cautions.js';
import { figures, results, working } from './quick.js';
import { formView, seekGoal } from './survey.js';

export function section(one) {
  return html`<section class="card part" id="part-${one.key}"><h2>${one.title}</h2>
    ${figures(one.figures)}
    ${one.warnings.map((w) => html`<p class="warn"><b>Look out.</b> ${prose(w)}</p>`)}
    ${results(one, asksFirst)}
    ${one.working.length ? working(one) : nothing}</section>`;
}

export function finishScreen() {
  if (state.formOf !== 'finish') return html`<p class="boot">Opening the finish.</p>`;
  const now = trade();
  seekGoal(true);
  return html`
    ${now && now.sections ? html`<div class=${now.old ? 'old' : ''}>${now.sections.map(section)}</div>` : html`${standing(true)}<p class="hold">Working out the finish.</p>`}
    ${formView(state.parts)}
    <div class="pair"><a class="plain" href="#/job/${state.job.key}/print">Print</a></div>`;
}
