/** Whether a focus series beats one frame. */
import { focusSeries, focusSeriesDurationS } from '@tepal/science';
import { oddsAt, plantInWind, type Scene } from '../rule/scene.ts';
import type { Setting } from '../rule/settings.ts';
import type { LullAdvice } from './lull.ts';

/** A series through a subject that is deeper than one frame holds. */
export interface SeriesAdvice {
  readonly frames: number;
  readonly stepMm: number;
  readonly durationS: number;
  /** Mean length of the lulls in which it would have to be taken [s]; null where the air needs none or has none. */
  readonly meanLullS: number | null;
  /** Chance that all of its frames are still [0..1], neighbours taken as independent: rather too small. */
  readonly chanceWhole: number;
  /** Whether it is to be tried: it fits into the stillness, and comes home whole more often than one time in three. */
  readonly worthIt: boolean;
}

/** Share of the depth of field that neighbours of a focus series overlap. Common practice (20 to 50 %), no source. */
const SERIES_OVERLAP = 0.3;
/** Frames a second of a series. Assumption. */
const SERIES_RATE_HZ = 5;
/** Field series are said to work one time in six; one in three is worth the trouble. Ours. */
const WORTH_TRYING = 1 / 3;

/** The series for a setting; null where one frame holds the whole depth. */
export function seriesAdvice(
  scene: Scene,
  setting: Setting,
  depthOfFieldMm: number | null,
  lull: LullAdvice,
): SeriesAdvice | null {
  const { subjectDepthMm } = scene.request;
  if (depthOfFieldMm === null || depthOfFieldMm >= subjectDepthMm) return null;
  const { stepMm, framesCovering: frames } = focusSeries(subjectDepthMm, depthOfFieldMm, SERIES_OVERLAP);
  const durationS = focusSeriesDurationS(frames, setting.t.exact, SERIES_RATE_HZ);
  const calm = lull.kind === 'wait' ? { ...scene, subject: plantInWind(scene.request, lull.belowMs) } : scene;
  const { still } = oddsAt(calm, setting.f.exact, setting.t.exact);
  const meanLullS = lull.kind === 'wait' ? lull.meanLengthS : null;
  const chanceWhole = still ** frames;
  const worthIt = chanceWhole >= WORTH_TRYING && (meanLullS === null || durationS <= meanLullS);
  return { frames, stepMm, durationS, meanLullS, chanceWhole, worthIt };
}
