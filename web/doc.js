// A job's document by paths such as "walls[0].studs.first".

/** "walls[0].studs.first" -> ["walls", 0, "studs", "first"] */
function steps(path) {
  return path.split(/[.[\]]+/).filter(Boolean).map((s) => (/^\d+$/.test(s) ? Number(s) : s));
}

export function valueAt(doc, path) {
  return steps(path).reduce((at, step) => at?.[step], doc);
}

/** A copy of `doc` with the value at `path`; undefined takes the field, or the list's item, out. */
export function withValue(doc, path, value) {
  const copy = structuredClone(doc);
  const way = steps(path);
  const name = way.pop();
  let at = copy;
  way.forEach((step, i) => {
    const next = way[i + 1] ?? name;
    if (at[step] === undefined || at[step] === null) at[step] = typeof next === 'number' ? [] : {};
    at = at[step];
  });
  if (value !== undefined) at[name] = value;
  else if (Array.isArray(at)) at.splice(name, 1);
  else delete at[name];
  return copy;
}

/** The wall of a path, from 0, or -1 where it is of no wall. */
export function wallOf(path) {
  const found = /^walls\[(\d+)\]/.exec(path);
  return found ? Number(found[1]) : -1;
}

/** Whether `path` is `root` or lies within it. */
export const within = (path, root) => path === root || path.startsWith(root + '.') || path.startsWith(root + '[');

/** True where two documents say the same, whatever the order of their fields. */
export function alike(a, b) {
  if (a === b) return true;
  if (typeof a !== 'object' || typeof b !== 'object' || a === null || b === null) return false;
  if (Array.isArray(a) !== Array.isArray(b)) return false;
  const keys = Object.keys(a);
  return keys.length === Object.keys(b).length && keys.every((k) => k in b && alike(a[k], b[k]));
}

/** True for the path of a wall itself: "walls[0]". */
export const isWall = (path) => /^walls\[\d+\]$/.test(path);

/** Where a path leads, by the ids of what it passes, so that it is found in another copy. */
export function placeOf(doc, path) {
  const out = [];
  let at = doc;
  for (const step of steps(path)) {
    if (!Array.isArray(at)) out.push(typeof step === 'number' ? { end: true } : step);
    else if (step < at.length) out.push(at[step]?.id === undefined ? step : { id: at[step].id });
    else out.push({ end: true });
    at = at?.[step];
  }
  return out;
}

/** The path of that place in `doc`; null where what it passes is not there any more. */
export function pathOf(doc, place) {
  let path = '';
  let at = doc;
  for (const step of place) {
    let index = step;
    if (step.id !== undefined) index = Array.isArray(at) ? at.findIndex((item) => item.id === step.id) : -1;
    else if (step.end) index = Array.isArray(at) ? at.length : 0;
    if (index === -1) return null;
    if (typeof index === 'number') path += `[${index}]`;
    else path += (path && '.') + index;
    at = at?.[index];
  }
  return path;
}

// What a plan does not depend on: see calc/tradefields.py, and tests/trade/test_beside.py.
const BESIDE = {
  job: ['site', 'nails', 'glue', 'trim', 'finish', 'cost'], board: ['species', 'grain'],
  openings: ['trim', 'depth_top_left', 'depth_top_right', 'depth_bottom_left', 'depth_bottom_right', 'proud'],
  boxes: ['proud', 'set_back', 'extension'], done: ['bought'],
};
const less = (object, keys) => Object.fromEntries(Object.entries(object).filter(([key]) => !keys.includes(key)));
const eachLess = (rows, keys) => (Array.isArray(rows) ? rows.map((row) => less(row, keys)) : rows);

/** The document without what its plan does not depend on. */
export function layoutOf(doc) {
  const out = less(doc, BESIDE.job);
  if (doc.board) out.board = less(doc.board, BESIDE.board);
  if (doc.done) {
    const done = less(doc.done, BESIDE.done);
    if (Object.keys(done).length) out.done = done;
    else delete out.done;
  }
  if (Array.isArray(doc.walls)) {
    out.walls = doc.walls.map((wall) => {
      const bare = { ...wall };
      for (const list of ['openings', 'boxes']) if (wall[list]) bare[list] = eachLess(wall[list], BESIDE[list]);
      return bare;
    });
  }
  return out;
}
