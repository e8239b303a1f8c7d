/** How likely a spectrum is, given a blur: scenes have a power that falls with frequency, much alike in all of them. */
import { RING_EDGES, RINGS } from './blur-shapes.ts';
import { SECTORS } from './spectrum-bins.ts';

/**
 * Power of a sharp scene falls as f to this power; scenes scatter about it, directions within a scene by less. Measured
 * on 25 places of 14 photographs reduced three times and more; Field's own scenes gave -2.
 *
 * @source Field 1987, J. Opt. Soc. Am. A 4, 2379 [from memory]: amplitude falls as 1/f
 */
const SLOPE = -2.4;
const SLOPE_SCATTER = 0.3;
const GAIN_SCATTER = 3;
const SECTOR_GAIN_SCATTER = 0.45;
const SECTOR_SLOPE_SCATTER = 0.2;
/** What is left in a cell of a sharp scene, natural logarithm of power. */
const CELL_SCATTER = 0.3;
/** Signal to noise that a cell must have: below, compression and rounding have had their way with it. */
const LEAST_SIGNAL = 15;
/** Noise is a plateau: from the top down, as long as power falls less steeply than this. */
const PLATEAU_SLOPE = -1.2;
const PLATEAU_SPAN = 3;
/** Steeper than any sharp scene's power falls over so few rings, and by how much it is less steep beyond a knee. */
const BLURRED_SLOPE = -6.3;
const KNEE = 2;
const FEWEST_CELLS = 30;

const logF = Float64Array.from({ length: RINGS }, (_, ring) =>
  Math.log(Math.sqrt(RING_EDGES[ring]! * RING_EDGES[ring + 1]!)),
);
const MEAN_LOG_F = logF.reduce((sum, value) => sum + value, 0) / RINGS;
const FREE = 2 + 2 * SECTORS;

/** Gives the logarithm of the likelihood of a blur, by the logarithms of its squared transfer. */
export interface SceneLikelihood {
  /** @param round ring by ring; @param streakOf ring by ring for a sector */
  (round: Float64Array, streakOf: (sector: number) => Float64Array): number;
}

/**
 * The likelihood of blurs for one spectrum. Gain and slope, of the scene and of each direction, are normal and
 * integrated out; what is left is independent from cell to cell.
 *
 * @param power sector by sector, ring by ring [code²]; `count` samples in each; `side` of the transform, `windowPx`
 * @param noise white-noise sigma, an upper bound [code]
 * @returns null where too little rises above the noise
 */
export function sceneLikelihood(
  {
    power,
    count,
    side,
    windowPx,
  }: { power: Float64Array; count: Float64Array; side: number; windowPx: number },
  noise: number,
): SceneLikelihood | null {
  const floor = noiseByRing(ringMeans(power, count), clearestOf(power, count), noise);
  // Samples of a padded, windowed transform are not independent.
  const dependence = 2 * (side / windowPx) ** 2;
  const cells: { sector: number; ring: number; excess: number; weight: number; at: number }[] = [];
  for (let sector = 0; sector < SECTORS; sector++) {
    for (let ring = 0; ring < RINGS; ring++) {
      const cell = sector * RINGS + ring;
      const samples = count[cell]!;
      if (samples === 0 || RING_EDGES[ring]! < 3 / windowPx) continue;
      const signal = power[cell]! / floor[ring]!;
      // A cell of few samples may be low by chance; the ring beyond tells.
      if (signal < LEAST_SIGNAL) {
        if (samples > 4) break;
        continue;
      }
      const at = logF[ring]! - MEAN_LOG_F;
      const excess = Math.log(power[cell]! - floor[ring]!) - SLOPE * at;
      const scatter = CELL_SCATTER ** 2 + dependence / samples + 1 / (signal - 1) ** 2;
      cells.push({ sector, ring, excess, weight: 1 / scatter, at });
    }
  }
  if (cells.length < FEWEST_CELLS) return null;
  const inverse = inverseOf(precision(cells));
  const v = new Float64Array(FREE);
  return (round, streakOf) => {
    v.fill(0);
    let square = 0;
    let sector = -1;
    let streak = round;
    for (const cell of cells) {
      if (cell.sector !== sector) {
        sector = cell.sector;
        streak = streakOf(sector);
      }
      const left = cell.excess - round[cell.ring]! - streak[cell.ring]!;
      const weighted = cell.weight * left;
      square += weighted * left;
      v[0]! += weighted;
      v[1]! += weighted * cell.at;
      v[2 + 2 * sector]! += weighted;
      v[3 + 2 * sector]! += weighted * cell.at;
    }
    for (let i = 0; i < FREE; i++) {
      let sum = 0;
      for (let j = 0; j < FREE; j++) sum += inverse[i * FREE + j]! * v[j]!;
      square -= v[i]! * sum;
    }
    return -square / 2;
  };
}

