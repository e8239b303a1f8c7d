/** The steps of finishing, in their one order, on a picture of linear light. */
import { DomainError } from '@tepal/science';
import { rebalanceRendered } from '../develop/camera-colour.ts';
import { overPatch, type WhiteBalance } from '../develop/develop-camera.ts';
import { copyPicture, type LinearPicture } from '../develop/linear-picture.ts';
import { apply, invert, multiply, type Matrix3, type Triple } from '../colour/matrix.ts';
import { rgbToXyz, WORKING_SPACE } from '../colour/rgb-space.ts';
import { adaptation, D65, xyzOfChromaticity } from '../colour/white.ts';
import { quietenBackground, type QuietenBackground } from './background.ts';
import { frame, type Framing } from './geometry.ts';
import { applyTone, changeLight, type Tone } from './light.ts';
import { findNoise, type NoiseModel } from './noise-model.ts';
import { quietenNoise, type QuietenNoise } from './noise.ts';
import { fillShade, type FillShade } from './shade.ts';
import { removeSpot, type Spot } from './spot.ts';

/** What is done to a picture; what is left out is not done. Places are fractions, so the steps fit any size. */
export interface FinishSteps {
  /** What is taken for white; as shot unless given. */
  readonly whiteBalance?: WhiteBalance;
  readonly exposureStops?: number;
  readonly noise?: QuietenNoise;
  /** Places are those of the picture before it is levelled and cropped. */
  readonly spots?: readonly Spot[];
  readonly framing?: Framing;
  readonly fillShade?: FillShade;
  readonly background?: QuietenBackground;
  readonly tone?: Tone;
  /** Difficult petals: how early saturated colours make room for one another, 0 to 1. Done when a space is chosen. */
  readonly petals?: { readonly ease: number };
  /** 0 none, 1 usual. Done for the size and the medium, when the picture is delivered. */
  readonly sharpening?: { readonly strength: number };
}

export interface FinishContext {
  /** A camera's picture has its white balance behind it; a rendered one gets it here. */
  readonly origin: 'camera' | 'rendered';
  /** The sensor's noise in the picture as it comes in; found in the picture where it is null. */
  readonly noise: NoiseModel | null;
}

/** Between steps: what comes next, so that a caller can show it, or stop by not going on. */
export interface FinishProgress {
  readonly done: number;
  readonly total: number;
  readonly saying: string;
}

export interface Finished {
  readonly picture: LinearPicture;
  /** What happened that the caller should know, in sentences. */
  readonly notes: readonly string[];
}

/** One step: whether it is asked for, what is said while it runs, and the work, which may change the picture in place. */
interface Step {
  readonly saying: string;
  readonly isWanted: (steps: FinishSteps) => boolean;
  readonly run: (
    picture: LinearPicture,
    steps: FinishSteps,
    context: FinishContext,
    notes: string[],
  ) => LinearPicture;
}

const inPlace = (work: (picture: LinearPicture) => void) => (picture: LinearPicture) => {
  work(picture);
  return picture;
};

/** The one order: noise while its model holds, spots and framing next, then light from the whole to the local, tone last. */
const STEPS: readonly Step[] = [
  {
    saying: 'Quietening the noise',
    isWanted: ({ noise }) => noise !== undefined && noise.grain + noise.colour > 0,
    run(picture, { noise }, context, notes) {
      const { width, height, green } = picture;
      const model = context.noise ?? findNoise({ width, height, data: green });
      if (model === null) notes.push('Its noise could not be measured, so none was taken away.');
      else if (noise !== undefined) quietenNoise(picture, model, noise);
      return picture;
    },
  },
  {
    saying: 'Removing spots',
    isWanted: ({ spots = [] }) => spots.length > 0,
    run: (picture, { spots = [] }) => inPlace((p) => spots.forEach((spot) => removeSpot(p, spot)))(picture),
  },
  {
    saying: 'White and exposure',
    isWanted: ({ whiteBalance, exposureStops }) =>
      (whiteBalance !== undefined && whiteBalance.kind !== 'asShot') || (exposureStops ?? 0) !== 0,
    run(picture, { whiteBalance, exposureStops = 0 }, { origin }) {
      const matrix = origin === 'rendered' && whiteBalance ? renderedBalance(picture, whiteBalance) : null;
      changeLight(picture, exposureStops, matrix);
      return picture;
    },
  },
  {
    saying: 'Levelling and cropping',
    isWanted: ({ framing }) => framing !== undefined,
    run: (picture, { framing = {} }) => frame(picture, framing),
  },
  {
    saying: 'Filling the shade',
    isWanted: ({ fillShade: wish }) => (wish?.stops ?? 0) > 0,
    run: (picture, { fillShade: wish }) => inPlace((p) => wish && fillShade(p, wish))(picture),
  },
  {
    saying: 'Quietening the background',
    isWanted: ({ background }) => background !== undefined,
    run(picture, { background }, _context, notes) {
      if (background === undefined) return picture;
      const share = quietenBackground(picture, background);
      if (share < 0.02) notes.push('Nothing was found to be background; mark what is not the subject.');
      return picture;
    },
  },
  {
    saying: 'Setting the tones',
    isWanted: ({ tone }) => tone !== undefined,
    run: (picture, { tone = {} }) => inPlace((p) => applyTone(p, tone))(picture),
  },
];

/**
 * Finishes a picture, step by step; between two steps the caller may stop.
 *
 * @param picture is used up: its planes may be changed
 * @throws DomainError if a step is out of its range
 */
export function* finishStepwise(
  picture: LinearPicture,
  steps: FinishSteps,
  context: FinishContext,
): Generator<FinishProgress, Finished> {
  const wanted = STEPS.filter(({ isWanted }) => isWanted(steps));
  const notes: string[] = [];
  let now = picture;
  for (const [done, step] of wanted.entries()) {
    yield { done, total: wanted.length, saying: `${step.saying}.` };
    now = step.run(now, steps, context, notes);
  }
  return { picture: now, notes };
}

/** Finishes a copy of a picture at once. @throws DomainError if a step is out of its range */
export function finishPicture(picture: LinearPicture, steps: FinishSteps, context: FinishContext): Finished {
  const work = finishStepwise(copyPicture(picture), steps, context);
  for (;;) {
    const next = work.next();
    if (next.done) return next.value;
  }
}

/** The matrix that brings what is taken for white to white, in a picture that was rendered before. */
export function renderedBalance(picture: LinearPicture, balance: WhiteBalance): Matrix3 | null {
  if (balance.kind === 'asShot') return null;
  if (balance.kind === 'daylight') return rebalanceRendered(balance.temperatureK);
  const { width, height, red, green, blue } = picture;
  const sums = [0, 0, 0];
  const count = overPatch(width, height, balance, (i) => {
    sums[0] = sums[0]! + red[i]!;
    sums[1] = sums[1]! + green[i]!;
    sums[2] = sums[2]! + blue[i]!;
  });
  const mean = sums.map((sum) => sum / count) as unknown as Triple;
  if (!mean.every((value) => value > 0.002 && value < 1)) {
    throw new DomainError(
      'outOfRange',
      'a patch that is neither black nor clipped in a channel',
      'greyPatch',
      mean.map((value) => `${(100 * value).toFixed(1)} %`).join(', '),
    );
  }
  const toXyz = rgbToXyz(WORKING_SPACE);
  const [X, Y, Z] = apply(toXyz, mean);
  const adapted = adaptation([X / Y, 1, Z / Y], xyzOfChromaticity(D65));
  return multiply(invert(toXyz), multiply(adapted, toXyz));
}
