/** Where the frames of a series lie on its reference, each found from those before it. */
import type { Rgb16Image, Rgb8Image } from '../image.ts';
import type { Kernel } from '../kernel.ts';
import { gridOfTerms, type DisplacementGrid } from '../register/displacement.ts';
import { layPicture, laySizes, type LaidPicture } from '../register/laid-picture.ts';
import { findLocalMotion, type LocalMotionRules } from '../register/local-motion.ts';
import { remainingMotion } from '../register/refine.ts';
import { alignLaid } from '../register/register-similarity.ts';
import {
  fromTopLeft,
  invertTerms,
  scaleSimilarity,
  stillness,
  toTerms,
  type Similarity,
} from '../register/similarity.ts';
import { Composite } from './composite.ts';
import type { FramePlace } from './fusion.ts';
import { addField, type KnownPlace } from './known-place.ts';
import { channelGains, type WorkingCopy } from './working-copy.ts';

/** A frame's place, or why it has none. */
export interface SeriesPlace extends FramePlace {
  readonly place: KnownPlace;
  /** What is left after alignment [px of the frame]. */
  readonly rmsPx: number;
  readonly why: string | null;
}

interface Size {
  readonly width: number;
  readonly height: number;
}

const LEAST_CORRELATION = 0.6;
/** Of the diagonal: motion left beyond this cannot be mended. */
const MOST_REMAINING_SHARE = 0.004;
/** Nodes of a motion without local parts [px]: it is exact between them. */
const PLAIN_CELL_PX = 32;

const rules = (size: Size): LocalMotionRules => ({
  cellPx: 8,
  halvings: 4,
  decidingHalvings: 2,
  stiffness: 0.1,
  pull: 0.001,
  leastGain: 0.3,
  leastPx: 0.6,
  boundPx: 0.03 * Math.max(size.width, size.height),
});

/**
 * Places frames one after another upon a running composite, so that the ends of a deep series are laid upon their
 * neighbours: a similarity first, then what moved beside it.
 */
export class SeriesPlaces {
  private readonly composite: Composite;
  private last: Similarity = stillness;

  constructor(
    private readonly kernel: Kernel,
    private readonly reference: Size,
    private readonly copy: WorkingCopy,
  ) {
    const { luma } = copy;
    this.composite = new Composite(kernel, luma.width, luma.height);
    const mark = kernel.mark();
    const terms = toTerms(stillness);
    const place = { grid: gridOfTerms(terms, luma, PLAIN_CELL_PX), terms, gain: 1 };
    this.composite.add(layPicture(kernel, luma)[0].pointer, luma, place, true);
    kernel.release(mark);
  }

  /**
   * Places a frame and adds it to the composite.
   *
   * @param copy its working copy; @param known its place where a blend has found it before
   */
  place(frame: Rgb8Image | Rgb16Image, copy: WorkingCopy, known: KnownPlace | undefined): SeriesPlace {
    if (known !== undefined) return this.given(frame, copy, known);
    const { kernel, reference } = this;
    const mark = kernel.mark();
    try {
      const moving = layPicture(kernel, copy.luma);

      const { composite } = this;
      const ours = laySizes(kernel, { ...sizeOf(composite), pointer: composite.picture });
      const found = this.align(ours, moving);
      const { factor } = copy;
      const motionFull = scaleSimilarity(found, factor);
      const gains = channelGains(this.copy, copy, found);
      const small = fromTopLeft(invertTerms(toTerms(found)), composite, copy.luma);
      const terms = fromTopLeft(invertTerms(toTerms(motionFull)), reference, frame);
      // What moved is an outlier to the whole; here it is what is looked for.
      const light = { ...found, spread: 4 * found.spread };
      const local = findLocalMotion(kernel, ours, moving, small, light, rules(copy.luma));
      const smallGrid = gridOfTerms(small, composite, local?.cellPx ?? PLAIN_CELL_PX);
      if (local !== null) addField(smallGrid, local, 1);
      // Over large cells: in small ones defocus that differs passes for motion.
      const wide = gridOfTerms(
        small,
        composite,
        4 * Math.ceil(Math.max(composite.width, composite.height) / 32),
      );
      if (local !== null) addField(wide, local, 1);
      const rmsPx = remainingMotion(kernel, ours[0], moving[0], wide, found);
      const why = whyNot(found, rmsPx, factor, copy.luma);
      const grid = gridOfTerms(terms, reference, local === null ? PLAIN_CELL_PX : local.cellPx * factor);
      const full = local === null ? null : enlarged(local, factor);
      if (full !== null) addField(grid, full, 1);
      if (why === null) {
        this.last = found;
        const gain = (gains[0] + 2 * gains[1] + gains[2]) / 4;
        composite.add(moving[0].pointer, copy.luma, { grid: smallGrid, terms: small, gain }, false);
      }
      return { place: { ...motionFull, local: full }, terms, grid, gains, rmsPx: rmsPx * factor, why };
    } finally {
      kernel.release(mark);
    }
  }

  private align(ours: LaidPicture, moving: LaidPicture) {
    const samples = 400_000;
    const fresh = alignLaid(this.kernel, ours, moving, { samples });
    if (fresh.correlation >= 0.8) return fresh;
    const again = alignLaid(this.kernel, ours, moving, { samples, start: this.last });
    return again.correlation > fresh.correlation ? again : fresh;
  }

  private given(frame: Rgb8Image | Rgb16Image, copy: WorkingCopy, known: KnownPlace): SeriesPlace {
    const found = scaleSimilarity(known, 1 / copy.factor);
    const gains = channelGains(this.copy, copy, found);
    const terms = fromTopLeft(invertTerms(toTerms(known)), this.reference, frame);
    const local = known.local ?? null;
    const grid = gridOfTerms(terms, this.reference, local?.cellPx ?? PLAIN_CELL_PX);
    if (local !== null) addField(grid, local, 1);
    return { place: known, terms, grid, gains, rmsPx: 0, why: null };
  }
}

function sizeOf({ width, height }: Size): Size {
  return { width, height };
}

/** A field found on the working copies, for the frame itself. */
function enlarged({ cellPx, columns, rows, dx, dy }: DisplacementGrid, factor: number): DisplacementGrid {
  const times = (value: number) => factor * value;
  return { cellPx: cellPx * factor, columns, rows, dx: dx.map(times), dy: dy.map(times) };
}

function whyNot(
  found: Similarity & { readonly correlation: number },
  rmsPx: number,
  factor: number,
  size: Size,
): string | null {
  if (found.correlation < LEAST_CORRELATION) {
    return `it does not show the same scene as the reference (correlation ${found.correlation.toFixed(2)})`;
  }
  if (Math.abs(found.rotationDeg) > 8 || Math.abs(found.scale - 1) > 0.15) {
    return `it is turned by ${found.rotationDeg.toFixed(1)}° and ${found.scale.toFixed(2)} times the size: too far from the reference`;
  }
  return rmsPx > MOST_REMAINING_SHARE * Math.hypot(size.width, size.height)
    ? `parts of it moved: ${(rmsPx * factor).toFixed(1)} px are left after alignment`
    : null;
}
