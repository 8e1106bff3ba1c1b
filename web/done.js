// What of a job's document is marked as done, and how two documents differ in it.

import { alike, layoutOf } from './doc.js';

const LISTS = ['cut', 'rejected', 'called'];

/** The marks of one list: "cut", "rejected" or "called". */
export const marks = (doc, key) => doc.done?.[key] ?? [];

const without = ({ done, ...rest }) => rest;

/** Whether two documents of a job have the same layout, but for what is marked in it. */
export const sameButMarks = (a, b) => alike(without(layoutOf(a)), without(layoutOf(b)));

/** Whether they have the same layout, with the same marks. */
export const sameLayout = (a, b) => alike(layoutOf(a), layoutOf(b));

/** Whether `now` is `before` with nothing but more pieces cut. */
export function onlyMoreCut(before, now) {
  if (!sameButMarks(before, now)) return false;
  const [was, is] = [before, now].map((doc) => marks(doc, 'cut'));
  return ['rejected', 'called'].every((key) => alike(marks(before, key), marks(now, key)))
    && was.every((mark, i) => alike(mark, is[i])) && is.slice(was.length).every((mark) => mark.state !== 'short');
}

const NAMED = {
  cut: (mark) => `piece ${mark.name ?? mark.course} ${mark.state === 'short' ? 'too short' : 'cut'}`,
  rejected: (mark) => `board ${mark.board} no good`,
  called: (mark) => `length called for course ${mark.course}`,
  bought: () => 'a line of the shopping list',
};

/** What is marked in one document and not in the other, in words. */
export function marksBetween(a, b) {
  return [...LISTS, 'bought'].flatMap((key) => {
    const [one, two] = [marks(a, key), marks(b, key)];
    const lone = (these, others) => these.filter((mark) => !others.some((other) => alike(mark, other)));
    return [...lone(one, two), ...lone(two, one)].map(NAMED[key]);
  });
}
