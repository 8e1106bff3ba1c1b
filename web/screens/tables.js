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

/** All tables of the plan's wall `number`, from 1. */
export function wallTables(view, number) {
  const wall = view.walls[number - 1];
  const some = (list) => list.map((t) => (t ? table(t) : nothing));
  return html`<p><b>${prose(wall.title)}.</b> ${prose(wall.notes.join(' '))}</p>
    <div class="columns">${some([wall.pole, wall.studs])}</div>
    ${some([wall.openings, wall.boxes, wall.blocking])}${courses(view, wall)}`;
}
