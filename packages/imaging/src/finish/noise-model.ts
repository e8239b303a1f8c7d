/** The noise of a sensor as a straight line: variance against light. Known from the sensor, or found in the picture. */
import {
  electronsAtIso,
  requireInRange,
  requireNotNegative,
  requirePositive,
  type Sensor,
} from '@tepal/science';
import type { Plane } from './plane/box-blur.ts';

/**
 * Variance of a sample of light x (1 is white): `perLight` x + `floor`.
 *
 * `perLight` is what the photons do (1 / electrons at white), `floor` what the electronics add.
 */
export interface NoiseModel {
  readonly perLight: number;
  readonly floor: number;
}

/** Stops from the metered midtone to white: 78 against 8.125 lx s at ISO 1. @source ISO 12232 (OI 2.3) */
const WHITE_STOPS = Math.log2(78 / 8.125);

/**
 * What a sensor's figures say.
 *
 * @param iso the setting, > 0
 * @throws DomainError if a figure is out of its range
 * @source EMVA 1288: σ² = K² σd² + K (μ - μ dark), in units of white
 */
export function noiseOfSensor(sensor: Sensor, iso: number): NoiseModel {
  const white = electronsAtIso(sensor, iso, WHITE_STOPS);
  return { perLight: 1 / white, floor: (sensor.readNoiseElectrons / white) ** 2 };
}

/** @throws DomainError if the model is not one */
export function requireNoiseModel(model: NoiseModel): NoiseModel {
  requireNotNegative('perLight', model.perLight);
  requireNotNegative('floor', model.floor);
  return model;
}

/** Blocks of this side are looked at [px], and tones are gathered in this many steps. */
const BLOCK = 16;
const TONES = 24;

/** Share of the quietest blocks of a tone that count as flat. */
const FLATTEST = 0.15;

/**
 * The noise of a plane, from its flattest parts.
 *
 * In each block the standard deviation is taken from the median of |1 -2 1; -2 4 -2; 1 -2 1| (which passes over
 * gradients and edges along one axis); of each tone the flattest blocks count; through their variances runs the line.
 * Where the picture has no flat parts the noise is overestimated. White noise is assumed: demosaicing makes noise
 * coarser, and the estimate too low by up to a half.
 *
 * @returns null where fewer than four tones were found
 * @source the difference operator of Immerkær 1996, Computer Vision and Image Understanding 64, 300; the choice of flat
 * blocks is our own
 */
export function findNoise(plane: Plane): NoiseModel | null {
  const { width, height, data } = plane;
  const tones: { mean: number; variance: number }[][] = Array.from({ length: TONES }, () => []);
  const differences = new Float32Array((BLOCK - 2) ** 2);
  for (let top = 0; top + BLOCK <= height; top += BLOCK) {
    for (let left = 0; left + BLOCK <= width; left += BLOCK) {
      let sum = 0;
      let clipped = 0;
      let n = 0;
      for (let y = 0; y < BLOCK; y += 1) {
        for (let x = 0; x < BLOCK; x += 1) {
          const i = (top + y) * width + left + x;
          const value = data[i]!;
          sum += value;
          if (value <= 0 || value >= 0.98) clipped += 1;
          if (y === 0 || x === 0 || y === BLOCK - 1 || x === BLOCK - 1) continue;
          const d =
            4 * value -
            2 * (data[i - 1]! + data[i + 1]! + data[i - width]! + data[i + width]!) +
            data[i - width - 1]! +
            data[i - width + 1]! +
            data[i + width - 1]! +
            data[i + width + 1]!;
          differences[n] = Math.abs(d);
          n += 1;
        }
      }
      if (clipped > BLOCK) continue;
      const mean = sum / BLOCK ** 2;
      differences.sort();
      // The median of |N(0, σ)| is 0.6745 σ; the operator's gain on white noise is 6.
      const sigma = differences[n >> 1]! / 0.6745 / 6;
      const tone = Math.min(TONES - 1, Math.floor(Math.sqrt(Math.max(0, mean)) * TONES));
      tones[tone]!.push({ mean, variance: sigma * sigma });
    }
  }
  const points = tones
    .filter((blocks) => blocks.length >= 6)
    .map((blocks) => {
      const flat = blocks
        .sort((a, b) => a.variance - b.variance)
        .slice(0, Math.max(3, Math.ceil(blocks.length * FLATTEST)));
      const mean = flat.reduce((sum, one) => sum + one.mean, 0) / flat.length;
      const variance = flat.reduce((sum, one) => sum + one.variance, 0) / flat.length;
      // Choosing the quietest makes them too quiet: a block's variance has a spread of about 15 %.
      return { mean, variance: variance * 1.25, weight: flat.length };
    });
  return points.length < 4 ? null : lineThrough(points);
}

/** Least squares of relative errors, neither term below 0. */
function lineThrough(
  points: readonly { readonly mean: number; readonly variance: number; readonly weight: number }[],
): NoiseModel {
  let [w, x, y, xx, xy] = [0, 0, 0, 0, 0];
  for (const { mean, variance, weight } of points) {
    const k = weight / Math.max(1e-14, variance * variance);
    w += k;
    x += k * mean;
    y += k * variance;
    xx += k * mean * mean;
    xy += k * mean * variance;
  }
  const slope = (w * xy - x * y) / Math.max(1e-30, w * xx - x * x);
  const floor = (y - slope * x) / w;
  if (slope < 0) return { perLight: 0, floor: Math.max(0, y / w) };
  if (floor < 0) return { perLight: xy / xx, floor: 0 };
  return { perLight: slope, floor };
}

/**
 * Makes the noise the same at every tone, with standard deviation 1.
 *
 *   t = (2/a) √(a x + 3/8 a² + b), a = perLight, b = floor;  x / √b where a is 0
 *
 * @source Anscombe 1948, generalised: Murtagh, Starck and Bijaoui 1995
 */
export function stabilise({ perLight: a, floor: b }: NoiseModel, light: number): number {
  if (a === 0) return light / Math.sqrt(requirePositive('floor', b));
  return (2 / a) * Math.sqrt(Math.max(0, a * light + 0.375 * a * a + b));
}

/**
 * Back from `stabilise`, without the bias that the plain inverse has in the darks.
 *
 * @source Mäkitalo and Foi 2013, IEEE TIP 22, 91: the closed form of the unbiased inverse (from memory; held against
 * its law in a test)
 */
export function unstabilise({ perLight: a, floor: b }: NoiseModel, stabilised: number): number {
  if (a === 0) return stabilised * Math.sqrt(b);
  const D = Math.max(stabilised, 2 * Math.sqrt(0.375 + b / (a * a)));
  const root = Math.sqrt(1.5);
  const counts =
    (D * D) / 4 + (0.25 * root) / D - 11 / (8 * D * D) + (0.625 * root) / D ** 3 - 0.125 - b / (a * a);
  return a * requireInRange('counts', counts, {});
}
