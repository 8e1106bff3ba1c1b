// The card of one piece: a sheet over the drawing, like the keypad's.

import { html, nothing } from '../vendor/lit-html.js';
import { announce, set, state } from '../state.js';
import { card } from '../drawn.js';
import { prose, sketch } from '../sketch.js';
import { workBy } from '../plan.js';
import { openCall } from './call.js';

export function openCard(file, id) {
  workBy(file);
  set({ card: { file, id }, picked: id });
  card(file, id).promise.then(({ say }) => announce(say), () => {}); // told by drawn.js
  requestAnimationFrame(() => document.querySelector('.piece-card .close')?.focus());
}

export function closeCard() {
  set({ card: null });
}

/** Cut by cut, then the sketch: on the card and beside the saw. */
export const cutsOf = ({ cuts, scribe, sketch: drawing }) => html`
  ${cuts.length + scribe.length ? html`<ol class="cuts">${[...cuts, ...scribe].map((c) => html`<li>${prose(c)}</li>`)}</ol>` : nothing}
  ${drawing ? sketch(drawing) : nothing}`;

/** Whether the wall may call the piece's length: it ends at an end of its run, and is not cut. */
function ends(file, id) {
  const { left_end: left, right_end: right, state: now } = file.pieces.find((p) => p.id === id);
  return state.plan.file === file && now !== 'cut' && (left.kind !== 'joint' || right.kind !== 'joint');
}

/** The sheet; nothing where no piece is open. */
export function cardSheet() {
  if (!state.card) return nothing;
  const { file, id } = state.card;
  const seen = card(file, id).value;
  const { wall } = file.pieces.find((p) => p.id === id);
  const ids = file.pieces.filter((p) => p.wall === wall).map((p) => p.id);
  const at = ids.indexOf(id);
  return html`<section class="sheet piece-card" role="dialog" aria-modal="true" aria-label="Piece ${id}">
    <div class="sheet-bar">
      <button type="button" class="bar-key close" @click=${closeCard}>Close</button>
      <h2>${seen ? prose(seen.title) : `Piece ${id}`}</h2></div>
    <div class="card-read">${seen ? html`
      <dl class="rows">${seen.rows.map(([label, text, lean], i) => html`<div><dt>${label}</dt>
        <dd>${i === 0 ? html`<b class="answer">${prose(text)}</b>` : prose(text)} ${lean ? html`<em>${lean}</em>` : nothing}</dd></div>`)}</dl>
      ${cutsOf(seen)}` : html`<p class="hold">Looking it up.</p>`}</div>
    <div class="pair">
      ${ends(file, id) ? html`<button type="button" class="plain" @click=${() => openCall(wall, id)}>Call its length</button>` : nothing}
      <button type="button" class="plain" ?disabled=${at === 0} @click=${() => openCard(file, ids[at - 1])}>Piece before</button>
      <button type="button" class="plain" ?disabled=${at === ids.length - 1} @click=${() => openCard(file, ids[at + 1])}>Next piece</button></div>
  </section>`;
}

/** Escape closes the card. */
export function cardKeydown(event) {
  if (state.card && event.key === 'Escape') closeCard();
}
