// The figures of one wall as tables, on Layout and in print, as calc's view tells them.

import { html, nothing } from '../vendor/lit-html.js';
import { prose } from '../sketch.js';

/** A table; one of many columns stands row by row on a narrow screen. */
export function table({ caption, columns, rows }) {
  return html`<table class=${columns.length > 3 ? 'stack' : nothing}><caption>${caption}</caption>
    <thead><tr>${columns.map((c) => html`<th scope="col">${c}</th>`)}</tr></thead>
    <tbody>${rows.map(([head, ...cells]) => html`<tr><th scope="row">${prose(head)}</th>
      ${cells.map((cell, i) => html`<td data-of=${columns[i + 1]}><span>${prose(cell)}</span></td>`)}</tr>`)}</tbody></table>`;
}

/** Each course with its pieces and their lengths, its joints and its rip. */
function courses(view, wall) {
  const lengths = new Map(view.boards.flatMap((b) => b.cuts).map((c) => [c.id, `${c.text} ${c.lean}`.trim()]));
  const rows = [...wall.courses].reverse().map((c) => [
    `Course ${c.number}`, c.height, c.pieces.map((id) => `${id}: ${lengths.get(id)}`).join('; ') || 'none',
    c.joints.join('; ') || 'none', c.rip || 'none',
  ]);
  return table({
    caption: 'Courses, from the top', columns: ['Course', 'Shows', 'Pieces from the left', 'Joints', 'Rip'], rows,
  });
}

const some = (list) => list.map((t) => (t ? table(t) : nothing));

/** All tables of the plan's wall `number`, from 1; without those that stand elsewhere. */
export function wallTables(view, number, elsewhere = []) {
  const wall = view.walls[number - 1];
  return html`<p><b>${prose(wall.title)}.</b> ${prose(wall.notes.join(' '))}</p>
    <div class="columns">${some([wall.pole, wall.studs].filter((t) => !elsewhere.includes(t)))}</div>
    ${some([wall.openings, wall.boxes, wall.blocking])}${courses(view, wall)}`;
}

const TALL = 38; // rows of a table that a sheet of paper holds beside the drawing

/** The tables that stand beside the wall's drawing: story pole and studs, as many as fit. */
export function beside(view, number) {
  const { pole, studs } = view.walls[number - 1];
  if (pole.rows.length > TALL) return [];
  return pole.rows.length + studs.rows.length + 5 > TALL ? [pole] : [pole, studs];
}

export const tables = some;
