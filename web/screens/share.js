// Share: the job's link and its QR, for a second phone.

import { html } from '../vendor/lit-html.js';
import { set, state } from '../state.js';
import { fetchLink, giveBack } from '../sync.js';

export async function openShare(key) {
  set({ share: null });
  let share = await fetchLink(key);
  if (share.gone && state.job && state.job.key === key) {
    await giveBack(key);
    share = { message: 'The laptop did not have this job; this phone is giving it back.' };
  }
  if (state.route.key === key) set({ share: { key, ...share } });
}

export function shareScreen() {
  const { share, job } = state;
  const back = html`<div class="pair"><a class="plain" href="#/job/${job.key}/survey">Back to the survey</a></div>`;
  if (!share) return html`${back}<p class="hold">Asking the laptop for the link.</p>`;
  if (!share.link) {
    return html`${back}<p class="hold">${share.message}</p>
      <button type="button" class="main" @click=${() => openShare(job.key)}>Try again</button>`;
  }
  return html`${back}<section class="card share">
    <h2>Hold this in front of the other phone’s camera</h2>
    <img class="qr" alt="QR code of the job’s link" src=${'data:image/svg+xml,' + encodeURIComponent(share.qr)}>
    <label class="field tall"><span class="name">Or type the link</span>
      <textarea readonly rows="3" @focus=${(event) => event.target.select()}>${share.link}</textarea></label>
    <p>Whoever has the link can read and change this job.</p></section>`;
}
