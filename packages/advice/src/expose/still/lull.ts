/** Whether to wait for a lull, and how long. */
import { lullsBelow, weibullOfTurbulence, weibullShareBelow } from '@tepal/science';
import type { CheckedRequest } from '../question/request.ts';
import { plantInWind, sceneOf, sharpAt, windAtPlantMs } from '../rule/scene.ts';
import type { Setting } from '../rule/settings.ts';

/** What still air would do for a setting. */
export type LullAdvice =
  | { readonly kind: 'noHelp' }
  /** It would help, but such a lull does not come, or only after more than ten minutes. */
  | { readonly kind: 'noneToHope'; readonly belowMs: number; readonly sharpThen: number }
  | {
      readonly kind: 'wait';
      /** Wind at the plant that is still enough [m/s]. */
      readonly belowMs: number;
      /** Odds of a frame at that wind [0..1]. */
      readonly sharpThen: number;
      /** Expected from a random instant [s]. */
      readonly expectedWaitS: number;
      readonly meanLengthS: number;
    };

/** A lull is worth waiting for when it doubles the odds, and frames are not good enough as it is. */
const WORTHWHILE_GAIN = 2;
const GOOD_ENOUGH = 0.5;
/** Of what perfectly still air would give, so much must be had in the lull. */
const SHARE_OF_STILL = 0.5;
const LONGEST_WAIT_S = 600;

/** Up-crossings of the median wind at flower scale [Hz]; 0.1 to 0.3 from memory (FS 3.4). */
const CROSSING_RATE_HZ = 0.2;
const TURBULENCE_INTENSITY = 0.5;

/** Whether waiting for a lull helps a setting, given the wind at the plant. A sway that was watched says nothing of lulls. */
export function lullAdvice(request: CheckedRequest, setting: Setting): LullAdvice {
  const windMs = windAtPlantMs(request);
  if (windMs === undefined || windMs <= 0 || request.sway !== undefined) return { kind: 'noHelp' };
  const scene = sceneOf(request);
  const sharpIn = (wind: number): number =>
    sharpAt({ ...scene, subject: plantInWind(request, wind) }, setting.f.exact, setting.t.exact);
  const now = sharpIn(windMs);
  const still = sharpIn(0);
  if (now >= GOOD_ENOUGH || still < WORTHWHILE_GAIN * now || still <= 0) return { kind: 'noHelp' };

  let calm = 0;
  let windy = windMs;
  const wanted = Math.max(SHARE_OF_STILL * still, now);
  for (let i = 0; i < 12; i++) {
    const middle = (calm + windy) / 2;
    if (sharpIn(middle) >= wanted) calm = middle;
    else windy = middle;
  }
  const sharpThen = sharpIn(calm);
  const share = weibullShareBelow(weibullOfTurbulence(windMs, TURBULENCE_INTENSITY), calm);
  const lulls = lullsBelow(share, CROSSING_RATE_HZ);
  if (lulls.kind === 'alwaysCalm') return { kind: 'noHelp' };
  if (lulls.kind === 'neverCalm' || lulls.expectedWaitS > LONGEST_WAIT_S) {
    return { kind: 'noneToHope', belowMs: calm, sharpThen };
  }
  const { expectedWaitS, meanLengthS } = lulls;
  return { kind: 'wait', belowMs: calm, sharpThen, expectedWaitS, meanLengthS };
}
