// What lies over a job's screens: the card of a piece, the sheet to call a cut by, the keypads.

import { nothing } from '../vendor/lit-html.js';
import { callKeydown, callPad, callSheet } from './call.js';
import { cardKeydown, cardSheet } from './card.js';
import { surveyPad } from './fields.js';
import { shortPad } from './next.js';

/** What the keypad is for, by its field. */
export function jobPad(pad) {
  if (pad.field === 'mark:short') return shortPad();
  if (pad.field === 'mark:call') return callPad();
  return surveyPad(pad);
}

/** The sheet that is open; nothing where none is. */
export function sheet() {
  const card = cardSheet();
  return card === nothing ? callSheet() : card;
}

export function sheetKeydown(event) {
  cardKeydown(event);
  callKeydown(event);
}
