// The next cut at the saw, in large figures, and what can be said of it: cut, too short,
// the board is no good. Two cuts after it stand below, so that the next board can be fetched.

import { html, nothing } from '../vendor/lit-html.js';
import { set, state, writeLocal, readLocal } from '../state.js';
import { card as cardOf } from '../drawn.js';
import { markCut, markRejected, markShort, settledCuts, stillToCut, unsettled } from '../marks.js';
import { openPad } from '../pad.js';
import { readLength } from '../work.js';
import { prose } from '../sketch.js';
import { cutsOf } from './card.js';

const AFTER = 3; // cuts shown below the next one
let asking = ''; // the piece whose board is to be rejected, until that is confirmed

/** Whether it is asked if a board is no good. */
export const asks = () => asking !== '';

/** What the keypad that asks how long a short piece is needs to know. */
export function shortPad() {
  const { key, row } = readLocal('short', {});
  if (!row || !state.job || state.job.key !== key) return null;
  const unit = state.job.doc.unit || 'in';
  return {
    label: `Piece ${row.id} came short: its length`,
    hint: 'measure what it has',
    kind: 'length',
    unit,
    now: null,
    canUndo: false,
    undo: () => {},
    next: () => null,
    commit: (text) => { if (text !== '') markShort(row, text); },
    async check(text) {
      if (text === null || text === '') return { problem: null, note: `It was to be ${row.text} ${row.lean}` };
      const seen = await readLength(text, unit);
      if (seen.problem) return { problem: seen.problem, note: seen.problem.message };
      return { problem: null, figure: { label: 'has', text: seen.text, lean: seen.lean }, say: seen.say };
    },
  };
}

function askShort(row) {
  writeLocal('short', { key: state.job.key, row });
  openPad('job:' + state.job.key, 'mark:short');
}

function ask(id) {
  asking = id;
  set({});
}

function reject(row) {
  markRejected(row);
  ask('');
}

const voice = () => globalThis.speechSynthesis;

function readAloud(words) {
  voice().cancel();
  voice().speak(new SpeechSynthesisUtterance(words));
}

/** What a cut is besides its length. */
export const details = (c, file) => html`
  ${c.lengths.map(([label, text]) => html`<p>${label}: <b>${prose(text)}</b></p>`)}
  ${c.ends.map((end) => html`<p class="rip">${prose(end)}</p>`)}
  ${c.rip ? html`<p class="rip">${prose(c.rip)}</p>` : nothing}
  ${c.cuts.length || c.scribe.length ? shaped(c, file) : nothing}`;

/** What is cut out of a piece or off its edges, and its sketch. */
function shaped({ id, cuts, scribe }, file) {
  const seen = cardOf(file, id).value;
  return cutsOf({ cuts, scribe, sketch: seen && seen.sketch });
}

function buttons(row) {
  if (asking === row.id) {
    return html`<div class="warn" role="alertdialog" aria-label="Board ${row.board} is no good?">
      <p><b>Board ${row.board} is no good?</b> What is cut from it stays; nothing more is cut from it, and
        the plan takes another board.</p>
      <div class="marks"><button type="button" class="main" @click=${() => reject(row)}>Board ${row.board} is no good</button>
        <button type="button" class="plain" @click=${() => ask('')}>Keep the board</button></div></div>`;
  }
  const cut = () => {
    markCut(row);
    scrollTo(0, 0); // to the figures of the next one
  };
  return html`<button type="button" class="main cut-it" @click=${cut}>Cut</button>
    <div class="marks">
    <button type="button" class="plain" @click=${() => askShort(row)}>Too short</button>
    <button type="button" class="plain" @click=${() => ask(row.id)}>Board is no good</button>
    ${voice() ? html`<button type="button" class="plain wide" @click=${() => readAloud(row.speak)}>Read aloud</button>` : nothing}</div>`;
}

const nextCard = (row, file) => html`<section class="card board next ${row.called ? 'call' : ''}" aria-label="Next cut">
  <h2>${prose(row.head)}</h2>
  <p class="from"><b>${row.on}</b></p>
  <p class="length"><b class="answer" aria-label=${row.say}>${prose(row.text)}</b> <em>${row.lean}</em></p>
  ${row.called ? html`<p class="rip">${prose(row.called)}</p>` : nothing}
  <p class="where"><b class="tag">${row.id}</b> ${prose(row.where)}</p>
  ${details(row, file)}
  ${buttons(row)}</section>`;

/** A cut in one line. */
const brief = (row) => html`<li><b class="tag">${row.id}</b> <b class="nb">${row.text}</b> ${row.lean}
  <span>${row.on}</span></li>`;

/** The cut that is next, those after it, and how many are made; while the plan is worked out
 * anew, only what is settled whatever it will be. */
export function nextCut() {
  const { plan, job } = state;
  const rows = stillToCut(plan.view.queue, job.doc);
  if (plan.busy || unsettled()) {
    const settled = settledCuts(rows, job.doc).slice(0, AFTER);
    return html`<p class="hold stead" role="status">Working out the plan after what was marked. Wait with the next cut.</p>
      ${settled.length ? html`<section class="fields"><h2>These lengths stay as they are</h2>
        <ul class="rows">${settled.map((row) => html`<li><b class="tag">${row.id}</b> <b class="nb">${row.text}</b> ${row.lean}</li>`)}</ul></section>` : nothing}`;
  }
  const cut = plan.file.pieces.length - rows.length;
  const made = html`<p class="made">${cut} of ${plan.file.pieces.length} cut</p>`;
  if (!rows.length) return html`${made}<p class="hold stead">Every piece is cut.</p>`;
  const [row, ...rest] = rows;
  return html`${nextCard(row, plan.file)}${made}
    ${rest.length ? html`<section class="fields"><h2>After it</h2>
      <ul class="rows after">${rest.slice(0, AFTER).map(brief)}</ul></section>` : nothing}`;
}
