import { readFile } from 'node:fs/promises';
import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import { extname, join, normalize } from 'node:path';
import { fileURLToPath } from 'node:url';

const dist = fileURLToPath(new URL('../packages/web/dist', import.meta.url));

const types: Readonly<Record<string, string>> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript',
  '.css': 'text/css',
  '.wasm': 'application/wasm',
  '.svg': 'image/svg+xml',
  '.webmanifest': 'application/manifest+json',
};

/** The built pages at an address that has no engine, as a static host serves them. */
export async function startStaticAddress(): Promise<{ readonly address: string; stop(): Promise<void> }> {
  const server = createServer((request, response) => {
    const path = normalize(new URL(request.url ?? '/', 'http://here').pathname);
    if (path.startsWith('/api/') || path.startsWith('/meet/')) {
      response.writeHead(404).end();
      return;
    }
    const file = extname(path) === '' ? '/index.html' : path;
    readFile(join(dist, file)).then(
      (bytes) =>
        response
          .writeHead(200, { 'content-type': types[extname(file)] ?? 'application/octet-stream' })
          .end(bytes),
      () => response.writeHead(404).end(),
    );
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  const { port } = server.address() as AddressInfo;
  return {
    address: `http://localhost:${port}`,
    stop: () =>
      new Promise((resolve) => {
        server.closeAllConnections();
        server.close(() => resolve());
      }),
  };
}
