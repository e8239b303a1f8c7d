/** The settings that the light allows, and the one to recommend. */
import {
  blurBudget,
  DEFAULT_DELIVERY,
  depthOfField,
  enlargement,
  exactOfMarked,
  F_NUMBER_DIAL,
  frameVariances,
  ISO_DIAL,
  isoNeeded,
  exposureTimeS as timeNeededS,
  nearestDialPosition,
  SHUTTER_DIAL,
  snrAtIso,
  DomainError,
  type Delivery,
  type DialPosition,
} from '@tepal/science';
import { frameAt, lensAt, sharpAt, sceneOf, SHADOW_STOPS, type Scene } from './scene.ts';

/** f-number, time and ISO, each with its mark and its exact value. */
export interface Setting {
  readonly f: DialPosition;
  readonly t: DialPosition;
  readonly iso: DialPosition;
}

/** Odds that are as good as certain: to two digits they read 1. */
const AS_GOOD_AS_CERTAIN = 0.995;

/** ISO 100: what lies below is not used unless asked for. */
export const BASE_ISO_THIRDS = 0;
const FASTEST_S = 1 / 8192;

/**
 * The recommended setting. The rule, in order:
 *
 * 1. Noise: no ISO above the ceiling, the highest at which midtones are excellent and shadows acceptable by ISO 12232
 *    at the delivery size.
 * 2. Odds: the lowest ISO at which some aperture and time make a sharp frame as good as certain; where none does, the
 *    ceiling, since noise that the delivery hides costs nothing and blur does.
 * 3. At that ISO the aperture and time of the best odds, to two digits.
 * 4. Among equals, the least blur at the worst edge of the subject: more depth, until diffraction eats it.
 *
 * For a picture that looks larger than the default delivery, no aperture of more depth than is advised there.
 * Where the light is too weak for the ceiling, the lowest ISO that exposes at the slowest shutter. Since the ceiling does not
 * depend on light or wind, more light never asks for a higher ISO and stiller air never lowers the odds.
 *
 * @throws DomainError where fixed values leave no ISO between 50 and 102400 that exposes
 */
export function recommendedSetting(scene: Scene): Setting {
  const fs = aperturesToJudge(scene);
  const all = settingsFor(scene, fs);
  const ceiling = Math.max(isoCeilingThirds(scene), Math.min(...all.map((s) => s.iso.thirds)));
  const judged = all
    .filter((s) => s.iso.thirds <= ceiling)
    .map((s) => ({ setting: s, sharp: sharpAt(scene, s.f.exact, s.t.exact) }));

  const enough = Math.min(AS_GOOD_AS_CERTAIN, bestOfAll(scene, fs));
  const reaching = judged.filter((j) => j.sharp >= enough).map((j) => j.setting.iso.thirds);
  const least = reaching.length > 0 ? Math.min(...reaching) : ceiling;

  const allowed = judged.filter((j) => j.setting.iso.thirds <= least);
  const best = Math.max(...allowed.map((j) => j.sharp));
  const equals = allowed.filter((j) => j.sharp === best).map((j) => j.setting);
  const atThatIso = equals.filter((s) => s.iso.thirds === least);
  return (atThatIso.length > 0 ? atThatIso : equals).reduce((a, b) =>
    edgeBlurUm(scene, b) < edgeBlurUm(scene, a) ? b : a,
  );
}

/** The highest ISO whose noise the delivery bears, or the photographer's own ceiling if lower, in thirds from 100. */
export function isoCeilingThirds(scene: Scene): number {
  const own = scene.request.isoCeiling;
  const limit = own === undefined ? Infinity : nearestDialPosition(ISO_DIAL, own).thirds;
  const borne = ISO_DIAL.filter(
    ({ thirds, exact }) =>
      thirds <= limit &&
      snrAtIso(scene.sensor, exact) >= scene.wantedSnr.midtone &&
      snrAtIso(scene.sensor, exact, SHADOW_STOPS) >= scene.wantedSnr.shadow,
  );
  return Math.max(BASE_ISO_THIRDS, ...borne.map(({ thirds }) => thirds));
}

/** ISO that a setting's f-number and time need in this light [1], exact. */
export function isoFor(scene: Scene, fNumber: number, exposureTimeS: number): number {
  return isoNeeded({ ev100: scene.request.ev100, fNumber, exposureTimeS, exposureFactor: scene.lossFactor });
}

/** How far a setting is over (+) or under (-) the light [stops]. */
export function exposureErrorStops(scene: Scene, setting: Setting): number {
  return Math.log2(setting.iso.exact / isoFor(scene, setting.f.exact, setting.t.exact));
}

/** A dial position for any value: the dial's where it has that mark, else the value as it is. */
export function positionOf(dial: readonly DialPosition[], marked: number): DialPosition {
  const nearest = nearestDialPosition(dial, marked);
  const exact = exactOfMarked(dial, marked);
  return exact === nearest.exact ? nearest : { thirds: nearest.thirds, marked, exact };
}

/** f-numbers of the lens on the dial, or the fixed one. */
export function fNumbersOf(scene: Scene): readonly DialPosition[] {
  const { fix, minFNumber, maxFNumber } = scene.request;
  if (fix.fNumber !== undefined) return [positionOf(F_NUMBER_DIAL, fix.fNumber)];
  const onDial = F_NUMBER_DIAL.filter(
    ({ exact }) => exact >= minFNumber * 0.999 && exact <= maxFNumber * 1.001,
  );
  return onDial.length > 0 ? onDial : [positionOf(F_NUMBER_DIAL, minFNumber)];
}

