/** The setting to recommend. */
import {
  DomainError,
  exposureTimeS,
  ISO_DIAL,
  nearestDialPosition,
  SHUTTER_DIAL,
  type DialPosition,
} from '@tepal/science';
import { deepestUseful, ladderOf, type Ladder, type Rung } from './ladder.ts';
import { BASE_ISO_THIRDS, isoBounds } from './noise.ts';
import { chanceOf, frameAt, plantInWind, sharpAt, type Scene } from './scene.ts';
import {
  exposureErrorStops,
  fastestShutter,
  fNumbersOf,
  isoFor,
  ISO_DIAL_THIRDS,
  isoThirdsFor,
  positionOf,
  settingOf,
  shutterFor,
  slowestOf,
  type Setting,
} from './settings.ts';

/** Odds that are as good as certain: to two digits they read 1. */
const AS_GOOD_AS_CERTAIN = 0.995;
/**
 * Of the odds that the fastest shutter would give: while noise costs nothing one goes on to this share, and once it
 * costs something no further than to this one. Ours.
 */
const SHARE_WHILE_CLEAN = 0.97;
const SHARE_AFTER = 0.9;

/**
 * The air for which settings are chosen [m/s at the plant]: a plant that stirs, as in the lulls of a breeze. Ours. In
 * stronger wind one waits for the lull, or takes one of the alternatives.
 */
export const LULL_WIND_MS = 0.3;

/** The chance of one frame at which so many frames give a sharp one with 95 %: 1 - 0.05^(1/n). */
export function chanceWanted(frames: number): number {
  return 1 - 0.05 ** (1 / frames);
}

/**
 * The recommended setting: the first rung of the ladder (deepest and cleanest first, see `ladderOf`) at which
 *
 * - every frame is as good as certain in the air as it is, or
 * - in a lull the frames that one is willing to take give a sharp one with 95 %, or a still faster shutter at this or
 *   any wider aperture could hardly win more; but while noise costs nothing, only once it could win nothing.
 *
 * Where no rung will do: the ISO ceiling, and the first aperture that no wider one betters by a tenth in a lull. Where
 * the light is too weak for the ceiling: the widest aperture at the slowest shutter, and the ISO that it takes.
 *
 * More light never asks for a higher ISO, since a rung that will do does so in more light. Stiller air never lowers
 * the odds: but for rungs that are certain the choice does not know the wind. A larger delivery never widens the
 * depth: its odds are lower on every rung, and it comes to rest further down.
 *
 * @param air the air of the lull; the question's own wind or sway put aside
 * @throws DomainError where fixed values leave no ISO between 50 and 102400 that exposes
 */
export function recommendedSetting(scene: Scene, air: number = LULL_WIND_MS): Setting {
  const { fix } = scene.request;
  const fs = fNumbersOf(scene);
  const lull = inLull(scene, air);
  if (fix.iso !== undefined || fix.exposureTimeS !== undefined) return withFixed(scene, lull, fs);
  return alongLadder(scene, lull, ladderOf(scene, fs), fs);
}

/** The same scene with the plant in the air of a lull instead of its own wind or sway. */
export function inLull(scene: Scene, windMs: number = LULL_WIND_MS): Scene {
  return { ...scene, subject: plantInWind(scene.request, windMs) };
}

function alongLadder(scene: Scene, lull: Scene, ladder: Ladder, fs: readonly DialPosition[]): Setting {
  const reach = withoutMotion(lull, fs);
  const wanted = chanceWanted(scene.request.frames);
  let lastExposed: Setting | undefined;
  for (const [place, rung] of ladder.rungs.entries()) {
    const shutter = shutterFor(scene, rung.f, rung.isoThirds);
    if (shutter.kind === 'tooFast') return lastExposed ?? tooBright(scene, fs, rung);
    if (shutter.kind === 'tooSlow') continue;
    lastExposed = settingOf(rung.f, shutter.t, rung.isoThirds);
    const { here, best } = reach(rung.f);
    const willDo = Math.min(wanted, SHARE_AFTER * best);
    const enough = place >= ladder.cleanRung ? willDo : Math.max(willDo, SHARE_WHILE_CLEAN * here);
    if (oddsInLull(lull, rung.f, shutter.t) >= enough) return lastExposed;
    if (sharpAt(scene, rung.f.exact, shutter.t.exact) >= AS_GOOD_AS_CERTAIN) return lastExposed;
  }
  return atCeiling(scene, lull, ladder.beyond) ?? tooDark(scene, fs);
}

/** Odds in a lull, unrounded: shares of them are compared. */
function oddsInLull(lull: Scene, f: DialPosition, t: DialPosition): number {
  return chanceOf(lull, frameAt(lull, f.exact, t.exact));
}

/** Odds in a lull with the fastest shutter: at an aperture, and at the best of it and all wider ones. */
function withoutMotion(
  lull: Scene,
  fs: readonly DialPosition[],
): (f: DialPosition) => { readonly here: number; readonly best: number } {
  const fastest = fastestShutter();
  const odds = fs.map((f) => oddsInLull(lull, f, fastest));
  return (f) => {
    const place = fs.indexOf(f);
    return { here: odds[place]!, best: Math.max(...odds.slice(0, place + 1)) };
  };
}

