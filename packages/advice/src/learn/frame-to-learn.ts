/** A measured frame with what is known of how it was taken, and the frame that the formulas would have expected. */
import {
  DomainError,
  frameVariances,
  requirePositive,
  STEMS,
  SUPPORT_MOTION,
  swayInWind,
  type FrameSetting,
  type FrameVariances,
  type MeasuredBlur,
  type NominalFrame,
  type StemClass,
  type Support,
} from '@tepal/science';
import type { MeasuredFrame } from '@tepal/formats';
import { LEAST_SPREAD, MOST_TRUST, RENDERING_SIGMA_PX, UNKNOWN_WIND_MS } from './priors.ts';

/** A frame to learn from. What is null is not known, and is not guessed: it widens what is learned. */
export interface FrameToLearn {
  /** SHA-256 of the file. */
  readonly hash: string;
  readonly blur: MeasuredFrame['blur'];
  /** Largest sigma that counts as sharp [px]. */
  readonly limitPx: number;
  /** [µm] */
  readonly pixelUm: number;
  readonly lens: string;
  /** Raw or what the camera made of it: 'raw', 'jpeg', ... */
  readonly fileKind: string;
  readonly focalLengthMm: number;
  /** 1 where it was never measured. */
  readonly pupilMagnification: number;
  /** As marked. */
  readonly fNumber: number;
  readonly exposureTimeS: number;
  readonly stabilisation: number;
  /** Seconds since the frame before it in its series; null for the first. */
  readonly afterS: number | null;
}

/** Frames of one framing: they share whatever is not known of it. */
export interface SeriesToLearn {
  readonly frames: readonly FrameToLearn[];
  readonly magnification: number | null;
  readonly support: Support | null;
  readonly subjectId: string | null;
  /** Null for what does not sway: a stone, an insect on the ground. */
  readonly stem: StemClass | 'unknown' | null;
  /**
   * Frames missing from the camera's numbering between the first and the last of these: deleted before they were
   * measured. Null where the names do not tell.
   */
  readonly deleted: number | null;
}

export interface OutingToLearn {
  readonly id: string;
  readonly siteId: string | null;
  readonly series: readonly SeriesToLearn[];
  /** The forecast's wind brought down to the plant [m/s]; null where no forecast was kept. */
  readonly forecastWindMs: number | null;
  /** As felt at the plant [m/s]; null where not noted. */
  readonly feltWindMs: number | null;
}

/** Factor on the wind between the points at which the sway is worked out: e. */
const WIND_POINTS = [-1, 0, 1] as const;

/**
 * What the formulas expect of a frame, in px^2, with typical hands, plant and lens in the forecast's wind.
 *
 * @param magnification assumed for this reading of the frame [1], > 0
 * @throws DomainError where a number is impossible
 */
export function nominalFrame(
  frame: FrameToLearn,
  assumed: { readonly magnification: number; readonly support: Support; readonly stem: StemClass | null },
  windMs: number | null,
): NominalFrame {
  const setting = settingOf(frame, assumed);
  const wind = Math.max(windMs ?? UNKNOWN_WIND_MS, 0.05);
  const at = WIND_POINTS.map((log) => inWind(setting, assumed.stem, wind * Math.exp(log)));
  const middle = at[1]!;
  const px2 = frame.pixelUm ** 2;
  const subject = sum(middle.subject);
  const camera = sum(middle.camera);
  const alone = frameVariances(setting).focusPlacement;
  const logs = at.map((one) => Math.log(Math.max(sum(one.subject), 1e-12) / Math.max(subject, 1e-12)));
  return {
    floor: (middle.pixel + middle.diffraction) / px2 + RENDERING_SIGMA_PX ** 2,
    placement: middle.focusPlacement / px2,
    placementBySubject: middle.focusPlacement > 0 ? 1 - alone / middle.focusPlacement : 0,
    camera: camera / px2,
    cameraEven: camera > 0 ? middle.camera.even / camera : 0,
    subject: subject / px2,
    subjectEven: subject > 0 ? middle.subject.even / subject : 0,
    subjectAgainstWind: assumed.stem === null ? null : [logs[0]!, logs[1]!, logs[2]!],
  };
}

function settingOf(
  frame: FrameToLearn,
  assumed: { readonly magnification: number; readonly support: Support },
): FrameSetting {
  return {
    lens: {
      focalLengthMm: frame.focalLengthMm,
      fNumber: frame.fNumber,
      magnification: assumed.magnification,
      pupilMagnification: frame.pupilMagnification,
    },
    exposureTimeS: frame.exposureTimeS,
    pixelUm: frame.pixelUm,
    limitUm: frame.limitPx * frame.pixelUm,
    subject: { kind: 'still' },
    camera: SUPPORT_MOTION[assumed.support],
    stabilisation: frame.stabilisation,
  };
}

function inWind(setting: FrameSetting, stem: StemClass | null, windMs: number): FrameVariances {
  if (stem === null) return frameVariances(setting);
  const { displacementMm, frequencyHz } = swayOf(stem, Math.min(windMs, 40));
  return frameVariances({ ...setting, subject: { kind: 'sway', displacementMm, frequencyHz } });
}

const swaysKnown = new Map<string, ReturnType<typeof swayInWind>>();
/** Sways differ little within a hundredth of the wind's log. */
function swayOf(stem: StemClass, windMs: number): ReturnType<typeof swayInWind> {
  const step = Math.round(Math.log(windMs) * 100);
  const key = `${stem} ${step}`;
  const known = swaysKnown.get(key);
  if (known !== undefined) return known;
  const found = swayInWind(STEMS[stem], Math.exp(step / 100));
  if (swaysKnown.size > 2000) swaysKnown.clear();
  swaysKnown.set(key, found);
  return found;
}

const sum = (parts: { readonly odd: number; readonly even: number }): number => parts.odd + parts.even;

/**
 * What was measured of a frame; null where its blur could not be measured.
 *
 * @throws DomainError where a sigma is not above 0
 */
export function measuredBlurOf(frame: Pick<FrameToLearn, 'blur' | 'limitPx'>): MeasuredBlur | null {
  const { sigmaPx, sigmaLowPx, sigmaHighPx, cause, moved, confidence } = frame.blur;
  if (sigmaPx === null) return null;
  requirePositive('blur.sigmaPx', sigmaPx, 'px');
  const [low, high] = [sigmaLowPx ?? sigmaPx / 1.3, sigmaHighPx ?? sigmaPx * 1.3];
  if (!(low > 0 && high >= low)) throw new DomainError('wrongOrder', 'a range', 'blur.sigmaLowPx', low);
  const spread = Math.min(1, Math.max(LEAST_SPREAD, Math.log(high / low) / 2 / 1.645));
  const blurred = sigmaPx > frame.limitPx && confidence >= 0.5;
  const madeBy =
    !blurred || (cause !== 'motion' && cause !== 'defocus')
      ? null
      : cause === 'defocus'
        ? 'placement'
        : (moved ?? 'motion');
  return { logSigma: Math.log(sigmaPx), spread, madeBy, trust: Math.min(MOST_TRUST, confidence) };
}
