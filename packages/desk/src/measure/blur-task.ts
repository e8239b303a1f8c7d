/** Blur of the crops of one series at one place, and who moved, from crops of other places. */
import {
  measureBlurAlone,
  measureBlurInSeries,
  toFloat,
  whoMoved,
  type Kernel,
  type MeasuredBlur,
} from '@tepal/imaging';
import type { Luma8 } from '../decode/pixels.ts';

export interface BlurRequest {
  /** Crops of the same place, one a frame. */
  readonly crops: readonly Luma8[];
  /** For each frame, crops of the same other places. */
  readonly elsewhere: readonly (readonly Luma8[])[];
  readonly limitPx: number;
}

/** Least side of a crop that can be measured [px]. */
const LEAST_SERIES_PX = 128;
const LEAST_ALONE_PX = 64;

/** @returns one blur a crop, in their order */
export function measureCrops(
  kernel: Kernel,
  { crops, elsewhere, limitPx }: BlurRequest,
): readonly MeasuredBlur[] {
  const blurs = measured(kernel, crops, limitPx);
  return blurs.map((blur, i) => {
    if (blur.motion === null) return blur;
    const still = blurs.findIndex((other) => other.cause === 'sharp');
    const here = elsewhere[i] ?? [];
    const places = here.map((crop, k) => {
      const beside = still >= 0 && still !== i ? elsewhere[still]?.[k] : undefined;
      return beside === undefined
        ? measured(kernel, [crop], limitPx)[0]
        : measured(kernel, [beside, crop], limitPx)[1];
    });
    const moved = whoMoved(
      blur.motion,
      places.filter((place) => place !== undefined),
    );
    return { ...blur, moved: moved ?? blur.moved };
  });
}

function measured(kernel: Kernel, crops: readonly Luma8[], limitPx: number): readonly MeasuredBlur[] {
  const least = Math.min(...crops.flatMap(({ width, height }) => [width, height]));
  if (crops.length > 1 && least >= LEAST_SERIES_PX) {
    return measureBlurInSeries(kernel, crops.map(toFloat), { limitPx }).blurs;
  }
  return crops.map((crop) =>
    Math.min(crop.width, crop.height) >= LEAST_ALONE_PX
      ? measureBlurAlone(toFloat(crop), { limitPx })
      : { ...cannotTell },
  );
}

const cannotTell: MeasuredBlur = {
  ...{ sigmaPx: null, sigmaLowPx: null, sigmaHighPx: null },
  ...{ cause: 'unclear', confidence: 0, motion: null, moved: null },
};