/** At the ceiling: the first aperture that will do in a lull, or that no wider one betters by a tenth. */
function atCeiling(scene: Scene, lull: Scene, beyond: readonly Rung[]): Setting | undefined {
  const wanted = chanceWanted(scene.request.frames);
  const judged = beyond.flatMap(({ f, isoThirds }) => {
    const shutter = shutterFor(scene, f, isoThirds);
    if (shutter.kind !== 'onDial') return [];
    return [{ setting: settingOf(f, shutter.t, isoThirds), sharp: oddsInLull(lull, f, shutter.t) }];
  });
  const best = (from: number): number => Math.max(...judged.slice(from).map(({ sharp }) => sharp));
  return judged.find(({ sharp }, i) => sharp >= Math.min(wanted, SHARE_AFTER * best(i)))?.setting;
}

/** The widest aperture at the slowest shutter, with the ISO that it takes. */
function tooDark(scene: Scene, fs: readonly DialPosition[]): Setting {
  const [f, t] = [fs[0]!, slowestOf(scene)];
  return settingOf(f, t, isoThirdsFor(scene, f, t));
}

/** Base ISO and the widest aperture that the fastest shutter does not overexpose, or the narrowest there is. */
function tooBright(scene: Scene, fs: readonly DialPosition[], { isoThirds }: Rung): Setting {
  const f = fs.find((one) => isoThirdsFor(scene, one, fastestShutter()) >= isoThirds) ?? fs.at(-1)!;
  return settingOf(f, fastestShutter(), isoThirds);
}

/** Fixed values stand; the rest follows from the light. */
function withFixed(scene: Scene, lull: Scene, fs: readonly DialPosition[]): Setting {
  const { fix } = scene.request;
  if (fix.iso !== undefined) {
    const iso = positionOf(ISO_DIAL, fix.iso);
    if (fix.exposureTimeS !== undefined) {
      const t = positionOf(SHUTTER_DIAL, fix.exposureTimeS);
      return nearestExposure(
        scene,
        fs.map((f) => ({ f, t, iso })),
      );
    }
    return apertureAtIso(scene, lull, fs, iso);
  }
  return apertureAtTime(scene, fs, positionOf(SHUTTER_DIAL, fix.exposureTimeS!));
}

/** ISO fixed: from the deepest aperture on, the first whose odds in a lull will do, else that of the best odds. */
function apertureAtIso(scene: Scene, lull: Scene, fs: readonly DialPosition[], iso: DialPosition): Setting {
  const wanted = chanceWanted(scene.request.frames);
  const settings = fs
    .slice(0, deepestUseful(scene, fs) + 1)
    .reverse()
    .map((f): Setting => ({ f, iso, t: timeFor(scene, f, iso) }));
  const odds = settings.map(({ f, t }) => oddsInLull(lull, f, t));
  const first = odds.findIndex((sharp) => sharp >= wanted);
  return settings[first >= 0 ? first : odds.indexOf(Math.max(...odds))]!;
}

/** Time fixed: from the deepest aperture on, the first whose ISO the ladder would bear with it. */
function apertureAtTime(scene: Scene, fs: readonly DialPosition[], t: DialPosition): Setting {
  const { cleanThirds, ceilingThirds } = isoBounds(scene);
  const deepest = deepestUseful(scene, fs);
  const isoOf = (f: DialPosition): number => isoThirdsFor(scene, f, t);
  const base = fs.length === 1 ? ISO_DIAL_THIRDS.least : BASE_ISO_THIRDS;
  for (let at = deepest; at >= 0; at--) {
    const iso = isoOf(fs[at]!);
    if (iso >= base && iso <= Math.min(ceilingThirds, cleanThirds + deepest - at))
      return settingOf(fs[at]!, t, iso);
  }
  // Too bright for the deepest, so narrower; or too dark for the widest, so whatever ISO that takes.
  const bright = isoOf(fs[deepest]!) < base;
  const f = (bright ? fs.slice(deepest).find((one) => isoOf(one) >= base) : fs[0]) ?? fs.at(-1)!;
  const iso = isoOf(f);
  if (iso >= ISO_DIAL_THIRDS.least && iso <= ISO_DIAL_THIRDS.most) return settingOf(f, t, iso);
  throw new DomainError(
    'outOfRange',
    'a setting that this light can expose between ISO 50 and 102400',
    'fix',
    `f/${f.marked}, ${t.marked} s, which needs ISO ${Math.round(isoFor(scene, f.exact, t.exact))}`,
  );
}

function nearestExposure(scene: Scene, settings: readonly Setting[]): Setting {
  const off = (setting: Setting): number => Math.abs(exposureErrorStops(scene, setting));
  return settings.reduce((a, b) => (off(b) < off(a) ? b : a));
}

function timeFor(scene: Scene, f: DialPosition, iso: DialPosition): DialPosition {
  const { ev100 } = scene.request;
  const needed = exposureTimeS({ ev100, fNumber: f.exact, iso: iso.exact, exposureFactor: scene.lossFactor });
  return nearestDialPosition(SHUTTER_DIAL, needed);
}
