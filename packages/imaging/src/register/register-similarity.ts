/** Brings one frame of a series onto another: shift, turn and breathing, to a fraction of a pixel. */
import { checkImage, type FloatImage } from '../image.ts';
import type { Kernel } from '../kernel.ts';
import { coarseShift } from './coarse-shift.ts';
import { refine, remainingMotion, type Alignment } from './refine.ts';
import { halve } from './resample.ts';
import { fromTerms, invertTerms, stillness, toTerms, type Similarity } from './similarity.ts';

/**
 * How a moving frame lies on its reference, in px of the pictures given.
 *
 * - `rmsPx`: root mean square of the motion that is left, block by block, weighted by structure
 * - `correlation`: zero-mean correlation of the two after alignment [-1..1]
 * - `gain`, `offset`: reference = gain x moving + offset
 */
export interface Registration extends Similarity {
  readonly rmsPx: number;
  readonly correlation: number;
  readonly gain: number;
  readonly offset: number;
}

/**
 * Registers a moving picture onto a reference, coarse to fine.
 *
 * Starts from windowed un-normalised phase correlation, then refines a similarity with gain and offset by
 * Gauss-Newton on the differences, level by level, with robust weights, so that a petal that moved counts less. Bears
 * shifts to about a quarter of the picture, 3° and scales from 0.93 to 1.07, differing defocus and exposure.
 *
 * @param reference, moving luma in any one range, at least 32 px each way
 * @param options.start a motion already known roughly (then there is no phase correlation)
 * @param options.startAtFinest refine at the size given only, when the start is good to about a pixel
 * @returns the motion moving to reference; look at `correlation` before trusting it (below 0.5: not the same scene)
 * @throws DomainError if a picture is malformed
 * @source Evangelidis & Psarakis 2008 (gain and offset invariance) via OI 6.1; Gauss-Newton on intensities
 */
export function registerSimilarity(
  kernel: Kernel,
  reference: FloatImage,
  moving: FloatImage,
  options: { readonly start?: Similarity; readonly startAtFinest?: boolean } = {},
): Registration {
  checkImage('reference', reference, 1, 32);
  checkImage('moving', moving, 1, 32);
  const levels = [{ reference, moving, factor: 1 }];
  for (;;) {
    const last = levels[levels.length - 1]!;
    if (Math.max(last.reference.width, last.reference.height) <= 96) break;
    if (Math.min(last.reference.width, last.reference.height, last.moving.width, last.moving.height) < 48)
      break;
    levels.push({
      reference: halve(last.reference),
      moving: halve(last.moving),
      factor: last.factor * 2,
    });
  }
  const coarsest = levels[levels.length - 1]!;
  // The refinement works on the way back, reference to moving, where the sampling happens.
  let terms = invertTerms(toTerms(options.start ?? stillness));
  let factor = 1;
  if (options.start === undefined) {
    const start = levels[Math.max(0, levels.length - 2)]!;
    const longest = Math.max(start.reference.width, start.reference.height);
    const side = Math.min(512, 2 ** Math.ceil(Math.log2(longest)));
    const shift = coarseShift(kernel, start.reference, start.moving, side);
    terms = { a: 1, b: 0, x: -shift.x, y: -shift.y };
    factor = start.factor;
  }
  let alignment: Alignment = { terms, gain: 1, offset: 0, correlation: 0 };
  const first = options.startAtFinest === true ? 0 : levels.length - 1;
  for (let i = first; i >= 0; i--) {
    const level = levels[i] ?? coarsest;
    const ratio = factor / level.factor;
    const { terms: t } = alignment;
    factor = level.factor;
    alignment = refine(level.reference, level.moving, {
      ...alignment,
      terms: { ...t, x: t.x * ratio, y: t.y * ratio },
    });
  }
  const rmsPx = remainingMotion(reference, moving, alignment);
  const { gain, offset, correlation } = alignment;
  return { ...fromTerms(invertTerms(alignment.terms)), rmsPx, correlation, gain, offset };
}
