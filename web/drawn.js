// What calc draws and tells of a plan: elevations and pieces' cards.
// Each is asked for once and kept as long as its plan.

import { report, set, state } from './state.js';
import { callSlow } from './plan.js';
import { answered, call } from './work.js';

const kept = new WeakMap(); // plan file -> Map(what was asked -> what came)

/** What comes of `ask()` for this plan: {promise, value}, value undefined until it is there. */
function once(file, name, ask) {
  if (!kept.has(file)) kept.set(file, new Map());
  const of = kept.get(file);
  if (!of.has(name)) {
    const entry = { promise: ask(), value: undefined };
    of.set(name, entry);
    entry.promise.then(
      (value) => { entry.value = value; set({}); },
      (error) => {
        of.delete(name);
        if (error.name !== 'Cancelled') report(error);
      },
    );
  }
  return of.get(name);
}

/** One chosen piece at a time: the drawings with another one are kept no longer. */
function forget(file, which) {
  for (const name of [...(kept.get(file)?.keys() ?? [])]) if (which(name)) kept.get(file).delete(name);
}

/** The plan with the pieces of one wall alone: what the drawing of it takes. */
function ofWall(file, number) {
  const { certificate, boards, ...rest } = file;
  return {
    ...rest, boards: [],
    walls: file.walls.map((w, i) => (i + 1 === number ? w : { name: w.name, corner: w.corner })),
    pieces: file.pieces.filter((p) => p.wall === number),
  };
}

/**
 * The elevation of wall `number`: its value is {svg, width, height, say}.
 * how: {scale, paper, labels, select}; soon: by the engine that answers at once.
 */
export function elevation(file, number, how, soon = true) {
  const asked = { scale: null, paper: null, labels: true, select: null, aside: 0, ...how };
  const name = `wall ${number} ${JSON.stringify(asked)}`;
  if (asked.select) forget(file, (other) => other.startsWith('wall ') && other !== name && !other.includes('"select":null'));
  const request = { do: 'elevation', plan: ofWall(file, number), wall: number, ...asked };
  return once(file, name, async () => {
    const { svg, width, height, say } = await answered((soon ? call : callSlow)(request));
    return { svg, width, height, say };
  });
}

const nodes = new WeakMap(); // an elevation -> its element

/** An elevation as an element of this page; the same one each time. */
export function nodeOf(drawn) {
  if (!nodes.has(drawn)) nodes.set(drawn, parse(drawn.svg));
  return nodes.get(drawn);
}

/** SVG that calc wrote, as an element of this page. */
function parse(svg) {
  const { documentElement: root } = new DOMParser().parseFromString(svg, 'image/svg+xml');
  if (root.nodeName !== 'svg') throw new Error(`The drawing could not be read: ${root.textContent.slice(0, 200)}`);
  return document.adoptNode(root);
}

/** One piece's card: {title, say, rows, cuts, sketch}. */
export function card(file, id) {
  const { wall } = file.pieces.find((p) => p.id === id);
  return once(file, `card ${id}`, () => answered(call({ do: 'card', plan: ofWall(file, wall), piece: id })));
}

/** What of a course may be called from the wall: a list of ends. */
export const callable = (file, wall, course) => once(file, `ends ${wall} ${course}`, async () => {
  const { ends } = await answered(call({ do: 'callable', plan: ofWall(file, wall), wall, course }));
  return ends;
});

/** What a length called for a piece comes to. */
export const callCheck = (plan, piece, text) => call({ do: 'called', plan, piece, text });

/** Draw the other walls too, one after the other, by the engine that has time. */
export async function drawAhead(file, numbers, how) {
  for (const number of numbers) {
    if (!state.plan || state.plan.file !== file || state.plan.busy) return;
    const drawn = await elevation(file, number, how(number), false).promise.catch(() => null); // told by once()
    if (drawn) nodeOf(drawn);
  }
}
