// The page's side of the engine: requests out, answers back, one worker at a time.

import { OF_THIS } from './version.js';

const WORKER = new URL('./worker.js', import.meta.url);
WORKER.search = OF_THIS;

/** A call that cancel() ended. */
export class Cancelled extends Error {
  constructor() {
    super('Cancelled: the calculation was stopped before it was done.');
    this.name = 'Cancelled';
  }
}

/** A call that got no answer; the message says why in plain words. */
export class EngineError extends Error {
  constructor(message) {
    super(message);
    this.name = 'EngineError';
  }
}

/** The worker that start.js set going before the page's own scripts, once. */
function takeFirst() {
  const first = self.firstWorker;
  self.firstWorker = undefined;
  return first;
}

/**
 * Start the engine.
 * onState({ready, message}) is told of every change: message is '' while it
 * starts and when it is ready, else what broke and what to do, in plain words;
 * `ready` with a message is an engine that gives quick answers alone.
 * ahead: fetch what only a job needs at once.
 * Returns {call, cancel, ahead, state, calc}:
 *   call(request)  the bridge's answer to an object, as an object; calls made
 *                  before the engine is ready wait for it. Rejects with
 *                  Cancelled or EngineError.
 *   cancel()       ends the worker, rejects what is pending, starts another;
 *                  also the way to try again after a break.
 *   ahead()        fetches what only a job needs, before a job asks for it.
 *   state          the last {ready, message}.
 *   calc           the mark of the calc it runs, '' before it is ready.
 */
export function createEngine({ onState = () => {}, ahead = false } = {}) {
  let worker = null;
  let last = 0;
  let pending = new Map(); // id -> {resolve, reject}
  let state = { ready: false, message: '' };
  let calc = ''; // the mark of calc as it was served
  let early = ahead;

  function tell(ready, message) {
    state = { ready, message };
    onState(state);
  }

  function start() {
    const mine = takeFirst() ?? new Worker(WORKER, { type: 'module' });
    worker = mine;
    mine.onmessage = ({ data }) => {
      if (mine === worker) hear(data);
    };
    mine.onerror = (event) => {
      event.preventDefault();
      if (mine === worker) fail(event.message || 'its program did not load');
    };
    mine.onmessageerror = () => {
      if (mine === worker) fail('an answer could not be read');
    };
    if (early) mine.postMessage({ ahead: true });
    for (const data of mine.said ?? []) hear(data);
  }

  function hear({ id, ready, whole, calc: mark, answer, failed, lost, broken }) {
    if (ready) {
      calc = mark;
      tell(true, '');
    } else if (whole) {
      if (state.message) tell(true, '');
    } else if (broken !== undefined) fail(broken);
    else if (lost !== undefined) {
      tell(true, `What a job needs could not be loaded (${lost}). Quick goes on, and nothing that was keyed in is lost.`);
      settle(id, ({ reject }) => reject(new EngineError(state.message)));
    } else if (failed !== undefined) {
      const why = `This could not be calculated: a fault in the program. ${failed}`;
      settle(id, ({ reject }) => reject(new EngineError(why)));
    } else settle(id, ({ resolve }) => resolve(JSON.parse(answer)));
  }

  function settle(id, how) {
    const call = pending.get(id);
    pending.delete(id);
    if (call) how(call);
  }

  function fail(why) {
    stop(new EngineError(`The calculator on this phone stopped (${why}). Nothing that was keyed in is lost.`));
  }

  function stop(error) {
    worker?.terminate();
    worker = null;
    const calls = pending;
    pending = new Map();
    if (error instanceof EngineError) tell(false, error.message);
    for (const { reject } of calls.values()) reject(error);
  }

  function call(request) {
    if (!worker) return Promise.reject(new EngineError(state.message));
    return new Promise((resolve, reject) => {
      last += 1;
      pending.set(last, { resolve, reject });
      worker.postMessage({ id: last, verb: request?.do, request: JSON.stringify(request) });
    });
  }

  function cancel() {
    stop(new Cancelled());
    tell(false, '');
    start();
  }

  function fetchAhead() {
    if (!early) worker?.postMessage({ ahead: true });
    early = true;
  }

  start();
  return {
    call,
    cancel,
    ahead: fetchAhead,
    get state() {
      return state;
    },
    get calc() {
      return calc;
    },
  };
}
