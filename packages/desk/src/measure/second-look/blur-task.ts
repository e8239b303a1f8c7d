/** Blur of the crops of one series at one place, and who moved, from crops of other places. */
import {
  measureBlurAlone,
  measureBlurInSeries,
  toFloat,
  whoMoved,
  type BlurMotion,
  type Kernel,
  type MeasuredBlur,
} from '@tepal/imaging';
import type { Luma8 } from '../../decode/pixels.ts';

export interface BlurRequest {
  /** Crops of the same place, one a frame. */
  readonly crops: readonly Luma8[];
  readonly limitPx: number;
}

export interface MovedRequest {
  readonly motion: BlurMotion;
  /** Crops of other places, each with that of the same place in a still frame of the series, where there is one. */
  readonly places: readonly { readonly still: Luma8 | null; readonly crop: Luma8 }[];
  readonly limitPx: number;
}

/** Least side of a crop that can be measured [px]. */
const LEAST_SERIES_PX = 128;
const LEAST_ALONE_PX = 64;

/** @returns one blur a crop, in their order */
export function measureCrops(kernel: Kernel, { crops, limitPx }: BlurRequest): readonly MeasuredBlur[] {
  const least = Math.min(...crops.flatMap(({ width, height }) => [width, height]));
  if (crops.length > 1 && least >= LEAST_SERIES_PX) {
    return measureBlurInSeries(kernel, crops.map(toFloat), { limitPx }).blurs;
  }
  return crops.map((crop) =>
    Math.min(crop.width, crop.height) >= LEAST_ALONE_PX
      ? measureBlurAlone(kernel, toFloat(crop), { limitPx })
      : { ...cannotTell },
  );
}

/** @returns whether the camera or the subject moved; null where the other places do not tell */
export function tellWhoMoved(
  kernel: Kernel,
  { motion, places, limitPx }: MovedRequest,
): MeasuredBlur['moved'] {
  const elsewhere = places.map(({ still, crop }) =>
    still === null
      ? measureCrops(kernel, { crops: [crop], limitPx })[0]
      : measureCrops(kernel, { crops: [still, crop], limitPx })[1],
  );
  return whoMoved(
    motion,
    elsewhere.filter((blur) => blur !== undefined),
  );
}

const cannotTell: MeasuredBlur = {
  ...{ sigmaPx: null, sigmaLowPx: null, sigmaHighPx: null },
  ...{ cause: 'unclear', confidence: 0, motion: null, moved: null },
};
