// What the laptop says of its certificate, put into the page of set-up.

const at = (id) => document.getElementById(id);
const PRINT_LINE = 24; // characters: eight bytes, as on the laptop's own screen

/** What the laptop says of itself; {problem} where it has nothing to give. */
async function laptop() {
  let response;
  try {
    response = await fetch('/api/laptop', { cache: 'no-store' });
  } catch {
    return { problem: 'The laptop is not reachable. Join its network, then reload this page.' };
  }
  if (response.status === 404) return { problem: 'This laptop has no certificate to give.' };
  if (!response.ok) return { problem: `The laptop could not say (${response.status}). Reload this page.` };
  return response.json();
}

function fill(of, words) {
  for (const place of document.querySelectorAll(`[data-of="${of}"]`)) place.textContent = words;
}

function show({ name, https, addresses = [], fingerprint, ca_until: until, problem }) {
  const state = at('state');
  if (!https) {
    state.textContent = `${problem || 'This laptop serves no https.'} So far the page works while its tab is open.`;
    return;
  }
  if (fingerprint) {
    fill('name', name);
    fill('until', new Date(until).toLocaleDateString('en-GB', { dateStyle: 'long' }));
    const lines = fingerprint.match(new RegExp(`.{1,${PRINT_LINE}}`, 'g')).map((line) => line.replace(/:$/, ''));
    at('print').textContent = lines.join('\n');
    at('certificate').hidden = false;
    for (const button of document.querySelectorAll('[data-get]')) button.href = button.dataset.get;
    state.hidden = true;
  } else {
    state.textContent = 'There is nothing to install: phones trust this address by themselves. Open it below.';
  }
  at('secure').href = `${https}/p`;
  at('secure').textContent = `Open ${https}/p`;
  const others = addresses.filter((address) => address !== https).map((address) => {
    const link = document.createElement('a');
    link.href = `${address}/p`;
    link.textContent = `${address}/p`;
    return link;
  });
  at('others').hidden = !others.length;
  at('others').querySelector('span').replaceChildren(...others.flatMap((link) => [link, ' ']));
  at('open').hidden = false;
}

const { userAgent } = navigator;
if (/iPhone|iPad/.test(userAgent)) at('iphone').open = true;
else if (/Android/.test(userAgent)) at('android').open = true;

laptop().then(show);
