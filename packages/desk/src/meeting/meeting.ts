/** Meeting the phones of the house: shut until the photographer opens it, and shut again with the engine. */
import type { MeetingCode, MeetingState } from '@tepal/formats';
import type { FastifyInstance } from 'fastify';
import { DeskFault, reasonOf } from '../files/faults.ts';
import { houseCertificate, type HouseCertificate } from './certificate.ts';
import { openDevices } from './devices.ts';
import { buildMeeting, meetingAddresses, type MeetingParts } from './meeting-server.ts';
import { openPairing } from './pairing.ts';

const USUAL_PORT = 4748;
const PORTS_TRIED = 10;

export interface Meeting {
  state(): MeetingState;
  /** Listens on the home network from now on. */
  open(): Promise<MeetingState>;
  /** Stops listening; paired phones stay paired. */
  shut(): Promise<MeetingState>;
  /** @throws DeskFault while it does not listen */
  newCode(): MeetingCode;
  revoke(deviceId: string): Promise<MeetingState>;
}

/** @param at.folder where certificate and paired phones are kept */
export async function openMeeting(
  at: { readonly folder: string } & Pick<MeetingParts, 'notebook' | 'merge'>,
): Promise<Meeting> {
  const devices = await openDevices(at.folder);
  const pairing = openPairing(() => performance.now());
  let listening: { server: FastifyInstance; port: number; certificate: HouseCertificate } | null = null;
  const state = (): MeetingState => ({
    listening: listening !== null,
    addresses:
      listening === null
        ? []
        : meetingAddresses().map((address) => `https://${address}:${listening?.port ?? USUAL_PORT}`),
    fingerprint: listening?.certificate.fingerprint ?? null,
    devices: devices.list(),
  });
  return {
    state,
    async open() {
      if (listening !== null) return state();
      const addresses = meetingAddresses();
      const certificate = await houseCertificate(at.folder, addresses, Date.now());
      const { notebook, merge } = at;
      const server = buildMeeting({ certificate, devices, pairing, notebook, merge }, addresses);
      listening = { server, certificate, port: await listen(server) };
      return state();
    },
    async shut() {
      const before = listening;
      listening = null;
      await before?.server.close();
      return state();
    },
    newCode() {
      if (listening === null) throw new DeskFault('Open the meeting first; then a code lets a phone in.');
      const { code, expiresAtMs } = pairing.newCode();
      const address = state().addresses[0]!;
      const secondsLeft = Math.round((expiresAtMs - performance.now()) / 1000);
      return { code, secondsLeft, link: `${address}/?meet=${code}` };
    },
    async revoke(id) {
      if (!(await devices.revoke(id))) throw new DeskFault('That phone is not on the list.');
      return state();
    },
  };
}

async function listen(server: FastifyInstance): Promise<number> {
  for (let port = USUAL_PORT; port < USUAL_PORT + PORTS_TRIED; port += 1) {
    try {
      await server.listen({ host: '0.0.0.0', port });
      return port;
    } catch (error) {
      if ((error as { code?: string }).code !== 'EADDRINUSE') {
        throw new DeskFault(`The desk cannot listen on the home network: ${reasonOf(error)}.`, 3);
      }
    }
  }
  throw new DeskFault(`The ports ${USUAL_PORT} to ${USUAL_PORT + PORTS_TRIED - 1} are all taken.`, 3);
}
