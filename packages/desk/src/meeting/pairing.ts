/** The code that lets one phone in: short, spoken or scanned, good once and for two minutes. */
import { randomInt, timingSafeEqual } from 'node:crypto';

/** Without letters that are taken for one another. */
const LETTERS = '23456789ABCDEFGHJKMNPQRSTVWXYZ';
const LENGTH = 8;
const LASTS_MS = 120_000;
/** After so many wrong tries the code is void, whoever tried. */
const TRIES = 5;

export interface PairingCode {
  readonly code: string;
  readonly expiresAtMs: number;
}

export interface Pairing {
  /** A new code; the one before is void. */
  newCode(): PairingCode;
  /** Whether the code is the one that stands; it is void afterwards. */
  redeem(code: string): boolean;
}

/** @param clock ms, steady */
export function openPairing(clock: () => number): Pairing {
  let standing: { code: string; expiresAtMs: number; triesLeft: number } | null = null;
  return {
    newCode() {
      const code = Array.from({ length: LENGTH }, () => LETTERS[randomInt(LETTERS.length)]).join('');
      standing = { code, expiresAtMs: clock() + LASTS_MS, triesLeft: TRIES };
      return { code, expiresAtMs: standing.expiresAtMs };
    },
    redeem(code) {
      if (standing === null || clock() > standing.expiresAtMs) {
        standing = null;
        return false;
      }
      const given = Buffer.from(code.toUpperCase().replaceAll(/[^A-Z0-9]/g, ''));
      const wanted = Buffer.from(standing.code);
      if (given.length === wanted.length && timingSafeEqual(given, wanted)) {
        standing = null;
        return true;
      }
      standing.triesLeft -= 1;
      if (standing.triesLeft === 0) standing = null;
      return false;
    },
  };
}