/**
 * The lens's apertures; for a picture that looks larger than the default delivery, those that give no more depth than
 * is recommended there. What costs depth in a larger print is not to be won back by chance of the dial.
 */
function aperturesToJudge(scene: Scene): readonly DialPosition[] {
  const all = fNumbersOf(scene);
  const { request, frame } = scene;
  const looks = (delivery: Delivery): number => enlargement(frame, delivery) / delivery.viewingDistanceMm;
  if (all.length === 1 || !(looks(request.delivery) > looks(DEFAULT_DELIVERY) * (1 + 1e-9))) return all;
  const reference = sceneOf({ ...request, delivery: DEFAULT_DELIVERY });
  const most = depthMm(reference, recommendedSetting(reference).f);
  const within = all.filter((f) => depthMm(scene, f) <= most);
  return within.length > 0 ? within : all.slice(0, 1);
}

/** Depth of field at an aperture [mm]; Infinity where it has no end. */
function depthMm(scene: Scene, f: DialPosition): number {
  const { total } = depthOfField(lensAt(scene, f.exact), (4 * scene.limitUm) / 1000);
  return total.kind === 'finite' ? total.mm : Infinity;
}

/** Every setting that exposes rightly and respects what is fixed; at least one. */
function settingsFor(scene: Scene, fs: readonly DialPosition[]): readonly Setting[] {
  const { fix, slowestShutterS } = scene.request;
  if (fix.iso !== undefined) {
    const iso = positionOf(ISO_DIAL, fix.iso);
    return fs.map((f) => ({
      f,
      iso,
      t: fix.exposureTimeS === undefined ? timeFor(scene, f, iso) : fixedTime(fix.exposureTimeS),
    }));
  }
  const times =
    fix.exposureTimeS === undefined
      ? SHUTTER_DIAL.filter(({ exact }) => exact <= slowestShutterS * 1.13 && exact >= FASTEST_S * 0.99)
      : [fixedTime(fix.exposureTimeS)];
  const fixed = fix.fNumber !== undefined || fix.exposureTimeS !== undefined;
  const leastIso = fixed ? ISO_DIAL[0]!.thirds : BASE_ISO_THIRDS;
  const found: Setting[] = [];
  for (const f of fs) {
    for (const t of times) {
      const thirds = isoThirds(scene, f.exact, t.exact);
      const iso = ISO_DIAL.find((position) => position.thirds === thirds);
      if (iso !== undefined && thirds >= leastIso) found.push({ f, t, iso });
    }
  }
  if (found.length > 0) return found;
  if (fix.exposureTimeS !== undefined) {
    const least = isoFor(scene, fs[0]!.exact, times[0]!.exact);
    throw new DomainError(
      'outOfRange',
      'a setting that this light can expose between ISO 50 and 102400',
      'fix',
      `f/${fs[0]!.marked}, ${times[0]!.marked} s, which needs ISO ${Math.round(least)}`,
    );
  }
  return [extreme(scene, fs, times)];
}

/** Far too bright or far too dark: the end of the dials that comes nearest. */
function extreme(scene: Scene, fs: readonly DialPosition[], times: readonly DialPosition[]): Setting {
  const [widest, slowest] = [fs[0]!, times[0]!];
  const [narrowest, fastest] = [fs.at(-1)!, times.at(-1)!];
  const tooDark = isoFor(scene, widest.exact, slowest.exact) > ISO_DIAL.at(-1)!.exact;
  return tooDark
    ? { f: widest, t: slowest, iso: ISO_DIAL.at(-1)! }
    : { f: narrowest, t: fastest, iso: positionOf(ISO_DIAL, 100) };
}

function timeFor(scene: Scene, f: DialPosition, iso: DialPosition): DialPosition {
  const t = timeNeededS({
    ev100: scene.request.ev100,
    fNumber: f.exact,
    iso: iso.exact,
    exposureFactor: scene.lossFactor,
  });
  return nearestDialPosition(SHUTTER_DIAL, t);
}

function fixedTime(seconds: number): DialPosition {
  return positionOf(SHUTTER_DIAL, seconds);
}

/**
 * Best odds with the shutter at its fastest, of every aperture that the light does not overexpose there; what no
 * higher ISO can better.
 */
function bestOfAll(scene: Scene, all: readonly DialPosition[]): number {
  const t = scene.request.fix.exposureTimeS;
  const fastest = t === undefined ? FASTEST_S : fixedTime(t).exact;
  const exposable = all.filter((f) => isoThirds(scene, f.exact, fastest) >= BASE_ISO_THIRDS);
  return Math.max(...(exposable.length > 0 ? exposable : all).map((f) => sharpAt(scene, f.exact, fastest)));
}

/** Nearest third stop of ISO that an f-number and a time need. */
function isoThirds(scene: Scene, fNumber: number, exposureTimeS: number): number {
  return Math.round(3 * Math.log2(isoFor(scene, fNumber, exposureTimeS) / 100));
}

function edgeBlurUm(scene: Scene, setting: Setting): number {
  const frame = frameAt(scene, setting.f.exact, setting.t.exact);
  return blurBudget(frame, frameVariances(frame), scene.request.subjectDepthMm).totalUm;
}
