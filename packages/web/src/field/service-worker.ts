/**
 * Keeps the field pages (Days, Set-up) working without a network: their files are stored when the worker is
 * installed, answers about the invented outing whenever one is given. Photographs are never stored here.
 */
/// <reference lib="webworker" />

/** Written in by the build: what the field pages need, and a name for exactly these files. */
declare const fieldFiles: readonly string[];
declare const fieldVersion: string;

// The worker's own global, which the page's types call something else.
const worker = globalThis as unknown as ServiceWorkerGlobalScope;
const filesName = `field-files-${fieldVersion}`;
const answersName = 'field-answers';

/** Answers about the invented outing; what is the photographer's own lies in the notebook and its forecasts. */
const keptAnswer = /^\/api\/invented\/(days|notebook|sites\/[^/]+\/forecast)$/;

worker.addEventListener('install', (event) => {
  event.waitUntil(
    caches
      .open(filesName)
      .then((cache) => cache.addAll([...fieldFiles]))
      .then(() => worker.skipWaiting()),
  );
});

worker.addEventListener('activate', (event) => {
  event.waitUntil(
    caches
      .keys()
      .then((names) =>
        Promise.all(
          names
            .filter((name) => name.startsWith('field-files-') && name !== filesName)
            .map((name) => caches.delete(name)),
        ),
      )
      .then(() => worker.clients.claim()),
  );
});

worker.addEventListener('fetch', (event) => {
  const { request } = event;
  const url = new URL(request.url);
  if (request.method !== 'GET' || url.origin !== worker.location.origin) return;
  if (keptAnswer.test(url.pathname)) event.respondWith(newestAnswer(request));
  else if (url.pathname.startsWith('/api/')) return;
  else if (request.mode === 'navigate') event.respondWith(newestPage(request));
  else event.respondWith(storedFile(request));
});

/** Proves that the field pages open without a network: every file is looked up and read. */
worker.addEventListener('message', (event) => {
  const [port] = event.ports;
  if (event.data !== 'prove' || port === undefined) return;
  event.waitUntil(missingFiles().then((missing) => port.postMessage(missing)));
});

async function missingFiles(): Promise<readonly string[]> {
  const cache = await caches.open(filesName);
  const found = await Promise.all(
    fieldFiles.map(async (file) => {
      const stored = await cache.match(file);
      const bytes = stored?.ok === true ? (await stored.arrayBuffer()).byteLength : 0;
      return bytes > 0 ? [] : [file];
    }),
  );
  return found.flat();
}

async function newestAnswer(request: Request): Promise<Response> {
  const kept = await caches.open(answersName);
  try {
    const answer = await fetch(request);
    if (answer.ok) await kept.put(request, answer.clone());
    return answer;
  } catch (fault) {
    const stored = await kept.match(request);
    if (stored === undefined) throw fault;
    return stored;
  }
}

async function newestPage(request: Request): Promise<Response> {
  try {
    return await fetch(request);
  } catch (fault) {
    const stored = await (await caches.open(filesName)).match('/');
    if (stored === undefined) throw fault;
    return stored;
  }
}

async function storedFile(request: Request): Promise<Response> {
  return (await (await caches.open(filesName)).match(request)) ?? fetch(request);
}
