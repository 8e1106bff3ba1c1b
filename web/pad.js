// The keypad for tape readings. state.pad is plain data, kept across reloads:
// {owner, screen, field, index, keys, deck, unit, problem, preview}; what it is for is
// looked up by `resolve`, so that a reload in mid-entry comes back to the same key.

import { html, nothing } from './vendor/lit-html.js';
import { announce, readLocal, report, set, state, writeLocal } from './state.js';
import { prose } from './sketch.js';
import { readLength } from './work.js';
import { EIGHTHS, clears, deckFor, entryText, metricUnit, press, type } from './entry.js';

const BOUNCE_MS = 60; // a second touch of the same key sooner than this is a bounce
let resolve = () => null;
let asked = 0;
let turn = Promise.resolve(); // the key being worked on
let held = null; // {pointer, key, element}
let last = { key: '', at: -1e9 };

/**
 * `find(pad)` gives null, or what the pad is for: {label, hint, kind, unit, suffix (of a measure), now,
 * canUndo, undo(), check(text), commit(text), next(keyed)}. check answers
 * {problem, figure, note, say}; next gives {field, index} or null, where
 * `keyed` says whether anything was keyed before OK.
 */
export function usePad(find) {
  resolve = find;
}

export function openPad(owner, field, index = null) {
  const { pad } = state;
  // A second touch of the field that is open already loses nothing that was keyed.
  if (pad && pad.owner === owner && pad.field === field && pad.index === index) return;
  const target = resolve({ owner, field, index });
  if (!target) return;
  keep({
    owner, screen: state.route.screen, field, index, keys: [], deck: deckFor(target.kind, target.unit, target.suffix ?? null),
    unit: metricUnit(target.unit), problem: null, preview: null,
  });
  preview();
}

function closePad() {
  keep(null);
}

/** Put the keypad away where its screen is left; what is keyed comes back with the screen. */
export function shelvePad() {
  set({ pad: null });
}

/** Bring back what was keyed for `owner` before a reload, a new version or another screen. */
export function restorePad(owner) {
  const pad = readLocal('pad', null);
  if (state.pad || !pad || pad.owner !== owner || pad.screen !== state.route.screen || !resolve(pad)) return;
  set({ pad });
  preview();
}

function keep(pad) {
  writeLocal('pad', pad && { ...pad, preview: null });
  set({ pad });
}

function change(keys) {
  if (keys === state.pad.keys) return;
  keep({ ...state.pad, keys, problem: null });
  preview();
}

function preview() {
  const pad = state.pad;
  const question = ++asked;
  const text = textOf(pad);
  resolve(pad).check(text === '' && !clears(pad.keys) ? null : text).then((seen) => {
    if (question === asked && state.pad) set({ pad: { ...state.pad, preview: seen } });
  }).catch(report);
}

function textOf(pad) {
  return entryText(pad.keys, pad.deck, pad.unit);
}

/** Commit what is keyed. `onward`: go to the next field, else close. */
async function commit(onward) {
  const pad = state.pad;
  const target = resolve(pad);
  if (pad.keys.length) {
    const text = textOf(pad);
    const seen = await target.check(text);
    if (seen.problem) {
      keep({ ...state.pad, problem: seen.problem, preview: seen });
      announce(seen.problem.message + ' ' + seen.problem.fix);
      return;
    }
    await target.commit(await asKept(text, pad, target));
    if (seen.say) announce(seen.say);
  }
  const next = onward ? target.next(pad.keys.length > 0) : null;
  if (next) openPad(pad.owner, next.field, next.index ?? null);
  else closePad();
}

/** Typed text may lack its unit: keep it with one, so that a change of unit changes nothing. */
async function asKept(text, pad, target) {
  if (pad.deck === 'measure') return /^[\d.,-]+$/.test(text) && target.suffix ? `${text} ${target.suffix}` : text;
  const typed = pad.keys[0].startsWith('raw:') && text.trim() !== '';
  if (!typed || pad.deck === 'count' || pad.deck === 'money') return text;
  const { exact, problem } = await readLength(text, target.unit);
  if (problem) throw new Error(`${problem.message} ${problem.fix}`);
  return exact;
}