function ringMeans(power: Float64Array, count: Float64Array): Float64Array {
  return Float64Array.from({ length: RINGS }, (_, ring) => {
    let sum = 0;
    let samples = 0;
    for (let sector = 0; sector < SECTORS; sector++) {
      const cell = sector * RINGS + ring;
      sum += power[cell]! * count[cell]!;
      samples += count[cell]!;
    }
    return sum / Math.max(1, samples);
  });
}

/** Mean of the three strongest directions of each ring: a streak leaves those across it as they were. */
function clearestOf(power: Float64Array, count: Float64Array): Float64Array {
  return Float64Array.from({ length: RINGS }, (_, ring) => {
    const found: number[] = [];
    for (let sector = 0; sector < SECTORS; sector++) {
      const cell = sector * RINGS + ring;
      if (count[cell]! > 0) found.push(power[cell]!);
    }
    const strongest = found.sort((a, b) => b - a).slice(0, 3);
    return strongest.reduce((sum, value) => sum + value, 0) / Math.max(1, strongest.length);
  });
}

/**
 * Compression takes the finest noise first, so the floor is read off the spectrum where it levels out; where a camera
 * smoothed its noise that never happens, but a knee tells: no blurred scene falls steeply and then less so.
 */
function noiseByRing(rings: Float64Array, clearest: Float64Array, noise: number): Float64Array {
  let top = RINGS - 1;
  while (top > PLATEAU_SPAN && slopeBelow(rings, top) > PLATEAU_SLOPE) top--;
  const plateau = top === RINGS - 1 ? RINGS : Math.max(0, top - PLATEAU_SPAN + 1);
  const from = Math.min(plateau, kneeOf(clearest));
  if (from === RINGS) {
    const level = Math.max(1e-3, Math.min(noise ** 2, rings[RINGS - 1]! / 2));
    return new Float64Array(RINGS).fill(level);
  }
  const level = Math.max(1e-3, ...rings.subarray(from));
  return rings.map((value, ring) => (ring < from ? level : Math.max(1e-3, value)));
}

/** Slope of the logarithms over the last rings up to one. */
function slopeBelow(rings: Float64Array, top: number): number {
  const low = top - PLATEAU_SPAN;
  return Math.log(rings[top]! / rings[low]!) / (logF[top]! - logF[low]!);
}

/** The ring from which a fall that only blur makes is followed by a lesser one; RINGS where there is no knee. */
function kneeOf(rings: Float64Array): number {
  let steepest = 0;
  for (let ring = PLATEAU_SPAN; ring < RINGS; ring++) {
    const slope = slopeBelow(rings, ring);
    const few = RING_EDGES[ring]! < 0.05;
    if (slope <= (few ? BLURRED_SLOPE - 1 : BLURRED_SLOPE)) steepest = Math.min(steepest, slope);
    // The ripple of a disc rises again after its zero.
    if (steepest < 0 && rings[ring]! > rings[ring - 1]!) return RINGS;
    if (steepest < 0 && slope > steepest + KNEE) return ring - 1;
  }
  return RINGS;
}

/** Precision of the free numbers: their prior and what the cells say. */
function precision(cells: readonly { sector: number; weight: number; at: number }[]): Float64Array {
  const matrix = new Float64Array(FREE * FREE);
  for (let i = 0; i < FREE; i++) {
    const scatter =
      i === 0
        ? GAIN_SCATTER
        : i === 1
          ? SLOPE_SCATTER
          : i % 2 === 0
            ? SECTOR_GAIN_SCATTER
            : SECTOR_SLOPE_SCATTER;
    matrix[i * FREE + i] = 1 / scatter ** 2;
  }
  for (const { sector, weight, at } of cells) {
    const terms = [
      [0, 1],
      [1, at],
      [2 + 2 * sector, 1],
      [3 + 2 * sector, at],
    ] as const;
    for (const [i, a] of terms) for (const [j, b] of terms) matrix[i * FREE + j]! += weight * a * b;
  }
  return matrix;
}

/** Inverse of a symmetric positive matrix, by Gauss and Jordan; no pivots are needed. */
function inverseOf(matrix: Float64Array): Float64Array {
  const out = new Float64Array(FREE * FREE);
  for (let i = 0; i < FREE; i++) out[i * FREE + i] = 1;
  for (let i = 0; i < FREE; i++) {
    const pivot = matrix[i * FREE + i]!;
    for (let j = 0; j < FREE; j++) {
      matrix[i * FREE + j]! /= pivot;
      out[i * FREE + j]! /= pivot;
    }
    for (let row = 0; row < FREE; row++) {
      const factor = row === i ? 0 : matrix[row * FREE + i]!;
      if (factor === 0) continue;
      for (let j = 0; j < FREE; j++) {
        matrix[row * FREE + j]! -= factor * matrix[i * FREE + j]!;
        out[row * FREE + j]! -= factor * out[i * FREE + j]!;
      }
    }
  }
  return out;
}
