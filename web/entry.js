// What has been keyed so far, as a list of keys; the text it makes is read by calc.
// Decks: "in" (feet, inches, fractions), "metric", "count", "money", "measure" (a number with its unit).

const SIXTEENTHS = [
  '', '1/16', '1/8', '3/16', '1/4', '5/16', '3/8', '7/16', '1/2',
  '9/16', '5/8', '11/16', '3/4', '13/16', '7/8', '15/16',
];
export const EIGHTHS = ['1/8', '1/4', '3/8', '1/2', '5/8', '3/4', '7/8'];
const MOST_DIGITS = 6;

/** suffix: the unit of a measure's bare number, else null. */
export function deckFor(kind, unit, suffix = null) {
  if (suffix !== null) return 'measure';
  if (kind === 'count' || kind === 'money') return kind;
  return unit === 'in' || unit === 'ft' ? 'in' : 'metric';
}

/** Parts of the keyed entry: feet, digits, sixteenths, lean; or raw text. */
function parts(keys) {
  const p = { feet: null, digits: '', six: 0, lean: '', raw: null, clear: false };
  for (const key of keys) {
    if (key.startsWith('raw:')) p.raw = key.slice(4);
    else if (key === 'clear') p.clear = true;
    else if (key === 'ft') { p.feet = p.digits; p.digits = ''; }
    else if (key === '+1/16') p.six |= 1;
    else if (key.includes('/')) p.six = SIXTEENTHS.indexOf(key) | (p.six & 1);
    else if (key === 'heavy' || key === 'light') p.lean = p.lean === key ? '' : key;
    else p.digits += key;
  }
  return p;
}

/** The keys after one more; the same list where the key has nothing to do. */
export function press(keys, key, deck) {
  const p = parts(keys);
  if (key === 'back') {
    if (p.clear) return keys;
    if (p.raw !== null && p.raw.length > 1) return ['raw:' + p.raw.slice(0, -1)];
    return keys.length ? keys.slice(0, -1) : ['clear'];
  }
  if (p.clear) return press([], key, deck);
  if (p.raw !== null) {
    const word = key === 'ft' ? "' " : key === 'heavy' || key === 'light' ? ' ' + key
      : key.includes('/') ? ' ' + key.replace('+', '') : key;
    return ['raw:' + p.raw + word];
  }
  const digits = p.digits.replace('.', '');
  if (/^[0-9]$/.test(key)) {
    if (p.six || digits.length >= MOST_DIGITS) return keys;
  } else if (key === '.') {
    if (p.six || p.digits.includes('.')) return keys;
  } else if (key === 'ft') {
    if (p.feet !== null || !p.digits || p.six) return keys;
  } else if (key === '+1/16') {
    if (p.six & 1) return keys;
  } else if (key.includes('/') && p.digits.includes('.')) return keys;
  return [...keys, key];
}

/** The keys after a character from a hardware keyboard or a paste. */
export function type(keys, text, deck, unit) {
  const now = parts(keys).clear ? '' : entryText(keys, deck, unit, true);
  return ['raw:' + (now + text).slice(0, 60)];
}

/** The entry as text for calc, with its unit; "" where nothing is keyed. */
export function entryText(keys, deck, unit, open = false) {
  const p = parts(keys);
  if (p.raw !== null) return p.raw;
  if (p.clear || !keys.length) return '';
  if (deck === 'count' || deck === 'money' || deck === 'measure') return p.digits;
  const lean = p.lean ? ' ' + p.lean : '';
  if (deck === 'metric') return p.digits + (open ? '' : ' ' + metricUnit(unit)) + lean;
  const fraction = SIXTEENTHS[p.six];
  const inches = p.digits && fraction ? p.digits + '-' + fraction : p.digits || fraction;
  const feet = p.feet === null ? '' : p.feet + "' ";
  if (open) return feet + inches + lean;
  return feet + (inches ? inches + '"' : '') + lean;
}

/** True where the next OK would empty the field. */
export function clears(keys) {
  return parts(keys).clear;
}

export function metricUnit(unit) {
  return unit === 'cm' || unit === 'm' ? unit : 'mm';
}
