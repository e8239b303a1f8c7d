/** Frames that follow closely are alike: how many a burst is worth. */
import { correlationAfter, framesForCorrelatedKeeper, STEMS, swayInWind } from '@tepal/science';
import { windAtPlantMs, type Scene } from '../rule/scene.ts';

/** Time after which a photographer's sway has forgotten itself [s]; below 1.1 Hz, so a few tenths. Assumption. */
const BODY_CORRELATION_S = 0.5;
/** A camera's burst. Assumption. */
export const BURST_INTERVAL_S = 0.2;
/** Above this a frame is the one before it. */
const MOST_ALIKE = 0.999;

/** A burst at an interval: how alike neighbours are, and the frames for 95 % of one. */
export interface BurstAdvice {
  readonly intervalS: number;
  /** Correlation from frame to frame [0..1). */
  readonly correlation: number;
  /** Null where no count can be promised. */
  readonly frames: number | null;
}

/**
 * Frames of a burst for one that is sharp with 95 %, as a two-state chain. The slower memory of the two counts: the
 * photographer's, and the plant's, whose swings forget themselves in 1 / (2 pi zeta f0). Whether a frame is sharp hangs
 * on the square of the motion, whose correlation for a Gaussian motion is the square of the motion's own.
 */
export function burstAdvice(scene: Scene, sharp: number, intervalS: number): BurstAdvice {
  const { request } = scene;
  const windMs = request.sway === undefined ? windAtPlantMs(request) : undefined;
  const plant = windMs === undefined ? undefined : swayInWind(STEMS[request.stem], windMs);
  const plantS = plant === undefined ? 0 : 1 / (2 * Math.PI * plant.damping * plant.frequencyHz);
  const motion = correlationAfter(intervalS, Math.max(BODY_CORRELATION_S, plantS));
  const correlation = Math.min(motion ** 2, MOST_ALIKE);
  return { intervalS, correlation, frames: framesForCorrelatedKeeper(sharp, correlation) };
}
