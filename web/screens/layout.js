// Layout: the wall's elevation, drawn from the plan, and the course lines.
// The drawing pans inside its own box, by buttons as well as by finger.

import { html, nothing, svg } from '../vendor/lit-html.js';
import { set, state } from '../state.js';
import { standing } from './survey.js';
import { prose } from '../sketch.js';

const EDGE = 30; // room for labels round the wall, px
const COURSE_PX = 30; // a course's height where labels are readable
const ZOOMS = [0.5, 0.7, 1, 1.4, 2];

/** Pixels per jot at which every course can carry its labels. */
function readable(drawing) {
  return COURSE_PX / Math.max(...drawing.courses.map((c) => c.top - c.bottom));
}

function elevation(drawing, scale, labels) {
  const x = (v) => Math.round((EDGE + v * scale) * 2) / 2;
  const y = (v) => Math.round((EDGE + (drawing.height - v) * scale) * 2) / 2;
  const w = Math.round(drawing.width * scale + 2 * EDGE);
  const h = Math.round(drawing.height * scale + 2 * EDGE);
  return html`<svg width=${w} height=${h} viewBox="0 0 ${w} ${h}" role="img" aria-label="The wall with its courses and joints; the table below holds its figures">
    <defs><pattern id="rip" width="7" height="7" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
      <line class="hatch" x1="0" y1="0" x2="0" y2="7"/></pattern></defs>
    ${drawing.courses.map((c) => svg`<rect class=${c.rip ? 'd-rip' : 'd-course'} x=${x(0)} y=${y(c.top)}
      width=${x(drawing.width) - x(0)} height=${y(c.bottom) - y(c.top)}/>`)}
    ${drawing.studs.map((s) => svg`<line class="d-stud" x1=${x(s.at)} x2=${x(s.at)} y1=${y(drawing.height)} y2=${y(0) + 6}/>
      ${labels ? svg`<text x=${x(s.at)} y=${y(0) + 20} text-anchor="middle">${s.label}</text>
        <text x=${x(s.at)} y=${y(drawing.height) - 9} text-anchor="middle">${s.label}</text>` : nothing}`)}
    ${drawing.joints.map((j) => svg`<line class="d-joint" x1=${x(j.at)} x2=${x(j.at)} y1=${y(j.top)} y2=${y(j.bottom)}/>`)}
    <rect class="d-wall" x=${x(0)} y=${y(drawing.height)} width=${x(drawing.width) - x(0)} height=${y(0) - y(drawing.height)}/>
    ${labels ? drawing.pieces.map((p) => svg`<text class="d-piece" x=${(x(p.left) + x(p.right)) / 2} y=${(y(p.top) + y(p.bottom)) / 2 + 5}
      text-anchor="middle"><tspan class="id">${p.id}</tspan> <tspan>${p.text}</tspan></text>`) : nothing}
    ${labels ? drawing.courses.map((c) => svg`<text x=${EDGE - 6} y=${(y(c.top) + y(c.bottom)) / 2 + 5} text-anchor="end">${c.number}</text>`) : nothing}
  </svg>`;
}

const box = () => document.querySelector('.drawing');

/** Zoom about the middle of what is in sight. */
function zoom(step) {
  const { scrollLeft, scrollTop, clientWidth, clientHeight, scrollWidth, scrollHeight } = box();
  const across = (scrollLeft + clientWidth / 2) / scrollWidth;
  const down = (scrollTop + clientHeight / 2) / scrollHeight;
  set({ zoom: Math.min(Math.max(state.zoom + step, 0), ZOOMS.length - 1), whole: false });
  requestAnimationFrame(() => {
    box().scrollTo(across * box().scrollWidth - clientWidth / 2, down * box().scrollHeight - clientHeight / 2);
  });
}

let opened = null; // the drawing's box that has been put at the edge where hanging starts

/** Show first where the first course goes. */
function openAt(start) {
  requestAnimationFrame(() => {
    if (!box() || box() === opened) return;
    opened = box();
    if (start === 'floor') opened.scrollTo(0, opened.scrollHeight);
  });
}

const pan = (dx, dy) => box().scrollBy({ left: dx * box().clientWidth * 0.6, top: dy * box().clientHeight * 0.6 });

export function layoutScreen() {
  const { plan } = state;
  if (!plan || !plan.view) return standing();
  const { drawings, courses } = plan.view;
  const widest = Math.max(...drawings.map((d) => d.width));
  const room = Math.min(document.documentElement.clientWidth, 1200) - 16;
  const whole = state.whole;
  const scale = whole ? (room - 2 * EDGE - 4) / widest : readable(drawings[0]) * ZOOMS[state.zoom];
  const labels = !whole && state.zoom >= 1;
  const button = (label, name, run, off = false) => html`<button type="button" aria-label=${name}
    ?disabled=${off} @click=${run}>${label}</button>`;
  openAt(state.job.doc.rules?.start ?? 'floor');
  return html`${standing()}
    <div class="controls">
      ${button('−', 'Smaller', () => zoom(-1), !whole && state.zoom === 0)}
      ${button('+', 'Larger', () => zoom(1), !whole && state.zoom === ZOOMS.length - 1)}
      <button type="button" class="wide" aria-pressed=${whole} @click=${() => set({ whole: !whole })}>Whole wall</button></div>
    <div class="drawing" tabindex="0" aria-label="Drawing">${drawings.map((d) => html`
      ${drawings.length > 1 ? html`<h2>${d.name}</h2>` : nothing}${elevation(d, scale, labels)}`)}</div>
    <div class="controls">
      ${button('←', 'Move left', () => pan(-1, 0))}${button('→', 'Move right', () => pan(1, 0))}
      ${button('↑', 'Move up', () => pan(0, -1))}${button('↓', 'Move down', () => pan(0, 1))}
    </div>
    ${labels ? nothing : html`<p>Piece and stud labels show when the drawing is larger.</p>`}
    <p class="key-line"><svg width="34" height="14" aria-hidden="true"><line class="d-stud" x1="2" x2="32" y1="7" y2="7"/></svg> stud
      <svg width="34" height="14" aria-hidden="true"><line class="d-joint" x1="2" x2="32" y1="7" y2="7"/></svg> joint
      <svg width="34" height="14" aria-hidden="true"><rect class="d-rip" x="2" y="1" width="30" height="12"/></svg> ripped board</p>
    <p><b>${plan.view.hang}</b></p>
    ${plan.view.warnings.map((w) => html`<p class="warn"><b>Look out.</b> ${prose(w)}</p>`)}
    <div class="table"><table><caption>Course lines: each course’s lower edge, from the floor</caption>
      <thead><tr><th scope="col">Course</th><th scope="col">Line</th><th scope="col">Joints, from the left corner</th></tr></thead>
      <tbody>${[...courses].reverse().map((c) => html`<tr><th scope="row">${drawings.length > 1 ? `${c.wall}, ${c.number}` : c.number}</th>
        <td>${prose(c.line)}${c.rip ? html`<br><small>${prose(c.rip)}</small>` : nothing}</td>
        <td>${c.joints.length ? prose(c.joints.join('; ')) : 'none'}</td></tr>`)}</tbody></table></div>`;
}
