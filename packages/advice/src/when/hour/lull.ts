/** How often and how long the wind at the plant stays below a speed. */
import { lullsBelow, plantMotionBoundsMs, weibullOfTurbulence, weibullShareBelow } from '@tepal/science';

/** Up-crossings of the median at flower scale [Hz]: the middle of 0.1 to 0.3, from memory (FS 3.4). */
const zeroCrossingRateHz = 0.2;

export interface LullHere {
  readonly belowMs: number;
  readonly shareOfTime: number;
  readonly meanLengthS: number | null;
  readonly expectedWaitS: number | null;
}

/**
 * Lulls in which the wind at the plant stays below a speed.
 *
 * Weibull speeds with the turbulence at the plant; Rice's rate of crossings. Always calm: no length, no wait. Never:
 * no wait that could be told.
 *
 * @param air.turbulenceIntensity su/U at the plant [1]
 * @param belowMs [m/s]; by default the bound of the word "still"
 */
export function lullAtPlant(
  atPlantMs: number,
  air: { readonly turbulenceIntensity: number },
  belowMs: number = plantMotionBoundsMs.still,
): LullHere {
  const share =
    atPlantMs > 0 ? weibullShareBelow(weibullOfTurbulence(atPlantMs, air.turbulenceIntensity), belowMs) : 1;
  const lulls = lullsBelow(share, zeroCrossingRateHz);
  if (lulls.kind === 'alwaysCalm') return { belowMs, shareOfTime: 1, meanLengthS: null, expectedWaitS: 0 };
  if (lulls.kind === 'neverCalm') return { belowMs, shareOfTime: 0, meanLengthS: 0, expectedWaitS: null };
  return {
    belowMs,
    shareOfTime: lulls.shareOfTime,
    meanLengthS: lulls.meanLengthS,
    expectedWaitS: lulls.expectedWaitS,
  };
}
