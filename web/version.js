// Which version of the page runs in this tab. Its own files are asked for by it, so that a tab
// that is open never mixes two versions, and goes on with what it has once the laptop is gone.

/** 16 hex digits, as in /version.json; '' where a module is used without the page. */
export const RUNNING = document.documentElement.dataset.version ?? '';

/** What is put behind the address of a file of this version. */
export const OF_THIS = RUNNING && `?v=${RUNNING}`;
