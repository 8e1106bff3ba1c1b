// Draws what calc describes: shapes in jots, put on the screen to scale, with
// text and lines of a readable size whatever the scale. Nothing is worked out here.

import { html, svg } from './vendor/lit-html.js';

const WIDTH = 328;
const TALLEST = 300;
const MARGIN = 28;
const LETTER = 8.5; // px a character of the drawing's text takes, at most

/** Text in which no reading and no piece's name breaks: 75-3/4", 14' 0" and 2-6C stay on one line. */
export function prose(text) {
  return text.split(/(\d+' \d+(?:-\d+\/\d+)?"|\d+-\d+\/\d+"?|\d+-\d+[A-Z]+|\d+(?:\.\d+)? (?:%|gal|fl oz|ml|L|h|in|mm|lb|N|m²|sq ft)(?![a-z/]))/).map((part, i) => (i % 2 ? html`<span class="nb">${part}</span>` : part));
}

export function sketch({ width, height, items, say }) {
  const scale = Math.min((WIDTH - 2 * MARGIN) / width, (TALLEST - 2 * MARGIN) / height);
  const left = (WIDTH - width * scale) / 2;
  const place = {
    x: (v) => round(left + v * scale),
    y: (v) => round(MARGIN + v * scale),
    size: (v) => round(v * scale),
  };
  const tall = Math.round(height * scale + 2 * MARGIN);
  return html`<figure class="sketch"><svg viewBox="0 0 ${WIDTH} ${tall}" role="img" aria-label=${say}>
    ${items.map((item) => shape(item, place))}</svg></figure>`;
}

const round = (v) => Math.round(v * 10) / 10;

function shape([kind, ...of], { x, y, size }) {
  if (kind === 'rect') {
    const [left, top, w, h, style] = of;
    return svg`<rect class="s-${style}" x=${x(left)} y=${y(top)} width=${size(w)} height=${size(h)}/>`;
  }
  if (kind === 'line') {
    const [x1, y1, x2, y2, style] = of;
    return svg`<line class="s-${style}" x1=${x(x1)} y1=${y(y1)} x2=${x(x2)} y2=${y(y2)}/>`;
  }
  if (kind === 'path') {
    const [rings, style] = of;
    const at = (v, i) => `${i % 2 ? '' : i ? 'L' : 'M'}${i % 2 ? y(v) : x(v)} `;
    return svg`<path class="s-${style}" fill-rule="evenodd" d=${rings.map((ring) => `${ring.map(at).join('')}Z`).join('')}/>`;
  }
  const [left, top, anchor, text] = of;
  return svg`<text x=${inside(x(left), anchor, text)} y=${y(top)} text-anchor=${anchor}>${text}</text>`;
}

/** Where a text has to stand so that all of it is inside the frame. */
function inside(at, anchor, text) {
  const long = text.length * LETTER;
  const before = { start: 0, middle: long / 2, end: long }[anchor];
  return Math.min(Math.max(at, before + 2), WIDTH - 2 - (long - before));
}
