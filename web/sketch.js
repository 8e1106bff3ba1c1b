// Draws what calc describes: shapes in jots, put on the screen to scale, with
// text and lines of a readable size whatever the scale. Nothing is worked out here.

import { html, svg } from './vendor/lit-html.js';

const WIDTH = 328;
const TALLEST = 300;
const MARGIN = 28;

export function sketch({ width, height, items, say }) {
  const scale = Math.min((WIDTH - 2 * MARGIN) / width, (TALLEST - 2 * MARGIN) / height);
  const x = (v) => Math.round((MARGIN + v * scale) * 10) / 10;
  const size = (v) => Math.round(v * scale * 10) / 10;
  const tall = Math.round(height * scale + 2 * MARGIN);
  return html`<figure class="sketch"><svg viewBox="0 0 ${WIDTH} ${tall}" role="img" aria-label=${say}>
    ${items.map((item) => shape(item, x, size))}</svg></figure>`;
}

function shape([kind, ...of], x, size) {
  if (kind === 'rect') {
    const [left, top, w, h, style] = of;
    return svg`<rect class="s-${style}" x=${x(left)} y=${x(top)} width=${size(w)} height=${size(h)}/>`;
  }
  if (kind === 'line') {
    const [x1, y1, x2, y2, style] = of;
    return svg`<line class="s-${style}" x1=${x(x1)} y1=${x(y1)} x2=${x(x2)} y2=${x(y2)}/>`;
  }
  if (kind === 'poly') {
    const [points, style] = of;
    return svg`<polygon class="s-${style}" points=${points.map(x).join(' ')}/>`;
  }
  const [left, top, anchor, text] = of;
  return svg`<text x=${x(left)} y=${x(top)} text-anchor=${anchor}>${text}</text>`;
}
