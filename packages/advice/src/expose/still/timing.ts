/** Whether to release at the end of a swing, and whether that beats waiting for a lull. */
import { chanceSharp, quietMoment, RELEASE_SPREAD_S } from '@tepal/science';
import { frameAt, sharpAt, twoDigits, type Scene } from '../rule/scene.ts';
import type { Setting } from '../rule/settings.ts';
import type { LullAdvice } from './lull.ts';

/** What the quiet moment gives. */
export type TimingAdvice =
  | { readonly kind: 'noHelp' }
  | {
      readonly kind: 'helps';
      /** Odds of a frame released at the end of a swing [0..1]. */
      readonly sharp: number;
      /** For how long about each turn a typical swing is quiet enough [s]. */
      readonly quietMomentS: number;
      /** How much longer an exposure the turn bears than mid-swing [stops]. */
      readonly longerStops: number;
      /** Expected time to one sharp frame by timing, and by waiting for a lull [s]; null where no lull is to be had. */
      readonly secondsTimed: number;
      readonly secondsWaiting: number | null;
      readonly better: 'timing' | 'waiting';
    };

/** Timing is worth saying when it raises the odds by so much. */
const WORTHWHILE_GAIN = 1.3;
/** Nobody aims faster than this [s]. Assumption. */
const BETWEEN_RELEASES_S = 0.7;
/** Below this a swing cannot be followed by eye; it is not there to be timed. Odds below it promise nothing. */
const LEAST_SHARP = 0.003;

/** The advice for a setting in the air as it is. An insect's own motion has no swings to time, so it only dilutes. */
export function timingAdvice(scene: Scene, setting: Setting, lull: LullAdvice): TimingAdvice {
  const { subject } = scene;
  if (subject.kind === 'still' || !(subject.frequencyHz > 0)) return { kind: 'noHelp' };
  const amplitudeMm =
    subject.kind === 'sinusoid' ? subject.amplitudeMm : subject.displacementMm * Math.sqrt(Math.PI / 2);
  const frame = frameAt(scene, setting.f.exact, setting.t.exact);
  const sharpNow = sharpAt(scene, setting.f.exact, setting.t.exact);
  const sharp = twoDigits(chanceSharp({ ...frame, releaseSpreadS: RELEASE_SPREAD_S }));
  if (!(amplitudeMm > 1e-6) || sharp < LEAST_SHARP || sharp < WORTHWHILE_GAIN * sharpNow) {
    return { kind: 'noHelp' };
  }
  const { windowS, gainStops } = quietMoment({
    amplitudeMm,
    frequencyHz: subject.frequencyHz,
    magnification: scene.request.magnification,
    exposureTimeS: setting.t.exact,
    limitUm: scene.limitUm,
  });
  const secondsTimed = Math.max(1 / subject.frequencyHz, BETWEEN_RELEASES_S) / sharp;
  const secondsWaiting =
    lull.kind === 'wait'
      ? lull.expectedWaitS + BETWEEN_RELEASES_S / Math.max(lull.sharpThen, LEAST_SHARP)
      : null;
  const better = secondsWaiting !== null && secondsWaiting < secondsTimed ? 'waiting' : 'timing';
  return {
    kind: 'helps',
    sharp,
    quietMomentS: windowS,
    longerStops: gainStops,
    secondsTimed,
    secondsWaiting,
    better,
  };
}
