// The first script of the page, and a classic one: the engine starts while the
// rest is still on its way. engine.js takes the worker over, with what it has said.

const { version } = document.documentElement.dataset; // as in version.js
const worker = new Worker(`/worker.js?v=${version}`, { type: 'module' });
worker.said = [];
worker.onmessage = ({ data }) => worker.said.push(data);
worker.onerror = (event) => {
  worker.said.push({ broken: event.message || 'its program did not load' });
};
self.firstWorker = worker;
