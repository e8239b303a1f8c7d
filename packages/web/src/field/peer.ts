/**
 * With whom this device exchanges the notebook: the engine of the computer that it runs on, or at home the desk that it
 * was paired with. Out in the meadow there is nobody, and nothing is missing.
 */
import { signal } from '@preact/signals';
import type { EngineAnswer } from '@tepal/formats';
import { engineOf } from '../engine/engine.ts';
import { keep, kept } from './kept.ts';

/** The desk as a phone knows it: the credential that it was given when it was let in. */
export interface PairedDesk {
  readonly credential: string;
  /** ISO 8601. */
  readonly pairedAt: string;
}

/** The engine of this computer speaks plain HTTP to its own pages, the desk on the home network TLS. */
export const atDesk =
  location.protocol === 'http:' && /^(127\.0\.0\.1|localhost|\[::1\])$/.test(location.hostname);

export const pairedDesk = signal<PairedDesk | null>(null);

/** Reads the pairing that this phone keeps; there is none on the desk itself. */
export async function readPairing(): Promise<void> {
  if (!atDesk) pairedDesk.value = (await kept<PairedDesk>('desk').catch(() => undefined)) ?? null;
}

/**
 * Lets this phone in at the desk whose pages are open.
 *
 * @returns null when it is let in, else the sentence that says why not
 */
export async function pairWithDesk(code: string, name: string): Promise<string | null> {
  const answer = await ask('/meet/pair', JSON.stringify({ code, name }), 'application/json');
  if (!answer.ok) return answer.fault.message;
  const { credential } = JSON.parse(new TextDecoder().decode(answer.value)) as { credential: string };
  const desk: PairedDesk = { credential, pairedAt: new Date().toISOString() };
  await keep('desk', desk);
  pairedDesk.value = desk;
  return null;
}

/**
 * Hands the notebook over and takes back both, merged.
 *
 * @returns a fault of status 0 when nobody answers, which out of doors is as it should be
 */
export function exchangeNotebook(
  bytes: Uint8Array<ArrayBuffer>,
): Promise<EngineAnswer<Uint8Array<ArrayBuffer>>> {
  if (atDesk) return engineOf('mine').mergeNotebook(bytes);
  const desk = pairedDesk.value;
  if (desk === null)
    return Promise.resolve({ ok: false, fault: { status: 0, message: 'No desk is paired.' } });
  return ask('/meet/notebook', bytes, 'application/octet-stream', desk.credential);
}

async function ask(
  path: string,
  body: string | Uint8Array<ArrayBuffer>,
  type: string,
  credential?: string,
): Promise<EngineAnswer<Uint8Array<ArrayBuffer>>> {
  try {
    const answer = await fetch(path, {
      method: 'POST',
      body,
      headers: {
        'x-tepal': '1',
        'content-type': type,
        ...(credential === undefined ? {} : { authorization: `Tepal ${credential}` }),
      },
    });
    if (answer.ok) return { ok: true, value: new Uint8Array(await answer.arrayBuffer()) };
    const told = (await answer.json().catch(() => null)) as { message?: unknown } | null;
    const message =
      typeof told?.message === 'string' ? told.message : `The desk answered with status ${answer.status}.`;
    return { ok: false, fault: { status: answer.status, message } };
  } catch {
    return {
      ok: false,
      fault: { status: 0, message: 'The desk does not answer; is it open, and on this network?' },
    };
  }
}
