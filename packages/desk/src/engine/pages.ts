/** The pages as built: types, caching by hash, and the headers that let a page use shared memory. */
import { FORECAST_SOURCES, forecastSources } from '@tepal/formats';
import fastifyStatic from '@fastify/static';
import type { FastifyInstance } from 'fastify';
import { existsSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

/** Beside the bundle `packages/desk/dist`, or from the sources `packages/desk/src/engine`. */
const places = ['../../web/dist', '../../../web/dist'];

export function pagesFolder(): string | null {
  const found = places
    .map((place) => fileURLToPath(new URL(place, import.meta.url)))
    .find((path) => existsSync(`${path}/index.html`));
  return found ?? null;
}

const hashed = /-[A-Z0-9]{8}\.[a-z0-9.]+$/;

/** Whom a phone may ask for forecasts by itself, which it does where no engine is. */
const forecastServices = FORECAST_SOURCES.map((source) => forecastSources[source].address).join(' ');

/** The page's own scripts, styles, pictures and connections; nothing from anywhere else but forecasts. */
const policy = [
  "default-src 'self'",
  "script-src 'self' 'wasm-unsafe-eval'",
  "style-src 'self' 'unsafe-inline'",
  "img-src 'self' blob: data:",
  `connect-src 'self' blob: data: ${forecastServices}`,
  "worker-src 'self' blob:",
  "object-src 'none'",
  "base-uri 'none'",
  "frame-ancestors 'none'",
  "form-action 'self'",
].join('; ');

/** Serves the pages; an address without a file of that name is one of the pages' own, and gets the first page. */
export function servePages(server: FastifyInstance, folder: string | null): void {
  server.addHook('onSend', async (_request, reply) => {
    void reply.headers({
      'cross-origin-opener-policy': 'same-origin',
      'cross-origin-embedder-policy': 'require-corp',
      'cross-origin-resource-policy': 'same-origin',
      'content-security-policy': policy,
      'referrer-policy': 'no-referrer',
      'x-content-type-options': 'nosniff',
    });
  });
  if (folder === null) {
    server.get('/', (_request, reply) =>
      reply
        .type('text/plain; charset=utf-8')
        .send('The pages are not built; run "npm run build" in the folder of the clone.\n'),
    );
    return;
  }
  void server.register(fastifyStatic, {
    root: folder,
    cacheControl: false,
    setHeaders(reply, path) {
      const lasting = hashed.test(path);
      void reply.header('cache-control', lasting ? 'public, max-age=31536000, immutable' : 'no-cache');
    },
  });
  server.setNotFoundHandler((request, reply) => {
    const page =
      request.method === 'GET' &&
      !request.url.startsWith('/api/') &&
      !/\.[a-z0-9]+$/i.test(request.url.split('?')[0] ?? '');
    if (page) return reply.sendFile('index.html');
    return reply
      .code(404)
      .send({ status: 404, message: `There is nothing at ${request.url.split('?')[0]}.` });
  });
}
