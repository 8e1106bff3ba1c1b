// The phone's screen stays lit while a job is open: hands at the saw are not free to wake it.
// Where the phone does not know how, or won't, it goes dark as it always does.

let wanted = false;
let lock = null;
let busy = false;

/** Keep the screen lit from now on, or no longer. */
export function stayAwake(want) {
  if (want === wanted) return;
  wanted = want;
  settle();
}

const due = () => wanted && document.visibilityState === 'visible';

async function settle() {
  if (!navigator.wakeLock || busy) return;
  busy = true;
  try {
    while (due() !== Boolean(lock)) {
      if (lock) await letGo();
      else await take();
    }
  } catch (error) {
    if (error.name !== 'NotAllowedError') throw error; // the battery is low, or the page was left
  } finally {
    busy = false;
  }
}

async function take() {
  const taken = await navigator.wakeLock.request('screen');
  lock = taken;
  taken.addEventListener('release', () => {
    if (lock === taken) lock = null; // by the phone itself, where the page is left
  });
}

async function letGo() {
  const held = lock;
  lock = null;
  await held.release();
}

document.addEventListener('visibilitychange', settle);
