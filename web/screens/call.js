// A length called from the wall: the course, which end of it, then the length on the keypad.
// It goes to the top of the saw's list, on every phone.

import { html, nothing } from '../vendor/lit-html.js';
import { readLocal, set, state, writeLocal } from '../state.js';
import { callable, callCheck } from '../drawn.js';
import { sendCall, stillToCut } from '../marks.js';
import { openPad } from '../pad.js';
import { prose } from '../sketch.js';

/** Open the sheet on a wall of the plan, from 1; of a piece where its id is given, else of the
 * next one that is not cut. */
export function openCall(wall, id = '') {
  const { file } = state.plan;
  const piece = file.pieces.find((p) => p.id === id);
  const numbers = coursesOf(file, wall);
  const next = stillToCut(state.plan.view.queue, state.job.doc).map((row) => file.pieces.find((p) => p.id === row.id));
  const course = (piece ?? next.find((p) => p.wall === wall))?.course ?? numbers[0];
  set({ card: null, calling: { wall, course, id, sent: '' } });
  requestAnimationFrame(() => document.querySelector('.call-sheet .close')?.focus());
}

const coursesOf = (file, wall) => file.walls[wall - 1].courses.map((c) => c.number).sort((a, b) => a - b);

function closeCall() {
  set({ calling: null });
}

/** The end that is asked for: the one picked, else the first that is not cut. */
const chosen = (ends, id) => ends.find((end) => end.id === id) ?? ends.find((end) => !end.cut) ?? ends[0];

function keyIn(end) {
  const { wall, course } = state.calling;
  const { file } = state.plan;
  const piece = file.pieces.find((p) => p.id === end.id);
  const board = file.boards.find((b) => b.number === piece.board);
  const mates = file.pieces.filter((p) => p.board === piece.board);
  // What calc needs to judge the length is little, and outlives a reload in mid-entry.
  const plan = { format: file.format, unit: file.unit, rules: file.rules, walls: [], pieces: mates, boards: [board] };
  writeLocal('call', { key: state.job.key, wall, course, end, plan });
  openPad('job:' + state.job.key, 'mark:call');
}

/** What the keypad that a called length is keyed on needs to know. */
export function callPad() {
  const { key, course, end, plan } = readLocal('call', {});
  if (!plan || !state.job || state.job.key !== key) return null;
  let reads = ''; // what was keyed, as a tape reads it
  return {
    label: `Course ${course}, ${end.label}: cut to`,
    hint: `planned ${end.planned}`,
    kind: 'length',
    unit: plan.unit,
    now: null,
    canUndo: false,
    undo: () => {},
    next: () => null,
    commit: (text) => {
      if (text === '') return;
      const words = `Sent to the saw: ${reads}, course ${course}, ${end.label}.`;
      sendCall(end.place, text, words);
      if (state.calling) set({ calling: { ...state.calling, sent: words } });
    },
    async check(text) {
      if (text === null || text === '') return { problem: null, note: `Planned ${end.planned}` };
      const answer = await callCheck(plan, end.id, text);
      if (!answer.ok) return { problem: answer.problems[0], note: answer.problems[0].message };
      reads = [answer.text, answer.lean].filter(Boolean).join(' ');
      return { problem: null, note: answer.note, say: `${answer.say}. ${answer.note}` };
    },
  };
}

/** The sheet; nothing where it is not open. */
export function callSheet() {
  if (!state.calling || !state.plan?.file) return nothing;
  const { wall, course, id, sent } = state.calling;
  const { file, busy } = state.plan;
  const numbers = coursesOf(file, wall);
  const pick = (patch) => set({ calling: { ...state.calling, ...patch, sent: '' } });
  const at = numbers.indexOf(course);
  const ends = busy ? null : callable(file, wall, course).value;
  const end = ends && chosen(ends, id);
  return html`<section class="sheet piece-card call-sheet" role="dialog" aria-modal="true" aria-label="Call a cut">
    <div class="sheet-bar"><button type="button" class="bar-key close" @click=${closeCall}>Close</button>
      <h2>Call a cut</h2></div>
    <div class="card-read">
      ${sent ? html`<p class="hold" role="status">${prose(sent)}</p>` : nothing}
      <p class="asked">Course</p>
      <div class="walls" role="group" aria-label="Course">
        <button type="button" class="step" aria-label="Course before" ?disabled=${at <= 0} @click=${() => pick({ course: numbers[at - 1], id: '' })}>−</button>
        <select aria-label="Course" @change=${(event) => pick({ course: numbers[event.target.selectedIndex], id: '' })}>
          ${numbers.map((n) => html`<option .selected=${n === course}>Course ${n}</option>`)}</select>
        <button type="button" class="step" aria-label="Next course" ?disabled=${at === numbers.length - 1} @click=${() => pick({ course: numbers[at + 1], id: '' })}>+</button></div>
      ${ends ? html`<p class="asked">Which end</p>
        <div class="marks" role="group" aria-label="End">${ends.map((e) => html`<button type="button" class="plain" aria-pressed=${e === end}
          @click=${() => pick({ id: e.id })}>${e.label}<small>${e.id}${e.cut ? ', cut' : ''}</small></button>`)}</div>
        <p>Planned: <b>${prose(end.planned)}</b>${end.cut ? html`. <b>Piece ${end.id} is cut already.</b> Mark it too short at the saw first, if it is.` : nothing}</p>`
    : html`<p class="hold">${busy ? 'Working out the plan.' : 'Looking it up.'}</p>`}</div>
    <div class="pair"><button type="button" class="main" ?disabled=${!end || end.cut} @click=${() => keyIn(end)}>Key the length</button></div>
  </section>`;
}

/** Escape closes the sheet. */
export function callKeydown(event) {
  if (state.calling && event.key === 'Escape') closeCall();
}