const ACTIONS = {
  ok: () => commit(true),
  done: () => commit(false).catch((error) => {
    report(error);
    shelvePad(); // what is keyed comes back when the field's screen is opened again
  }),
  undo: async () => { await resolve(state.pad).undo(); preview(); },
  deck: () => {
    const deck = state.pad.deck === 'in' ? 'metric' : 'in';
    keep({ ...state.pad, deck, keys: [], problem: null });
    preview();
  },
};

/** Keys act one after the other: what is hit while OK is being worked out waits its turn. */
function inTurn(act) {
  turn = turn.then(() => state.pad && act()).catch(report);
}

function hit(key) {
  inTurn(() => {
    if (key.startsWith('unit:')) {
      keep({ ...state.pad, unit: key.slice(5), problem: null });
      preview();
      return undefined;
    }
    return ACTIONS[key] ? ACTIONS[key]() : change(press(state.pad.keys, key, state.pad.deck));
  });
}

// One finger at a time; a key types when the finger lifts on it, never elsewhere.
const keyAt = (event) => event.target.closest?.('[data-key]');

function down(event) {
  const element = keyAt(event);
  if (!element || held) return;
  const key = element.dataset.key;
  const bounce = key === last.key && event.timeStamp - last.at < BOUNCE_MS;
  held = { pointer: event.pointerId, key, element, bounce };
  element.classList.add('down');
}

function up(event) {
  if (!held || event.pointerId !== held.pointer) return;
  const { key, element, bounce } = held;
  letGo(event);
  const under = document.elementFromPoint(event.clientX, event.clientY)?.closest('[data-key]');
  if (bounce || under !== element) return;
  last = { key, at: event.timeStamp };
  hit(key);
}

function letGo(event) {
  if (!held || event.pointerId !== held.pointer) return;
  held.element.classList.remove('down');
  held = null;
}

/** The key has acted already: no click may fall through on what the sheet covered. */
function noGhost(event) {
  if (event.cancelable) event.preventDefault();
}

function click(event) {
  const element = keyAt(event);
  if (element && event.detail === 0) hit(element.dataset.key); // a keyboard or a voice
}

/** Hardware keys and paste, while the pad is open. */
export function padKeydown(event) {
  if (!state.pad || event.ctrlKey || event.metaKey || event.altKey) return;
  const onKey = Boolean(event.target.closest?.('[data-key]')); // Enter and space press it
  if (event.key === 'Enter' && !onKey) hit('ok');
  else if (event.key === 'Escape') hit('done');
  else if (event.key === 'Backspace') hit('back');
  else if (event.key.length === 1 && !(event.key === ' ' && onKey)) {
    inTurn(() => change(type(state.pad.keys, event.key, state.pad.deck, state.pad.unit)));
  } else return;
  event.preventDefault();
}

export function padPaste(event) {
  if (!state.pad) return;
  event.preventDefault();
  const text = event.clipboardData.getData('text').trim().split('\n')[0];
  inTurn(() => change(type([], text, state.pad.deck, state.pad.unit)));
}

const key = (id, label, name, kind = '') => html`<button type="button" class="key ${kind}"
  data-key=${id} aria-label=${name}>${label}</button>`;
const digit = (d) => key(d, d, d, 'digit');
const spoken = {
  '1/8': 'one eighth', '1/4': 'one quarter', '3/8': 'three eighths', '1/2': 'one half',
  '5/8': 'five eighths', '3/4': 'three quarters', '7/8': 'seven eighths',
};
const fraction = (f) => {
  const [top, bottom] = f.split('/');
  return key(f, html`<span class="frac"><sup>${top}</sup>⁄<sub>${bottom}</sub></span>`, spoken[f], 'part');
};

function lean(word, pad) {
  const sign = word === 'heavy' ? '+' : '−';
  const worth = pad.deck === 'in' ? `${sign}1/32"` : `${sign}0.5 mm`;
  const on = pad.keys.filter((k) => k === word || k === (word === 'heavy' ? 'light' : 'heavy')).at(-1) === word;
  const name = `${word}, ${word === 'heavy' ? 'plus' : 'minus'} ${pad.deck === 'in'
    ? 'one thirty second of an inch' : 'half a millimetre'}`;
  return html`<button type="button" class="key lean" data-key=${word} aria-label=${name}
    aria-pressed=${on}><b>${word}</b><small>${worth}</small></button>`;
}

