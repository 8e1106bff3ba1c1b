// Layout: one wall's elevation as calc draws it, its figures as tables, and the
// ways to divide it. The drawing pans inside its own box, by finger and by buttons.

import { html, nothing } from '../vendor/lit-html.js';
import { report, set, state } from '../state.js';
import { drawAhead, elevation, nodeOf } from '../drawn.js';
import { prose } from '../sketch.js';
import { resumeMarks } from '../marks.js';
import { numberOf } from '../plan.js';
import { pickWall, wallAt, wallPicker } from '../walls.js';
import { searching, standing, toBuy } from '../standing.js';
import { lastSteps } from '../trade.js';
import { openCall } from './call.js';
import { openCard } from './card.js';
import { compareView, stockView } from './compare.js';
import { wallTables } from './tables.js';

const COURSE_PX = 30; // a course's height where its words are readable
const ZOOMS = [0.5, 0.7, 1, 1.4, 2];
const BOX_TALL = 0.62; // of the screen's height, as .drawing in style.css
const TABLES_MS = 120; // what a drawing takes to come up
const LEAST_SCALE = 10; // px a metre that calc draws at
const MOST_SCALE = 2000;

const box = () => document.querySelector('.drawing');

/** How a wall is to be drawn: px a metre, and with words where there is room for them. */
function how(file, number) {
  const px = (a, mm) => Math.min(Math.max(Math.floor((1000 * a) / mm), LEAST_SCALE), MOST_SCALE);
  if (state.whole) {
    const { clientWidth, clientHeight } = document.documentElement;
    const { width, height } = file.walls[number - 1];
    const scale = Math.min(px(Math.min(clientWidth, 1200) - 40, width), px(BOX_TALL * clientHeight - 24, height));
    return { scale, labels: false };
  }
  return { scale: px(COURSE_PX * ZOOMS[state.zoom], file.board.face), labels: state.zoom >= 1 };
}

/** Zoom about the middle of what is in sight. */
function zoom(step) {
  const { scrollLeft, scrollTop, clientWidth, clientHeight, scrollWidth, scrollHeight } = box();
  keepMiddle = {
    across: (scrollLeft + clientWidth / 2) / scrollWidth, down: (scrollTop + clientHeight / 2) / scrollHeight,
  };
  set({ zoom: Math.min(Math.max(state.zoom + step, 0), ZOOMS.length - 1), whole: false });
}

/** All of the wall at once; back from there, where the first course goes. */
function showWhole(whole) {
  keepMiddle = { across: 0, down: state.job.doc.rules?.start === 'ceiling' ? 0 : 1 };
  set({ whole });
}

let keepMiddle = null; // where to look in the next drawing of the same wall
let seen = { file: null, number: 0, node: null }; // the drawing shown last
let shownIn = null; // and its box

/** Put a drawing that is new in the box where the eye was, or where the first course goes. */
function place(file, number, node) {
  const before = seen;
  seen = { file, number, node };
  requestAnimationFrame(() => {
    const b = box();
    if (!b || (b === shownIn && before.node === node)) return;
    if (b === shownIn && before.number === number && before.file === file) {
      if (!keepMiddle) return;
      const { across, down } = keepMiddle;
      b.scrollTo(across * b.scrollWidth - b.clientWidth / 2, down * b.scrollHeight - b.clientHeight / 2);
    } else b.scrollTo(0, state.job?.doc.rules?.start === 'ceiling' ? 0 : b.scrollHeight);
    keepMiddle = null;
    shownIn = b;
  });
}

/** A finger, a mouse or Enter on a piece opens its card. */
function touch(event, file) {
  if (event.type === 'keydown' && event.key !== 'Enter') return;
  const piece = event.target.closest('[data-piece]');
  if (piece) openCard(file, piece.dataset.piece);
}

function drawing(file, number) {
  const picked = file.pieces.find((p) => p.id === state.picked && p.wall === number);
  const drawn = elevation(file, number, { ...how(file, number), select: picked ? picked.id : null }).value
    ?? (picked && elevation(file, number, how(file, number)).value);
  if (!drawn) return seen.number === number && seen.file === file ? seen.node : html`<p class="hold">Drawing the wall.</p>`;
  const node = nodeOf(drawn);
  node.classList.toggle('fit', state.whole);
  place(file, number, node);
  return node;
}

const pan = (dx, dy) => box().scrollBy({ left: dx * box().clientWidth * 0.6, top: dy * box().clientHeight * 0.6 });

let ahead = null; // {file, how} that the other walls are being drawn for

