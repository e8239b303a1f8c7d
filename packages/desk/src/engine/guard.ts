/** Who may speak to the engine: this computer's own pages, and nobody else. */
import type { FastifyInstance, FastifyRequest } from 'fastify';

/** A fault that the engine answers with a status and a sentence. */
export class EngineRefusal extends Error {
  override readonly name = 'EngineRefusal';

  constructor(
    readonly statusCode: number,
    message: string,
  ) {
    super(message);
  }
}

const loopback = /^(127\.0\.0\.1|localhost|\[::1\])(:\d+)?$/;

/**
 * Refuses what does not come from the engine's own pages: another Host (a name that was made to point here), another
 * Origin, and writes without the header that no foreign page can send unasked.
 */
export function guardEngine(server: FastifyInstance): void {
  server.addHook('onRequest', async (request) => {
    const refusal = refusalOf(request);
    if (refusal !== null) throw new EngineRefusal(403, refusal);
  });
}

function refusalOf(request: FastifyRequest): string | null {
  const { host, origin, 'sec-fetch-site': from } = request.headers;
  if (host === undefined || !loopback.test(host)) {
    return 'The engine answers this computer only, under its loopback address.';
  }
  if (origin !== undefined && origin !== `http://${host}`) {
    return 'The engine answers its own pages only; this request comes from another site.';
  }
  const toEngine = request.url.startsWith('/api/');
  if (toEngine && from !== undefined && from !== 'same-origin' && from !== 'none') {
    return 'The engine answers its own pages only; this request comes from another site.';
  }
  if (!['GET', 'HEAD'].includes(request.method) && request.headers['x-tepal'] !== '1') {
    return 'A write needs the header x-tepal: 1, which the pages of the engine send.';
  }
  return null;
}
