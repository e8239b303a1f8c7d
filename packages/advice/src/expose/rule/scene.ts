/** The frame that a setting would make of the scene in question, and its chances. */
import {
  chanceSharp,
  ACCEPTABLE_SNR,
  enlargement,
  EXCELLENT_SNR,
  exposureFactor,
  frameOdds,
  limitUm,
  pixelPitchUm,
  snrForDelivery,
  INSECT_MOTION,
  STEMS,
  SUPPORT_MOTION,
  swayOfSpectrum,
  swaySpectrum,
  swayVarianceWithin,
  type CameraMotion,
  type FrameOdds,
  type FrameSetting,
  type LensSetting,
  type Sensor,
  type SensorFrame,
  type SubjectMotion,
} from '@tepal/science';
import type { CheckedRequest } from '../question/request.ts';

/** Factors on what is uncertain; 1 each for the best guess. */
export interface Luck {
  readonly hands: number;
  readonly plant: number;
  readonly wind: number;
}

export const AS_GUESSED: Luck = { hands: 1, plant: 1, wind: 1 };

/** What does not change from setting to setting. */
export interface Scene {
  readonly request: CheckedRequest;
  readonly frame: SensorFrame;
  readonly pixelUm: number;
  readonly limitUm: number;
  /** By how much more light a setting needs than the reading says [1]. */
  readonly lossFactor: number;
  /** Signal to noise that the delivery wants of a midtone and of a shadow, per pixel [1]. */
  readonly wantedSnr: { readonly midtone: number; readonly shadow: number };
  readonly sensor: Sensor;
  readonly subject: SubjectMotion;
  readonly camera: CameraMotion;
  /** Light in thirds of a stop: on the dials, thirds of ISO = thirds of f + thirds of t - this. */
  readonly lightThirds: number;
}

/** A current sensor, an assumption to be replaced by the camera's own: 0.5 electrons a photon, 3 electrons read noise. */
const TYPICAL_SENSOR = { quantumEfficiency: 0.5, readNoiseElectrons: 3 };

/** Stops from the midtone to a shadow that must still show its drawing. Common practice, no source. */
export const SHADOW_STOPS = -3;

/**
 * The scene of a question, with what is uncertain as guessed or as luck has it.
 *
 * @param luck factors on what is guessed
 */
export function sceneOf(request: CheckedRequest, luck: Luck = AS_GUESSED): Scene {
  const frame: SensorFrame = {
    sensorWidthMm: request.sensor.widthMm,
    sensorHeightMm: request.sensor.heightMm,
    widthPx: request.pixels.width,
    heightPx: request.pixels.height,
  };
  const pixelUm = pixelPitchUm(frame);
  const pixelsPerCm = 1e4 / pixelUm / enlargement(frame, request.delivery);
  const distanceCm = request.delivery.viewingDistanceMm / 10;
  const lossFactor = request.lossToAdd
    ? exposureFactor(request.magnification, request.pupilMagnification)
    : 1;
  return {
    request,
    frame,
    pixelUm,
    limitUm: limitUm(frame, request.delivery),
    lossFactor,
    lightThirds: Math.round(3 * (request.ev100 - Math.log2(lossFactor))),
    wantedSnr: {
      midtone: snrForDelivery(EXCELLENT_SNR, pixelsPerCm, distanceCm),
      shadow: snrForDelivery(ACCEPTABLE_SNR, pixelsPerCm, distanceCm),
    },
    sensor: { ...TYPICAL_SENSOR, pixelPitchUm: pixelUm },
    subject: subjectOf(request, luck),
    camera: cameraOf(request, luck),
  };
}

/** The lens of a scene at an f-number (exact). */
export function lensAt(scene: Scene, fNumber: number): LensSetting {
  const { lens, magnification, pupilMagnification } = scene.request;
  return { focalLengthMm: lens.focalLengthMm, fNumber, magnification, pupilMagnification };
}

/** The frame of a scene at an f-number and a time (exact). */
export function frameAt(scene: Scene, fNumber: number, exposureTimeS: number): FrameSetting {
  return {
    lens: lensAt(scene, fNumber),
    exposureTimeS,
    pixelUm: scene.pixelUm,
    limitUm: scene.limitUm,
    subject: scene.subject,
    camera: scene.camera,
    stabilisation: scene.request.stabilisation,
  };
}

/** Odds of that frame, to the two digits to which they are known. */
export function oddsAt(scene: Scene, fNumber: number, exposureTimeS: number): FrameOdds {
  const frame = frameAt(scene, fNumber, exposureTimeS);
  const { inFocus, still } = withInsect(scene, frame, frameOdds);
  const sharp = sharpAt(scene, fNumber, exposureTimeS);
  // A chance that lies on the edge between two digits may read one higher than the causes it is made of.
  return { inFocus: Math.max(twoDigits(inFocus), sharp), still: Math.max(twoDigits(still), sharp), sharp };
}