/** Have the other walls drawn before they are asked for. */
function prepare(file, number) {
  const mine = `${state.zoom} ${state.whole}`;
  if (ahead && ahead.file === file && ahead.how === mine) return;
  ahead = { file, how: mine };
  const others = file.walls.map((w, i) => i + 1).filter((n) => n !== number);
  others.sort((a, b) => Math.abs(a - number) - Math.abs(b - number));
  drawAhead(file, others, (n) => how(file, n)).catch(report);
}

const button = (label, name, run, off = false) => html`<button type="button" aria-label=${name}
  ?disabled=${off} @click=${run}>${label}</button>`;

function wallView(file, number) {
  const { whole } = state;
  return html`
    <div class="controls">
      ${button('−', 'Smaller', () => zoom(-1), !whole && state.zoom === 0)}
      ${button('+', 'Larger', () => zoom(1), !whole && state.zoom === ZOOMS.length - 1)}
      <button type="button" class="wide" aria-pressed=${whole} @click=${() => showWhole(!whole)}>Whole wall</button></div>
    <div class="drawing" tabindex="0" aria-label="Drawing" @click=${(event) => touch(event, file)}
      @keydown=${(event) => touch(event, file)}>${drawing(file, number)}</div>
    <div class="controls">
      ${button('←', 'Move left', () => pan(-1, 0), whole)}${button('→', 'Move right', () => pan(1, 0), whole)}
      ${button('↑', 'Move up', () => pan(0, -1), whole)}${button('↓', 'Move down', () => pan(0, 1), whole)}
      ${piecePicker(file, number)}</div>
    ${state.zoom < 1 || whole ? html`<p>Labels show when the drawing is larger.</p>` : nothing}`;
}

/** Every piece of the wall by its name, for who would rather not aim. */
function piecePicker(file, number) {
  const ids = file.pieces.filter((p) => p.wall === number).map((p) => p.id);
  return html`<select class="pieces" aria-label="Card of a piece" @change=${(event) => {
    openCard(file, event.target.value);
    event.target.selectedIndex = 0;
  }}><option disabled .selected=${true}>Piece…</option>${ids.map((id) => html`<option>${id}</option>`)}</select>`;
}

let tabled = { file: null, number: 0 }; // the wall whose figures are shown
let later = 0;

/** The wall's figures, once its drawing is on the screen. */
function tables(file, view, number) {
  if (tabled.file === file && tabled.number === number) return html`<div class="table">${wallTables(view, number)}</div>`;
  clearTimeout(later);
  later = setTimeout(() => {
    tabled = { file, number };
    set({});
  }, TABLES_MS);
  return html`<p class="hold">Writing the figures.</p>`;
}

/** The plan beside the rules of thumb. */
const beside = (view) => html`<section class="fields"><h2>Beside the rules of thumb</h2><dl class="rows">
  ${view.compare.map((row) => html`<div><dt>${row.label}</dt><dd>${prose(row.boards)}<br>${prose(row.cost)}</dd></div>`)}</dl></section>`;

/** What stands against hanging, beside the layout: nails, boxes, moisture. */
export function beforeHanging() {
  const found = (lastSteps() ?? []).flatMap(({ title, step, warnings }) => (
    ['store', 'hang'].includes(step) ? warnings.map((w) => html`<p class="warn"><b>${title}.</b> ${prose(w)}</p>`) : []));
  return found.length ? html`<section class="fields"><h2>Before hanging</h2>${found}
    <a class="plain" href="#/job/${state.job.key}/finish">To the steps of the work</a></section>` : nothing;
}

export function layoutScreen() {
  const { plan, job } = state;
  resumeMarks();
  if (!plan || !plan.view) return standing();
  const { file, view } = plan;
  const at = wallAt(job.doc);
  const number = numberOf(at);
  if (number && !plan.busy && !plan.search) prepare(file, number);
  return html`${plan.busy || state.needs.length ? standing(true) : nothing}
    ${wallPicker(state.walls, at, (wall) => pickWall(wall, () => {}))}
    ${number ? wallView(file, number) : html`<p class="hold">This wall is not planned yet.</p>`}
    ${number ? html`<button type="button" class="plain" ?disabled=${plan.busy} @click=${() => openCall(number)}>Call a cut</button>` : nothing}
    <p><b>${view.hang}</b></p>
    ${plan.busy ? nothing : html`${toBuy()}${searching()}${beside(view)}`}
    ${stockView()}
    ${compareView()}
    ${view.warnings.map((w) => html`<p class="warn"><b>Look out.</b> ${prose(w)}</p>`)}
    ${beforeHanging()}
    ${number ? tables(file, view, number) : nothing}
    <div class="pair"><a class="plain" href="#/job/${job.key}/print">Print</a></div>`;
}
