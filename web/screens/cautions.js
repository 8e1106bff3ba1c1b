// The usual cautions on a job's screens. One that a person has seen to is told in a line from then
// on, and never left out; on paper they all stand in full.

import { html, nothing } from '../vendor/lit-html.js';
import { readLocal, set, state, writeLocal } from '../state.js';

const seenOf = () => readLocal('cautions', {})[state.job.key] ?? [];

function mark(key, seen) {
  const others = seenOf().filter((k) => k !== key);
  writeLocal('cautions', { ...readLocal('cautions', {}), [state.job.key]: seen ? [...others, key] : others });
  set({});
}

function one({ key, text, asks }) {
  if (seenOf().includes(key)) {
    return html`<li class="seen-to"><span>${asks} <b>Seen to.</b></span>
      <button type="button" class="plain" aria-label="Show again: ${asks}" @click=${() => mark(key, false)}>Show</button></li>`;
  }
  return html`<li><p>${text}</p><p><b>${asks}</b></p>
    <button type="button" class="plain" aria-label="Yes, seen to: ${asks}" @click=${() => mark(key, true)}>Yes, seen to</button></li>`;
}

/** What to be sure of before a step. */
export function asksFirst(list) {
  if (!list.length) return nothing;
  return html`<section class="cautions" aria-label="Cautions"><h3>Before this</h3><ul>${list.map(one)}</ul></section>`;
}

/** For paper: all of them, with their questions. */
export const printed = (list) => html`<ul class="listed">${list.map((c) => html`<li>${c.text} <b>${c.asks}</b></li>`)}</ul>`;
