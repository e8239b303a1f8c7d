/**
 * What phones of the house meet: the field pages, and the notebook for those that were let in. It listens on the home
 * network only while told to, speaks TLS, and knows nothing of photographs, folders or jobs.
 */
import { hostname, networkInterfaces } from 'node:os';
import type { Server } from 'node:https';
import Fastify, { type FastifyInstance, type FastifyRequest } from 'fastify';
import { EngineRefusal } from '../engine/guard.ts';
import { bodyOf, bytesOf, textField } from '../engine/routes/requests.ts';
import { pagesFolder, servePages } from '../engine/pages.ts';
import { answerFaults } from '../engine/answer-faults.ts';
import type { HouseCertificate } from './certificate.ts';
import { limitConnections } from './connections.ts';
import type { Devices } from './devices.ts';
import type { Pairing } from './pairing.ts';

/** Largest notebook that a phone may send [byte], and largest head of a request. */
const MOST_BODY = 64 * 1024 * 1024;
const MOST_HEAD = 8 * 1024;

export interface MeetingParts {
  readonly certificate: HouseCertificate;
  readonly devices: Devices;
  readonly pairing: Pairing;
  /** The notebook's bytes. */
  notebook(): Promise<Uint8Array>;
  /** Merges a phone's notebook; answers the merged bytes. */
  merge(bytes: Uint8Array): Promise<Uint8Array>;
}

/** IP addresses and names under which this computer is met on its network, the most usual first. */
export function meetingAddresses(): readonly string[] {
  const found = Object.values(networkInterfaces())
    .flatMap((addresses) => addresses ?? [])
    .filter(({ internal, family }) => !internal && family === 'IPv4')
    .map(({ address }) => address);
  return [...new Set([...found, `${hostname()}.local`.toLowerCase(), '127.0.0.1'])];
}

export function buildMeeting(parts: MeetingParts, addresses: readonly string[]): FastifyInstance {
  const { certificate, devices, pairing } = parts;
  const server = Fastify({
    https: {
      cert: certificate.certificate,
      key: certificate.key,
      minVersion: 'TLSv1.2',
      handshakeTimeout: 5000,
      maxHeaderSize: MOST_HEAD,
      headersTimeout: 5000,
      connectionsCheckingInterval: 1000,
    },
    bodyLimit: MOST_BODY,
    requestTimeout: 30_000,
    keepAliveTimeout: 5000,
    forceCloseConnections: true,
  }) as unknown as FastifyInstance;
  limitConnections(server.server as unknown as Server);
  server.addContentTypeParser('application/octet-stream', { parseAs: 'buffer' }, (_request, body, done) =>
    done(null, body),
  );
  answerFaults(server, MOST_BODY);
  server.addHook('onRequest', async (request) => {
    const refusal = refusalOf(request, addresses);
    if (refusal !== null) throw new EngineRefusal(403, refusal);
  });
  servePages(server, pagesFolder());

  server.get('/meet', (): { tepal: true; fingerprint: string } => ({
    tepal: true,
    fingerprint: certificate.fingerprint,
  }));
  server.post('/meet/pair', async (request) => {
    const body = bodyOf(request.body);
    const name = textField(body, 'name', 80).trim() || 'a phone';
    if (!pairing.redeem(textField(body, 'code', 40))) {
      throw new EngineRefusal(403, 'That code does not stand, or no longer; ask for a new one at the desk.');
    }
    return { credential: await devices.add(name, new Date().toISOString()) };
  });
  const letIn = async (request: FastifyRequest) => {
    const given = /^Tepal ([\w-]+\.[\w-]+)$/.exec(request.headers.authorization ?? '')?.[1];
    const device = given === undefined ? null : devices.known(given);
    if (device === null) {
      throw new EngineRefusal(401, 'This phone is not paired with the desk, or was taken off its list.');
    }
    await devices.seen(device.id, new Date().toISOString());
  };
  server.get('/meet/notebook', { onRequest: letIn }, async (_request, reply) =>
    reply.type('application/octet-stream').send(Buffer.from(await parts.notebook())),
  );
  server.post('/meet/notebook', { onRequest: letIn }, async (request, reply) =>
    reply.type('application/octet-stream').send(Buffer.from(await parts.merge(bytesOf(request.body)))),
  );
  return server;
}

/** Another name for this computer, another site, or a write that a foreign form could send. */
function refusalOf(request: FastifyRequest, addresses: readonly string[]): string | null {
  const { host = '', origin, 'sec-fetch-site': from } = request.headers;
  if (!addresses.includes(host.replace(/:\d+$/, '').toLowerCase())) {
    return 'The desk answers under its own address only.';
  }
  if (origin !== undefined && origin !== `https://${host}`) return 'The desk answers its own pages only.';
  if (request.url.startsWith('/meet') && from !== undefined && from !== 'same-origin' && from !== 'none') {
    return 'The desk answers its own pages only.';
  }
  if (!['GET', 'HEAD'].includes(request.method) && request.headers['x-tepal'] !== '1') {
    return 'A write needs the header x-tepal: 1, which the pages of the desk send.';
  }
  return null;
}