function keys(pad) {
  const back = key('back', '⌫', 'rub out', 'act');
  const ok = key('ok', 'OK', 'OK, next field', 'go');
  const none = html`<span class="key none" aria-hidden="true"></span>`;
  const rows = {
    top: [digit('7'), digit('8'), digit('9')],
    mid: [digit('4'), digit('5'), digit('6')],
    low: [digit('1'), digit('2'), digit('3')],
  };
  if (pad.deck === 'count' || pad.deck === 'money' || pad.deck === 'measure') {
    const point = pad.deck !== 'count' ? key('.', '.', 'point', 'digit') : none;
    return { pad: [...rows.top, back, ...rows.mid, none, ...rows.low, none, none, digit('0'), point, ok] };
  }
  if (pad.deck === 'metric') {
    const unit = (u, name) => html`<button type="button" class="key unit" data-key="unit:${u}"
      aria-label=${name} aria-pressed=${pad.unit === u}>${u}</button>`;
    return {
      parts: [unit('mm', 'millimetres'), unit('cm', 'centimetres'), unit('m', 'metres'),
        key('deck', html`<small>use</small> in`, 'use inches', 'unit')],
      pad: [...rows.top, back, ...rows.mid, lean('heavy', pad), ...rows.low, lean('light', pad),
        none, digit('0'), key('.', '.', 'point', 'digit'), ok],
    };
  }
  return {
    parts: [...EIGHTHS.map(fraction),
      key('+1/16', html`<span class="frac">+<sup>1</sup>⁄<sub>16</sub></span>`, 'plus one sixteenth', 'part')],
    pad: [...rows.top, back, ...rows.mid, key('ft', 'ft', 'feet', 'act'), ...rows.low, lean('heavy', pad),
      key('deck', html`<small>use</small> mm`, 'use millimetres', 'unit'), digit('0'), lean('light', pad), ok],
  };
}

/** The whole sheet: what went wrong, what is asked, what is keyed, what it answers, the keys. */
export function padSheet(troubles) {
  const pad = state.pad;
  const target = pad && resolve(pad);
  if (!target) return nothing;
  const text = textOf(pad);
  const shown = text !== '' ? text : clears(pad.keys) ? 'emptied' : '';
  const seen = pad.preview;
  const { parts, pad: all } = keys(pad);
  return html`<section class="sheet" aria-label="Keypad" @pointerdown=${down} @pointerup=${up}
      @pointercancel=${letGo} @click=${click} @touchend=${noGhost}>
    <div class="sheet-bar">
      <button type="button" class="bar-key" data-key="done">Done</button>
      <h2>${target.label}</h2>
      <button type="button" class="bar-key" data-key="undo" ?disabled=${!target.canUndo}>Undo</button>
    </div>
    <div class="sheet-read">${troubles}
      <output class="entry" aria-label="${target.label}, keyed" aria-live="off">${shown ? html`${prose(shown)}${pad.deck === 'measure' && /^[\d.,-]+$/.test(shown) ? ` ${target.suffix}` : nothing}`
    : html`<i>${target.now ? 'now ' + target.now : target.hint || ''}</i>`}</output>
      ${pad.problem ? html`<p class="problem" role="alert">${prose(pad.problem.message)} ${prose(pad.problem.fix)}</p>`
        : seen && seen.figure ? html`<p class="seen"><span class="long">${seen.figure.label}</span><span class="short" aria-hidden="true">=</span>
            <output class="answer">${prose(seen.figure.text)}</output>
            <em>${seen.figure.lean}</em></p>`
          : html`<p class="seen"><span>${(seen && (shown || target.now) && seen.note) || ''}</span></p>`}
    </div>
    <div class="keys">${parts ? html`<div class="group parts">${parts}</div>` : nothing}
      <div class="group">${all}</div></div>
  </section>`;
}
