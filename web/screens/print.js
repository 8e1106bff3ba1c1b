// Print: for each wall one page with its drawing, story pole and studs, its further
// figures behind it, then the cut list as a table, the shopping list, and the steps of the work
// with their cautions.

import { html, nothing } from '../vendor/lit-html.js';
import { setPrefs, state } from '../state.js';
import { elevation, nodeOf } from '../drawn.js';
import { prose } from '../sketch.js';
import { standing } from '../standing.js';
import { workBy } from '../plan.js';
import { steps, takeOff } from '../trade.js';
import { printed } from './cautions.js';
import { beside, table, tables, wallTables } from './tables.js';
import { shoppingTable } from './takeoff.js';

const PAPERS = ['A4', 'Letter'];
const isWide = (wall) => wall.pole.columns.length > 3;
/** How a wall is drawn: mm of the page stay free for its story pole and studs, 14 more than .aside in style.css. */
const how = (paper, wall) => ({ paper, aside: isWide(wall) ? 106 : 90 });
const usual = (unit) => (unit === 'in' || unit === 'ft' ? 'Letter' : 'A4');

function wallPages({ file, view }, number, paper) {
  const wall = view.walls[number - 1];
  const drawn = elevation(file, number, how(paper, wall)).value;
  const here = beside(view, number);
  const { name } = file.walls[number - 1];
  return html`<section class="page-drawing" aria-label="Drawing of ${name}">
      ${drawn ? nodeOf(drawn) : html`<p class="hold">Drawing ${name}.</p>`}
      <div class="aside ${isWide(wall) ? 'wide' : ''}">${tables(here)}</div></section>
    <section class="page-figures"><h2>${name}: figures</h2>${wallTables(view, number, here)}</section>`;
}

/** Every piece in the order it is cut: lengths, ends, rip and cuts, board by board. */
function cutList(boards) {
  const columns = ['Piece', 'Where it goes', 'Length', 'Ends', 'Rip and cuts'];
  const length = (c) => [[c.text, c.lean].filter(Boolean).join(' '), ...c.lengths.map(([label, text]) => `${label} ${text}`)];
  const lines = (list) => list.map((line) => html`<div>${prose(line)}</div>`);
  return html`<table class="cut-list"><colgroup>${columns.map((c, i) => html`<col class="c${i + 1}">`)}</colgroup><thead><tr>${columns.map((c) => html`<th scope="col">${c}</th>`)}</tr></thead>
    ${boards.map((b) => html`<tbody><tr class="of"><th colspan="5" scope="rowgroup">Board ${b.number}, ${b.stock}; left over: ${b.offcut}</th></tr>
      ${b.cuts.map((c) => html`<tr><th scope="row">${c.id}</th><td>${c.wall}, course ${c.course}: ${prose(c.where)}</td>
        <td>${lines(length(c))}</td><td>${c.ends.length ? lines(c.ends) : 'square'}</td>
        <td>${lines([c.rip, ...c.cuts, ...c.scribe].filter(Boolean))}</td></tr>`)}</tbody>`)}</table>`;
}

/** A section of the finish: its figures, tables, warnings, and what it asks first. */
const part = (one) => html`<h2>${one.title}</h2>
  ${one.figures.length || one.rows.length ? html`<ul class="listed">
    ${one.figures.map((f) => html`<li>${f.label}: <b>${prose(f.text)}</b> ${f.lean}</li>`)}
    ${one.rows.map(([label, text]) => html`<li>${label}: <b>${prose(text)}</b></li>`)}</ul>` : nothing}
  ${one.tables.map(({ title, columns, rows }) => table({ caption: title, columns, rows }))}
  ${one.warnings.length ? html`<ul class="listed">${one.warnings.map((w) => html`<li><b>Look out.</b> ${prose(w)}</li>`)}</ul>` : nothing}
  ${one.cautions.length ? printed(one.cautions) : nothing}`;

/** What to buy, and the steps of the work, each on sheets of its own. */
const tradePages = (off, sections) => html`<section class="page-list shopping">
    ${shoppingTable(off)}${off.unpriced ? html`<p>${off.unpriced}</p>` : nothing}
    <ul class="listed">${off.answer.rows.map(([label, text]) => html`<li>${label}: <b>${prose(text)}</b></li>`)}</ul></section>
  <section class="page-list steps">${sections.map(part)}</section>`;

export function printScreen() {
  const { plan, job } = state;
  const back = html`<div class="pair"><a class="plain" href="#/job/${job.key}/layout">Back to the layout</a></div>`;
  if (!plan || !plan.view || plan.busy) return html`${back}${standing()}`;
  workBy(plan.file);
  const { file, view } = plan;
  const paper = state.prefs.paper || usual(file.unit);
  const walls = file.walls.map((w, i) => i + 1);
  const there = walls.filter((n) => elevation(file, n, how(paper, view.walls[n - 1])).value).length;
  const [off, work] = [takeOff(), steps()];
  const listed = off?.got && work?.got;
  const ready = there === walls.length && listed && !off.old && !work.old;
  return html`${back}
    <label class="pick"><span>Paper</span><select @change=${(event) => setPrefs({ paper: event.target.value })}>
      ${PAPERS.map((p) => html`<option .selected=${p === paper}>${p}</option>`)}</select></label>
    <button type="button" class="main" ?disabled=${!ready} @click=${() => print()}>${ready ? 'Print'
    : there === walls.length ? 'Working out the lists' : `Drawing ${Math.min(there + 1, walls.length)} of ${walls.length}`}</button>
    <p class="hint">Each wall takes one page with its drawing, story pole and studs; its further figures stand behind it, then the cut list, the shopping list, and the steps of the work.</p>
    ${state.needs.length ? standing(true) : nothing}
    <div class="paper ${paper.toLowerCase()}">
      ${walls.map((n) => wallPages(plan, n, paper))}
      <section class="page-list"><h2>Cut list${file.title ? `: ${file.title}` : ''}</h2>
        <p>${view.hang}</p>
        ${cutList(view.boards)}
        <h2>To buy</h2><ul class="rows">${view.buy.map((b) => html`<li>${prose(b.text)}</li>`)}</ul>
        <p>${prose(view.summary.cost)} ${prose(view.summary.bound)} ${view.summary.proven}</p>
        ${view.warnings.length ? html`<h2>Look out</h2><ul class="listed">${view.warnings.map((w) => html`<li>${prose(w)}</li>`)}</ul>` : nothing}
        ${view.cautions.length ? html`<h2>Caution</h2>${printed(view.cautions)}` : nothing}
      </section>
      ${listed ? tradePages(off.got, work.got) : nothing}</div>`;
}
