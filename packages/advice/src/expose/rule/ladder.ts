/**
 * The ladder of apertures and ISO that a photographer climbs down as light and stillness fail: each rung is a third of
 * a stop faster than the one before.
 *
 * 1. From the deepest useful aperture at base ISO, ISO rises while the delivery bears its noise wholly: depth before
 *    a low ISO.
 * 2. Then both give way by turns, two thirds of ISO for one of aperture, until ISO stands at its ceiling.
 *
 * The ladder does not know light or wind, and for a larger delivery it opens the aperture no later.
 */
import {
  depthOfField,
  DEFAULT_DELIVERY,
  depthDiscMm,
  diffractionSigmaUm,
  effectiveFNumber,
  type DialPosition,
} from '@tepal/science';
import { BASE_ISO_THIRDS, isoBounds } from './noise.ts';
import { lensAt, type Scene } from './scene.ts';

/** One rung: an f-number, and the ISO in thirds of a stop from ISO 100. */
export interface Rung {
  readonly f: DialPosition;
  readonly isoThirds: number;
}

/** The ladder, and how it goes on. */
export interface Ladder {
  readonly rungs: readonly Rung[];
  /** Up to this rung noise costs nothing. */
  readonly cleanRung: number;
  /** At the ISO ceiling only the aperture is left: the ladder's last and every wider one, narrowest first. */
  readonly beyond: readonly Rung[];
}

/**
 * Of what the delivery bears, pixels and diffraction may take half the variance at the deepest aperture: the rest is
 * for what moves. Ours.
 */
const FIXED_SHARE = 0.5;

/** Thirds of ISO given up for each third of aperture. Ours: depth counts for more than noise that is still borne. */
const ISO_TURNS_FOR_ONE_OF_F = 2;

/**
 * The ladder of a scene over the apertures that the lens has, or the fixed one.
 *
 * @param fs widest first, at least one
 */
export function ladderOf(scene: Scene, fs: readonly DialPosition[]): Ladder {
  const { cleanThirds, ceilingThirds } = isoBounds(scene);
  const base = Math.min(BASE_ISO_THIRDS, ceilingThirds);
  const deepest = deepestUseful(scene, fs);
  const rungs: Rung[] = [];
  const last = Math.max(base, cleanThirds);
  for (let isoThirds = base; isoThirds <= last; isoThirds++) rungs.push({ f: fs[deepest]!, isoThirds });
  const cleanRung = rungs.length - 1;
  const turns = ceilingThirds - cleanThirds;
  let at = deepest;
  for (let turn = 1; turn <= turns; turn++) {
    const before = rungs.at(-1)!.isoThirds;
    if (at > 0 && turn % ISO_TURNS_FOR_ONE_OF_F === 1) {
      at--;
      rungs.push({ f: fs[at]!, isoThirds: before });
    }
    const isoThirds = Math.max(base, cleanThirds + turn);
    if (isoThirds > before) rungs.push({ f: fs[at]!, isoThirds });
  }
  const top = Math.max(base, ceilingThirds);
  const beyond = fs.slice(0, at + 1).map((f) => ({ f, isoThirds: top }));
  return { rungs, cleanRung, beyond: beyond.reverse() };
}

/**
 * The place of the deepest aperture that is of use: the first that holds the depth wanted in the default delivery,
 * none at which pixels and diffraction take more than their share in this one. Wanted is the subject's depth with half
 * of the variance left at its edges, and a swing of the photographer either way.
 */
export function deepestUseful(scene: Scene, fs: readonly DialPosition[]): number {
  const { request, camera } = scene;
  const wantedMm = Math.SQRT2 * request.subjectDepthMm + 2 * camera.foreAndAftMm;
  const disc = depthDiscMm(scene.frame, DEFAULT_DELIVERY);
  const room = FIXED_SHARE * scene.limitUm ** 2 - scene.pixelUm ** 2 / 12;
  let place = 0;
  for (let i = 1; i < fs.length; i++) {
    const { total } = depthOfField(lensAt(scene, fs[i - 1]!.exact), disc);
    const holds = total.kind === 'infinite' || total.mm >= wantedMm;
    const Ne = effectiveFNumber(lensAt(scene, fs[i]!.exact));
    if (holds || diffractionSigmaUm(Ne) ** 2 > room) break;
    place = i;
  }
  return place;
}
