// Files: what this phone saves, and what it opens. Their content comes from calc.

import { call } from './work.js';

const MOST_BYTES = 1_000_000;

/** "Kitchen, north wall" -> "kitchen-north-wall": a name that every system takes. */
export function plainName(...words) {
  const plain = words.join(' ').normalize('NFKD').replace(/\p{M}/gu, '').toLowerCase().replace(/[^a-z0-9]+/g, '-').slice(0, 60);
  return plain.replace(/^-+|-+$/g, '') || 'job';
}

/** Save text as a file of this phone. */
export function save(name, type, text) {
  const address = URL.createObjectURL(new Blob([text], { type }));
  const link = document.createElement('a');
  link.href = address;
  link.download = name;
  document.body.append(link);
  link.click();
  link.remove();
  setTimeout(() => URL.revokeObjectURL(address), 60_000); // some browsers read it later
}

export const asJson = (value) => JSON.stringify(value, null, 1) + '\n';

/**
 * A job file that a person picked: {doc}, or {name, message, problems} where it
 * is no job, every problem with field, value, message and fix.
 */
export async function readJobFile(file) {
  const no = (message, problems = []) => ({ name: file.name, message, problems });
  if (file.size > MOST_BYTES) {
    const size = (file.size / 1_000_000).toFixed(1);
    return no(`This file is too large: ${size} MB, and a job file has at most 1 MB. Pick another file.`);
  }
  let doc;
  try {
    doc = JSON.parse((await file.text()).replace(/^\uFEFF/, ''));
  } catch (error) {
    if (!(error instanceof SyntaxError)) throw error;
    return no('This is no job file: its text is not JSON. Pick a file that “Job file” under Share has saved.');
  }
  if (doc === null || typeof doc !== 'object' || Array.isArray(doc)) {
    return no('This is no job file: it holds no job. Pick a file that “Job file” under Share has saved.');
  }
  if (doc.format === 'lapwright-plan') {
    return no('This is a plan file, which is made from a job. Pick the job file; the plan is worked out anew.');
  }
  const { problems } = await call({ do: 'check', job: doc });
  return problems.length ? no('This file was not opened: mend what is named here first.', problems) : { doc };
}
