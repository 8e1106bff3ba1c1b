// The phone's engine: calc/ on MicroPython in a worker. Strings in, strings out.
// calc comes in two files: what a quick answer needs, and what only a job needs, which is
// fetched when a verb of a job is first called, or when the page says `ahead`.
//
// In:  {id, verb, request}     a bridge request as JSON text, and its "do"
//      {ahead: true}           fetch what a job needs now
// Out: {ready: true, calc}     quick answers are ready; the mark of calc, which is of both files
//      {whole: true}           what a job needs is there as well
//      {id, answer}            the bridge's answer as JSON text
//      {id, failed}            this request broke in calc; the engine goes on
//      {id, lost}              what a job needs could not be had, and why; the engine goes on
//      {broken, id?}           the engine can't go on, and why

// Where the heap begins; it grows by itself. Measured: from 0.25 to 16 MB start and pace
// are the same.
const HEAP_BYTES = 2 * 1024 * 1024;
// In words. Measured: the default 2048 ends at 50 to 100 frames, this at more than 150.
const PYTHON_STACK = 16 * 1024;

const OF_THIS = new URL(import.meta.url).search; // the version that the page runs, see version.js
let rest = null; // the file of what a job needs, on its way or here
let whole = null; // it is, or is being, put where the interpreter finds it
const started = start();
started.then(
  ({ calc }) => postMessage({ ready: true, calc }),
  (error) => postMessage({ broken: wordsOf(error) }),
);

onmessage = async ({ data: { id, verb, request, ahead } }) => {
  if (ahead) {
    fetchRest().catch(() => {}); // told where a job asks for it
    return;
  }
  let engine;
  try {
    engine = await started;
  } catch {
    return; // already told as broken, which ends every call
  }
  try {
    if (typeof verb === 'string' && engine.ofJob(verb)) await makeWhole(engine);
  } catch (error) {
    postMessage({ id, lost: wordsOf(error) });
    return;
  }
  try {
    postMessage({ id, answer: engine.call(request) });
  } catch (error) {
    console.error(error);
    const text = wordsOf(error);
    // A Python exception leaves the interpreter whole; anything else does not.
    postMessage(error?.name === 'PythonError' ? { id, failed: text } : { id, broken: text });
  }
};

/** The address of a file, of this version. */
function mine(name) {
  const address = new URL(name, import.meta.url);
  address.search = OF_THIS;
  return address.href;
}

const wordsOf = (error) => String(error?.message ?? error).trim();

async function start() {
  const quick = fetchCalc('quick.bin'); // on its way while the interpreter loads
  quick.catch(() => {}); // told below, where it is waited for
  const { loadMicroPython } = await import(mine('./vendor/micropython.mjs'));
  const url = mine('./vendor/micropython.wasm');
  const python = await loadMicroPython({ url, heapsize: HEAP_BYTES, pystack: PYTHON_STACK });
  const { calc, files } = await quick;
  write(python.FS, files);
  python.runPython('from calc.bridge import call, of_job');
  return { calc, fs: python.FS, call: python.globals.get('call'), ofJob: python.globals.get('of_job') };
}

/** What a job needs, fetched once; anew where it could not be had. */
function fetchRest() {
  rest ??= fetchCalc('job.bin').catch((error) => {
    rest = null;
    throw error;
  });
  return rest;
}

/** Put what a job needs beside the rest, once. */
function makeWhole(engine) {
  whole ??= fetchRest().then(({ calc, files }) => {
    if (calc !== engine.calc) throw new Error('job.bin is of another version than the page; reload the page');
    write(engine.fs, files);
    postMessage({ whole: true });
  }).catch((error) => {
    whole = null;
    rest = null;
    throw error;
  });
  return whole;
}

/** One file of bytecode: {calc: the mark, files: [[path, code]]}; see server/compiled.py. */
async function fetchCalc(name) {
  const response = await fetch(mine(name)).catch(() => {
    throw new Error(`${name} did not arrive`);
  });
  if (!response.ok) throw new Error(`${name} answered ${response.status}`);
  const all = new Uint8Array(await response.arrayBuffer());
  const end = all.indexOf(10); // of the line
  const { calc, files } = JSON.parse(new TextDecoder().decode(all.subarray(0, end)));
  let names = end + 1;
  let others = files.reduce((at, [, size]) => at + size, names);
  const codes = files.map(([path, first, second]) => {
    const code = new Uint8Array(first + second);
    code.set(all.subarray(names, names + first));
    code.set(all.subarray(others, others + second), first);
    names += first;
    others += second;
    return [path, code];
  });
  if (others !== all.length) throw new Error(`${name} is not whole`);
  return { calc, files: codes };
}

/** Put files of bytecode where the interpreter imports them from. */
function write(fs, files) {
  for (const [path, code] of files) {
    const folders = path.split('/').slice(0, -1);
    for (let n = 1; n <= folders.length; n++) {
      const folder = folders.slice(0, n).join('/');
      if (!fs.analyzePath(folder).exists) fs.mkdir(folder);
    }
    fs.writeFile(path, code);
  }
}
