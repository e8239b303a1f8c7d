/** Brings one frame of a series onto another: shift, turn and breathing, to a fraction of a pixel. */
import { checkImage, type FloatImage } from '../image.ts';
import type { Kernel } from '../kernel.ts';
import { coarseShift } from './coarse-shift.ts';
import { refine, remainingMotion, type Alignment } from './refine.ts';
import { layPicture, readLevel, type LaidLevel, type LaidPicture } from './laid-picture.ts';
import { gridOfTerms } from './displacement.ts';
import { fromTerms, fromTopLeft, invertTerms, stillness, toTerms, type Similarity } from './similarity.ts';

/**
 * How a moving frame lies on its reference, in px of the pictures given.
 *
 * - `rmsPx`: root mean square of the motion that is left, block by block, weighted by structure
 * - `correlation`: zero-mean correlation of the two after alignment [-1..1]
 * - `gain`, `offset`: reference = gain x moving + offset
 * - `spread`: what differs by more than this [codes] counted less
 */
export interface Registration extends Similarity {
  readonly rmsPx: number;
  readonly correlation: number;
  readonly gain: number;
  readonly offset: number;
  readonly spread: number;
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
 * @param options.samples pixels compared at the finest size; 25,000, or a tenth of a large picture, unless given
 * @returns the motion moving to reference; look at `correlation` before trusting it (below 0.5: not the same scene)
 * @throws DomainError if a picture is malformed
 * @source Evangelidis & Psarakis 2008 (gain and offset invariance) via OI 6.1; Gauss-Newton on intensities
 */
export function registerSimilarity(
  kernel: Kernel,
  reference: FloatImage,
  moving: FloatImage,
  options: { readonly start?: Similarity; readonly startAtFinest?: boolean; readonly samples?: number } = {},
): Registration {
  checkImage('reference', reference, 1, 32);
  checkImage('moving', moving, 1, 32);
  const mark = kernel.mark();
  const found = alignLaid(kernel, layPicture(kernel, reference), layPicture(kernel, moving), options);
  kernel.release(mark);
  return found;
}

const mostSamples = ({ width, height }: LaidLevel) => Math.max(25_000, (width * height) / 10);

const COARSE = { samples: 8_000, enoughPx: 0.03, correlate: false };

/**
 * The same for pictures that lie in the kernel already.
 *
 * @param options.samples pixels of the reference compared at the finest size; 25,000, or a tenth of a large picture, unless given
 */
export function alignLaid(
  kernel: Kernel,
  reference: LaidPicture,
  moving: LaidPicture,
  options: { readonly start?: Similarity; readonly startAtFinest?: boolean; readonly samples?: number },
): Registration {
  const finest = { samples: options.samples ?? mostSamples(reference[0]), enoughPx: 0.003, correlate: true };
  const coarsest = Math.min(reference.length, moving.length) - 1;
  // The refinement works on the way back, reference to moving, where the sampling happens.
  let terms = invertTerms(toTerms(options.start ?? stillness));
  let factor = 1;
  if (options.start === undefined) {
    const level = Math.max(0, coarsest - 1);
    const one = readLevel(kernel, reference[level]!);
    const other = readLevel(kernel, moving[level]!);
    const side = Math.min(512, 2 ** Math.ceil(Math.log2(Math.max(one.width, one.height))));
    const shift = coarseShift(kernel, one, other, side);
    terms = { a: 1, b: 0, x: -shift.x, y: -shift.y };
    factor = reference[level]!.factor;
  }
  let alignment: Alignment = { terms, gain: 1, offset: 0, correlation: 0, spread: Infinity };
  for (let i = options.startAtFinest === true ? 0 : coarsest; i >= 0; i--) {
    const level = reference[i]!;
    const ratio = factor / level.factor;
    const { terms: t } = alignment;
    factor = level.factor;
    const start = { ...alignment, terms: { ...t, x: t.x * ratio, y: t.y * ratio } };
    const far = i > 0 || finest.samples > 5 * COARSE.samples;
    if (far) alignment = refine(kernel, level, moving[i]!, start, COARSE);
    if (i === 0) alignment = refine(kernel, level, moving[i]!, far ? alignment : start, finest);
  }
  const { gain, offset, correlation, spread } = alignment;
  const cellPx = 4 * Math.ceil(Math.max(reference[0].width, reference[0].height) / 32);
  const grid = gridOfTerms(fromTopLeft(alignment.terms, reference[0], moving[0]), reference[0], cellPx);
  const rmsPx = remainingMotion(kernel, reference[0], moving[0], grid, alignment);
  return { ...fromTerms(invertTerms(alignment.terms)), rmsPx, correlation, gain, offset, spread };
}
