// Takes the page's own files off this phone, so that it comes anew from the laptop. Stands by
// itself: it uses nothing of the page's scripts, which may be what is broken.

const PREFIX = 'lapwright';
const NAMES_SHOWN = 5;

const at = (id) => document.getElementById(id);
const many = (n, one) => `${n} ${one}${n === 1 ? '' : 's'}`;

/** The jobs on this phone: [{title, sent}]; null where they can't be read. */
async function jobsHere() {
  const known = indexedDB.databases ? await indexedDB.databases() : [{ name: PREFIX }];
  if (!known.some(({ name }) => name === PREFIX)) return [];
  const db = await told(indexedDB.open(PREFIX));
  try {
    if (!db.objectStoreNames.contains('jobs')) return [];
    const records = await told(db.transaction('jobs').objectStore('jobs').getAll());
    return records.map(({ doc, outbox, dirty }) => ({ title: (doc && doc.title) || 'Untitled job', sent: outbox ? !outbox.length : !dirty }));
  } finally {
    db.close();
  }
}

function told(request) {
  return new Promise((resolve, reject) => {
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error);
    request.onblocked = () => say('It waits for the other tabs of this page: close them, and it goes on by itself.');
  });
}

function say(words) {
  at('here').textContent = words;
}

/** "2 jobs (North wall, Hall), 1 of them not on the laptop yet" */
function named(jobs) {
  if (jobs === null) return 'all jobs on this phone, which can’t be read now';
  const titles = jobs.slice(0, NAMES_SHOWN).map((j) => j.title).join(', ');
  const more = jobs.length > NAMES_SHOWN ? ` and ${jobs.length - NAMES_SHOWN} more` : '';
  const unsent = jobs.filter((j) => !j.sent).length;
  const where = unsent ? `, ${unsent} of them not on the laptop yet` : ', all of them on the laptop as well';
  return `${many(jobs.length, 'job')} (${titles}${more})${where}`;
}

/** The page's own files, and what opens them without the laptop; what was done, as sentences. */
async function resetPage() {
  const did = [];
  if (navigator.serviceWorker) {
    const all = await navigator.serviceWorker.getRegistrations();
    for (const one of all) await one.unregister();
    did.push(all.length ? 'What opened the page without the laptop is switched off.' : 'Nothing opened the page without the laptop.');
  }
  if (self.caches) {
    const all = await caches.keys();
    for (const name of all) await caches.delete(name);
    did.push(all.length ? 'The page’s files are off this phone.' : 'No files of the page were kept on this phone.');
  }
  if (!did.length) did.push('Nothing of the page was kept on this phone: over plain http it comes from the laptop each time.');
  forget((key) => key === 'lapwright.declared'); // the last version's words, kept to start sooner
  return did;
}

/** Take small things that were kept off this phone, where it lets the page keep any. */
function forget(which) {
  let names = [];
  try {
    names = Object.keys(localStorage);
  } catch (error) {
    if (error.name !== 'SecurityError') throw error; // denied: nothing is kept there
  }
  for (const name of names.filter(which)) localStorage.removeItem(name);
}

async function deleteJobs() {
  await told(indexedDB.deleteDatabase(PREFIX));
  forget((key) => key.startsWith(PREFIX + '.'));
  return 'The jobs, readings and settings on this phone are deleted.';
}

function report(did) {
  at('did').replaceChildren(...did.map((words) => {
    const item = document.createElement('li');
    item.textContent = words;
    return item;
  }));
  at('done').hidden = false;
  at('done').scrollIntoView({ block: 'nearest' });
}

async function look() {
  let jobs = null;
  try {
    jobs = await jobsHere();
    say(jobs.length ? `On this phone: ${named(jobs)}.` : 'No job is on this phone.');
  } catch (error) {
    say(`The jobs on this phone can’t be read (${error.message}). Resetting the page leaves them as they are.`);
  }
  at('lost').textContent = jobs && !jobs.length ? 'No job is on this phone.' : `Gone from this phone: ${named(jobs)}.`;
  for (const id of ['reset', 'delete']) at(id).disabled = false;
  return jobs;
}

const failed = (error) => say(`That did not work: ${error.message}. Clear this site’s data in the browser’s settings; that also deletes the jobs on this phone.`);

at('reset').addEventListener('click', async () => {
  try {
    const did = await resetPage();
    const jobs = await look();
    report([...did, jobs === null ? 'The jobs on this phone were left as they are.'
      : jobs.length ? `Kept: ${named(jobs)}.` : 'There was no job on this phone to keep.']);
  } catch (error) {
    failed(error);
  }
});

at('delete').addEventListener('click', async () => {
  try {
    report([...(await resetPage()), await deleteJobs()]);
    await look();
  } catch (error) {
    failed(error);
  }
});

look();