/** The chance alone that such a frame is sharp, to two digits: `oddsAt(...).sharp`. */
export function sharpAt(scene: Scene, fNumber: number, exposureTimeS: number): number {
  return twoDigits(chanceOf(scene, frameAt(scene, fNumber, exposureTimeS)));
}

/** The chance that a frame of a scene is sharp, its insect still or moving. */
export function chanceOf(scene: Scene, frame: FrameSetting): number {
  return withInsect(scene, frame, (one) => {
    const sharp = chanceSharp(one);
    return { inFocus: sharp, still: sharp, sharp };
  }).sharp;
}

/** Odds over the time: an insect stands for a share of it and moves for the rest. */
function withInsect(
  { request }: Scene,
  frame: FrameSetting,
  odds: (frame: FrameSetting) => FrameOdds,
): FrameOdds {
  if (request.insect === undefined) return odds(frame);
  const { stillShare, own } = INSECT_MOTION[request.insect];
  if (stillShare >= 1) return odds(frame);
  const [stands, moves] = [odds(frame), odds({ ...frame, own })];
  const mixed = (key: keyof FrameOdds): number => stillShare * stands[key] + (1 - stillShare) * moves[key];
  return { inFocus: mixed('inFocus'), still: mixed('still'), sharp: mixed('sharp') };
}

/**
 * A chance to two digits: hundredths from 0.1 up, two significant digits below. Hands and wind are known no better,
 * and settings whose chances read alike are alike.
 */
export function twoDigits(chance: number): number {
  return chance >= 0.1 ? Math.round(chance * 100) / 100 : Number(chance.toPrecision(2));
}

function subjectOf(request: CheckedRequest, luck: Luck): SubjectMotion {
  const plant = luck.plant * (request.learned?.plant?.median ?? 1);
  if (request.sway !== undefined) {
    const { amplitudeMm, frequencyHz } = request.sway;
    return { kind: 'sinusoid', amplitudeMm: amplitudeMm * plant, frequencyHz };
  }
  const windMs = windAtPlantMs(request);
  return windMs === undefined ? { kind: 'still' } : plantInWind(request, windMs * luck.wind, luck);
}

/** The wind that counts [m/s]: as asked, times what was learned of it; none where none was given. */
export function windAtPlantMs({ windMs, learned }: CheckedRequest): number | undefined {
  return windMs === undefined ? undefined : Math.min(40, windMs * (learned?.wind?.median ?? 1));
}

/** How the plant of a question moves in a wind at its head [m/s]; above 40 as in 40. */
export function plantInWind(request: CheckedRequest, windMs: number, luck: Luck = AS_GUESSED): SubjectMotion {
  const plant = luck.plant * (request.learned?.plant?.median ?? 1);
  return swayOf(STEMS[request.stem], Math.min(40, windMs), plant);
}

/** A stem's sway, its variance within an exposure by its own spectrum, each exposure worked out once. */
function swayOf(stem: (typeof STEMS)[keyof typeof STEMS], windMs: number, plant: number): SubjectMotion {
  const spectrum = swaySpectrum(stem, windMs);
  const { displacementMm, frequencyHz } = swayOfSpectrum(stem, spectrum);
  const known = new Map<number, number>();
  const withinMm2 = (exposureTimeS: number): number => {
    const found = known.get(exposureTimeS) ?? swayVarianceWithin(spectrum, exposureTimeS);
    known.set(exposureTimeS, found);
    return found * plant ** 2;
  };
  return { kind: 'sway', displacementMm: displacementMm * plant, frequencyHz, withinMm2 };
}

/** Whether the hands are the photographer's own: given, or learned from at least one frame. */
export function handsAreOwn(request: CheckedRequest): boolean {
  return request.hands !== undefined || (request.learned?.hands?.frames ?? 0) > 0;
}

function cameraOf(request: CheckedRequest, luck: Luck): CameraMotion {
  const camera = request.hands ?? SUPPORT_MOTION[request.support];
  const learnedHands = request.learned?.hands?.median ?? 1;
  const hands = luck.hands * learnedHands;
  return {
    ...camera,
    rotationRadS: camera.rotationRadS * hands,
    translationMmS: camera.translationMmS * hands,
    foreAndAftMm: camera.foreAndAftMm * luck.hands * (request.learned?.placement?.median ?? learnedHands),
  };
}
