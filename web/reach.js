// Where the laptop is: at this page's own origin, or, where it has moved to another network, at
// the address that a link has told, "#a=192.168.7.20" or "#a=192.168.7.20:8129".

import { readLocal, set, state, writeLocal } from './state.js';

const GIVE_UP_MS = 2500;
const HINT = /^#a=((?:\d{1,3}\.){3}\d{1,3})(?::(\d{1,5}))?(?=$|\/)/;
// RFC 1918: what the laptop's certificate may vouch for, and no host of the internet has.
const PRIVATE = /^(10\.|192\.168\.|172\.(1[6-9]|2\d|3[01])\.)/;

let found = null; // the base that answered last: '' for the origin, else "https://..."
let looking = null; // the search that is under way

/**
 * Take an address out of a link's `hash`, and keep it on this phone. Returns what is left of the
 * hash, as a route; null where there was none in it. Only private addresses count.
 */
export function takeHint(hash) {
  const match = HINT.exec(hash);
  if (!match) return null;
  const [whole, ip, port = location.port] = match;
  if (PRIVATE.test(ip) && ip.split('.').every((part) => part < 256) && port < 65536) {
    const hint = port ? `${ip}:${port}` : ip;
    writeLocal('hint', hint);
    set({ hint });
    lost();
  }
  return '#' + (hash.slice(whole.length) || '/quick');
}

/**
 * The URL to use for `path` ("/api/...") at the laptop. Without a hint that is the path; with
 * one, the origin is asked first, then the hinted address, over https alone; what answers is
 * used until lost() is called. Where neither answers, the path.
 */
export async function laptop(path) {
  const hint = state.hint || readLocal('hint', '');
  if (!hint) return path;
  if (found === null) {
    looking ??= look(hint).finally(() => { looking = null; });
    return ((await looking) ?? '') + path;
  }
  return found + path;
}

/** What laptop() gave did not answer: look anew when it is next asked. */
export function lost() {
  found = null;
}

/** The base that answers, '' for the origin; null where none does. */
async function look(hint) {
  for (const base of ['', `https://${hint}`]) {
    if (await answers(base)) {
      found = base;
      return base;
    }
  }
  return null;
}

/** Whether a laptop answers there in time. */
async function answers(base) {
  const abort = new AbortController();
  const timeout = setTimeout(() => abort.abort(), GIVE_UP_MS);
  try {
    const response = await fetch(base + '/api/ping', { cache: 'no-store', signal: abort.signal });
    return response.ok && (await response.json()).ok === true;
  } catch {
    return false; // away, too slow, or none of ours
  } finally {
    clearTimeout(timeout);
  }
}
