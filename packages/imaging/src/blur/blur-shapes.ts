/** What blurs of known shape leave of the power in each ring and direction: logarithms of squared transfers. */
import { transferOf } from '../rendered/transfer.ts';
import { SECTORS } from './spectrum-bins.ts';

/** Bounds of the rings [cycles/px], each a sixth wider than the last. */
export const RING_EDGES: readonly number[] = Array.from({ length: 25 }, (_, i) => 0.0075 * 56 ** (i / 24));
export const RINGS = RING_EDGES.length - 1;

/** Sigmas of round blurs [px], a tenth apart; lens, filter and pixel leave no photograph below the first. */
export const ROUND_SIGMAS: readonly number[] = Array.from({ length: 38 }, (_, i) => 0.3 * 1.1 ** i);
/** Lengths of streaks [px], an eighth apart; the first is none. */
export const STREAK_LENGTHS: readonly number[] = [0, ...Array.from({ length: 27 }, (_, i) => 2 * 1.125 ** i)];
/** Directions of streaks: twice as fine as the sectors. */
export const DIRECTIONS = 2 * SECTORS;

export type RoundShape = 'gaussian' | 'disc';
/** The disc of defocus comes on top of what lens, filter and pixel do [px]. */
const BENEATH_A_DISC = 0.45;
/** Power below this share of the scene's is taken for ripple and noise. */
const LEAST_SHARE = 3e-5;
/** Points within a ring, and within a sector, over which a transfer is averaged. */
const ALONG = 9;
const ROUND = 5;

/**
 * Logarithms of a round blur's squared transfer, ring by ring; made when first asked for.
 *
 * @param round which of ROUND_SIGMAS
 * @returns null where the shape has no such sigma
 */
export function roundLogs(shape: RoundShape, round: number): Float64Array | null {
  const known = roundsMade[shape][round];
  return known === undefined ? (roundsMade[shape][round] = roundRings(shape, ROUND_SIGMAS[round]!)) : known;
}

const roundsMade: Readonly<Record<RoundShape, (Float64Array | null)[]>> = { gaussian: [], disc: [] };

function roundRings(shape: RoundShape, sigma: number): Float64Array | null {
  if (shape === 'gaussian') return ringLogs((f) => transferOf({ gaussianSigmaPx: sigma }, f, 0));
  const discVariance = sigma ** 2 - BENEATH_A_DISC ** 2;
  if (discVariance < 0.2) return null;
  const blur = { gaussianSigmaPx: BENEATH_A_DISC, discDiameterPx: 4 * Math.sqrt(discVariance) };
  return ringLogs((f) => transferOf(blur, f, 0));
}

/**
 * Logarithms of a streak's squared transfer, ring by ring; made when first asked for, since most are never.
 *
 * @param streak which of STREAK_LENGTHS
 * @param step angle between sector and streak in steps of half a sector [0 .. SECTORS, a right angle]
 */
export function streakLogs(streak: number, step: number): Float64Array {
  return (streaksMade[streak * (SECTORS + 1) + step] ??= streakRings(STREAK_LENGTHS[streak]!, step));
}

const streaksMade: Float64Array[] = [];

function streakRings(lengthPx: number, step: number): Float64Array {
  const angle = (step * Math.PI) / DIRECTIONS;
  // The streak lies along x, so that only that part of a frequency counts; five cosines serve all rings.
  const across = Array.from({ length: ROUND }, (_, k) =>
    Math.cos(angle + (((k + 0.5) / ROUND - 0.5) * Math.PI) / SECTORS),
  );
  return Float64Array.from({ length: RINGS }, (_, ring) =>
    logMean(ROUND * ALONG, (k) => {
      const x = Math.PI * lengthPx * within(ring, (Math.floor(k / ROUND) + 0.5) / ALONG) * across[k % ROUND]!;
      return Math.abs(x) < 1e-6 ? 1 : Math.sin(x) / x;
    }),
  );
}

function ringLogs(transfer: (f: number) => number): Float64Array {
  return Float64Array.from({ length: RINGS }, (_, ring) =>
    logMean(ALONG, (k) => transfer(within(ring, (k + 0.5) / ALONG))),
  );
}

/** Every ring is as much wider than the last. */
const WIDER = Math.log(RING_EDGES[1]! / RING_EDGES[0]!);

function within(ring: number, share: number): number {
  return RING_EDGES[ring]! * Math.exp(WIDER * share);
}

function logMean(count: number, transfer: (k: number) => number): number {
  let sum = 0;
  for (let k = 0; k < count; k++) sum += transfer(k) ** 2;
  return Math.log(sum / count + LEAST_SHARE);
}
