// The phone's engine: calc/ on MicroPython in a worker. Strings in, strings out.
//
// In:  {id, request}           a bridge request as JSON text
// Out: {ready: true, calc}     calc is loaded; its mark (ETag) as the laptop served it
//      {id, answer}            the bridge's answer as JSON text
//      {id, failed}            this request broke in calc; the engine goes on
//      {broken, id?}           the engine can't go on, and why

// Where the heap begins; it grows by itself. Measured: from 0.25 to 16 MB start and pace
// are the same.
const HEAP_BYTES = 2 * 1024 * 1024;
// In words. Measured: the default 2048 ends at 50 to 100 frames, this at more than 150.
const PYTHON_STACK = 16 * 1024;

let mark = ''; // the ETag of calc.bin
const started = start();
started.then(
  () => postMessage({ ready: true, calc: mark }),
  (error) => postMessage({ broken: String(error?.message ?? error) }),
);

onmessage = async ({ data: { id, request } }) => {
  let call;
  try {
    call = await started;
  } catch {
    return; // already told as broken, which ends every call
  }
  try {
    postMessage({ id, answer: call(request) });
  } catch (error) {
    console.error(error);
    const text = String(error?.message ?? error).trim();
    // A Python exception leaves the interpreter whole; anything else does not.
    postMessage(error?.name === 'PythonError' ? { id, failed: text } : { id, broken: text });
  }
};

async function start() {
  const calc = fetchCalc(); // on its way while the interpreter loads
  calc.catch(() => {}); // told below, where it is waited for
  const { loadMicroPython } = await import('./vendor/micropython.mjs');
  const python = await loadMicroPython({ heapsize: HEAP_BYTES, pystack: PYTHON_STACK });
  write(python.FS, await calc);
  python.runPython('from calc.bridge import call');
  return python.globals.get('call');
}

async function fetchCalc() {
  const address = new URL('./calc.bin', import.meta.url);
  const response = await fetch(address);
  if (!response.ok) throw new Error(`${address.pathname} answered ${response.status}`);
  mark = (response.headers.get('ETag') ?? '').replace(/^W\/|"|-gz/g, '');
  return new Uint8Array(await response.arrayBuffer());
}

/** Put the files of bytecode where the interpreter imports them from: see server/compiled.py. */
function write(fs, whole) {
  const made = new Set();
  const end = whole.indexOf(10); // of the line
  const files = JSON.parse(new TextDecoder().decode(whole.subarray(0, end)));
  let names = end + 1;
  let rest = files.reduce((at, [, size]) => at + size, names);
  for (const [path, first, second] of files) {
    const folders = path.split('/').slice(0, -1);
    for (let n = 1; n <= folders.length; n++) {
      const folder = folders.slice(0, n).join('/');
      if (!made.has(folder)) fs.mkdir(folder);
      made.add(folder);
    }
    const code = new Uint8Array(first + second);
    code.set(whole.subarray(names, names + first));
    code.set(whole.subarray(rest, rest + second), first);
    fs.writeFile(path, code);
    names += first;
    rest += second;
  }
  if (rest !== whole.length) throw new Error('calc.bin is not whole');
}
