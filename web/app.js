// The page: boot, routes, and the frame around the screens.
// Routes: #/quick, #/quick/NAME, #/jobs, #/job/KEY/(survey|layout|saw|take-off|finish|share|print), and
// after that the wall looked at, from 1.

import { html, noChange, nothing, render } from './vendor/lit-html.js';
import { announce, onChange, readLocal, readQuick, report, set, state } from './state.js';
import { padKeydown, padPaste, padSheet, restorePad, shelvePad, usePad } from './pad.js';
import { installShell, useNewVersion } from './shell.js';
import { stayAwake } from './awake.js';
import { takeHint } from './reach.js';
import { keepWall } from './walls.js';
import { knownDeclarations, loadDeclarations, loadFields, loadJobCalc, restartEngine } from './work.js';
import { kept } from './screens/rung.js';
import { answerQuick, quickList, quickPad, quickScreen, undoQuick } from './screens/quick.js';

const JOB_TABS = ['survey', 'layout', 'saw', 'take-off', 'finish', 'share', 'print'];
let part = null; // jobpart.js, once it is loaded

/** Load what a job needs, once; try again where it could not be had. */
async function jobPart() {
  if (part) return part;
  loadJobCalc();
  part = await import('./jobpart.js');
  part.loadJobs().catch(report);
  part.watchLaptop();
  set({});
  return part;
}

function readRoute() {
  const hash = takeHint(location.hash) ?? location.hash;
  if (hash !== location.hash || location.pathname !== '/p') history.replaceState(null, '', '/p' + hash);
  const [first = 'quick', second = '', third = 'survey', wall = ''] = location.hash.replace(/^#\/?/, '').split('/');
  if (first === 'job' && second) {
    if (/^[1-9]\d?$/.test(wall)) keepWall(second, Number(wall) - 1);
    return { screen: JOB_TABS.includes(third) ? third : 'survey', name: '', key: second };
  }
  if ((first === 'edit' || first === 'saw') && second) return { screen: 'link', name: '', key: '', link: second };
  if (first === 'jobs') return { screen: 'jobs', name: '', key: '' };
  return { screen: 'quick', name: second, key: '' };
}

function onRoute() {
  const route = readRoute();
  if (state.pad && (state.pad.owner !== ownerOf(route) || state.pad.screen !== route.screen)) shelvePad();
  set({ route, missing: null, card: null, calling: null });
  open(route).catch(report);
  scrollTo(0, 0);
}

async function open(route) {
  if (route.key) {
    const { openJob, openShare } = await jobPart();
    if (route.screen === 'share') openShare(route.key).catch(report);
    await openJob(route.key);
    if (state.job) await loadFields(state.job.doc);
  } else if (route.link) {
    await (await jobPart()).openLink(route.link);
  } else if (route.screen === 'jobs') {
    const { loadJobs } = await jobPart();
    await loadJobs();
  } else if (route.name) {
    readQuick(route.name);
    await answerQuick(route.name);
  }
  if (state.route === route) restorePad(ownerOf(route));
}

const ownerOf = (route) => (route.key ? 'job:' + route.key : 'quick:' + route.name);

usePad((pad) => (pad.owner.startsWith('quick:') ? quickPad(pad) : part && part.jobPad(pad)));

const clock = (at) => `${String(at.getHours()).padStart(2, '0')}:${String(at.getMinutes()).padStart(2, '0')}`;

/** How old what is shown may be, where the laptop shares the job; or what was done last. */
function asOf({ rev, sent }) {
  const { undone, told } = state;
  const { heard, old } = state.live;
  const at = Math.max(heard, Date.parse(sent) || 0);
  const words = at ? clock(new Date(at)) : '';
  if (rev && words && old) return html`<p class="asof"><b>▲ Old: as of ${words}</b>${undone && `. ${undone}`}</p>`;
  if (undone) return html`<p class="asof undone">${undone}</p>`;
  return html`<p class="asof">${rev && words ? `As of ${words}${told && `. ${told}`}` : nothing}</p>`;
}

/** "Saved on this phone, 1 to send" / "Sent 14:05", from what the laptop has answered. */
function sendState() {
  const job = state.job;
  if (!state.route.key || !job) return state.reach.known && !state.reach.ok ? 'Laptop not reachable' : '';
  if (job.refused) return 'Saved on this phone, not taken by the laptop';
  if (job.outbox.length) return `Saved on this phone, ${job.outbox.length} to send`;
  return job.sent ? `Sent ${clock(new Date(job.sent))}` : 'On this phone alone';
}

function header() {
  const { route } = state;
  const onJob = Boolean(route.key);
  const calculator = state.calculators.find((c) => c.name === route.name);
  const title = onJob ? (state.job && state.job.doc.title) || 'Untitled job'
    : route.screen === 'jobs' ? 'Jobs on this phone' : calculator ? calculator.title : 'Quick';
  const canUndo = onJob ? state.job && state.job.undo.length
    : state.quick[route.name] && state.quick[route.name].undo.length;
  const undo = () => (onJob ? part.undoJob() : undoQuick(route.name)).catch(report);
  const undoable = onJob ? ['survey', 'layout', 'saw', 'take-off', 'finish'].includes(route.screen) : route.name;
  return html`<header class="top">
    ${route.name || route.screen === 'jobs' ? html`<a class="back" href="#/quick" aria-label="All calculators">‹</a>` : nothing}
    <div class="what"><h1>${title}</h1><p class="sent">${sendState()}</p>
      ${onJob && state.job ? asOf(state.job) : nothing}</div>
    ${undoable ? html`<button type="button" class="undo" ?disabled=${!canUndo}
      @click=${undo}>Undo</button>` : nothing}
  </header>`;
}

function nav() {
  const key = state.route.key || state.prefs.job;
  const to = (screen) => (key ? `#/job/${key}/${screen}` : '#/jobs');
  const item = (screen, label, href) => html`<a href=${href}
    aria-current=${state.route.screen === screen ? 'page' : 'false'}>${label}</a>`;
  return html`<nav class="tabs" aria-label="Screens">
    ${item('survey', 'Survey', to('survey'))}
    ${item('layout', 'Layout', to('layout'))}${item('saw', 'Saw', to('saw'))}
    ${item('take-off', 'Take-off', to('take-off'))}${item('finish', 'Finish', to('finish'))}
  </nav>`;
}

const notHere = (route) => html`<section class="card"><h2>This job is not here yet</h2><p>${state.missing.message}</p>
  <button type="button" class="main" @click=${() => open(route).catch(report)}>Try again</button></section>`;

function screen() {
  const { route } = state;
  if (route.screen === 'jobs') return part ? part.SCREENS.jobs() : html`<p class="boot">Opening the jobs.</p>`;
  if (route.link) return state.missing ? notHere(route) : html`<p class="boot">Opening the job.</p>`;
  if (!route.key) return route.name ? quickScreen(route.name) : quickList();
  if (state.missing && state.missing.key === route.key) return notHere(route);
  return state.job ? part.SCREENS[route.screen]() : html`<p class="boot">Opening the job.</p>`;
}

/** What went wrong; shown on the screens and over the keypad alike. */
function troubles() {
  return html`
    ${state.notice ? html`<div class="notice" role="alert"><p>${state.notice}</p>
      <button type="button" @click=${() => set({ notice: '' })}>Close</button></div>` : nothing}
    ${state.engine.message ? html`<div class="notice" role="alert"><p>${state.engine.message}</p>
      <button type="button" @click=${restartEngine}>Start it again</button></div>` : nothing}`;
}

/** Two phones wrote the same field apart: both are kept until a person picks. */
const pick = ({ path, label, options }) => html`<div class="notice" role="alert">
  <p>${label}: two phones say different things. Both are kept. Which is right?</p>
  ${options.map((text, place) => html`<button type="button" @click=${() => part.settle(path, place).catch(report)}>${text}</button>`)}</div>`;
let offered = false; // a new version stands on the screen

/** Whether to offer the new version that is there: not while something is keyed, typed or asked. */
function offers() {
  const typing = document.activeElement?.matches('input, textarea:not([readonly])');
  const midway = state.route.key && state.job && part && part.midway();
  offered = state.worker.waiting && !midway && (offered || (!state.pad && !typing));
  return offered;
}

/** Whatever was changed is written first. */
async function changeVersion() {
  if (part) await part.loadJobs();
  await useNewVersion();
}

function notices() {
  const { job, route, worker } = state;
  return html`
    ${offers() ? html`<div class="notice"><p>A new version of this page is ready.</p>
      <button type="button" ?disabled=${worker.changing} @click=${() => changeVersion().catch(report)}>
        ${worker.changing ? 'Changing' : 'Change to it'}</button></div>` : nothing}
    ${route.key && job ? job.apart.map(pick) : nothing}
    ${route.key && job && job.ended ? html`<div class="notice" role="alert"><p>The link this job came by was taken back.
      What is keyed in here stays on this phone, and is not sent. Scan the new link, and it is.</p></div>` : nothing}
    ${route.screen === 'survey' && job && job.kind === 'saw' ? html`<div class="notice"><p>This phone has the saw’s link:
      it shows the survey, and changes nothing in it.</p></div>` : nothing}
    ${route.key && job && !job.ended && part && part.waiting(job) ? html`<div class="notice" role="alert"><p>What was changed here
      before is kept, and not sent: the saw’s link does not take it. Scan the link to measure, and it is sent.</p></div>` : nothing}
    ${route.key && job && job.refused ? html`<div class="notice" role="alert">
      <p>The laptop did not take this job: ${job.refused.message}
        ${job.refused.problems.map((p) => html`<br>${p.message} ${p.fix}`)}</p></div>` : nothing}`;
}

const planIs = (plan) => (!plan || plan.busy ? 'busy' : !plan.view ? 'none' : plan.search ? 'searched' : 'whole');

let drawn = false;

/** The frame and its screen; left as it stands while the keypad covers it. */
function page(covered) {
  if (covered && drawn) return noChange;
  drawn = true;
  return html`${header()}${troubles()}${notices()}<main>${screen()}</main>${kept()}${nav()}`;
}

function draw() {
  const pad = padSheet(troubles());
  const sheet = pad === nothing && part ? part.sheet() : nothing;
  const open = pad !== nothing || sheet !== nothing;
  render(html`
    <div class="page" ?inert=${open}>${page(pad !== nothing)}</div>
    ${pad}${sheet}`, document.getElementById('app'));
  document.body.classList.toggle('padded', open);
  stayAwake(Boolean(state.route.key));
  document.body.dataset.engine = state.engine.ready ? 'ready' : 'starting';
  document.body.dataset.plan = planIs(state.plan);
}

async function boot() {
  document.getElementById('app').replaceChildren();
  onChange(draw);
  window.addEventListener('hashchange', onRoute);
  window.addEventListener('keydown', (event) => {
    if (state.card || (state.calling && !state.pad)) part.sheetKeydown(event);
    else padKeydown(event);
  });
  window.addEventListener('paste', padPaste);
  window.addEventListener('focusout', () => state.worker.waiting && set({})); // typing has ended
  window.addEventListener('unhandledrejection', (event) => report(event.reason));
  window.addEventListener('error', (event) => report(event.error ?? new Error(event.message)));
  window.addEventListener('storage', () => {
    const { name } = state.route; // another tab may have keyed something in
    if (!name) return;
    readQuick(name);
    answerQuick(name).catch(report);
  });
  set({ route: readRoute(), prefs: readLocal('prefs', state.prefs) });
  installShell().catch(report);
  const known = knownDeclarations();
  if (known) onRoute(); // the answer that is asked for comes before everything else
  await loadDeclarations().catch(report);
  if (!known) onRoute();
  await jobPart();
}

boot().catch((error) => {
  report(error);
  announce('Something went wrong on this page.');
});
