/** Settings: the dials, what the light asks of them, and what is fixed. */
import {
  exactOfMarked,
  F_NUMBER_DIAL,
  ISO_DIAL,
  isoNeeded,
  nearestDialPosition,
  SHUTTER_DIAL,
  type DialPosition,
} from '@tepal/science';
import { isoPosition } from './noise.ts';
import type { Scene } from './scene.ts';

/** f-number, time and ISO, each with its mark and its exact value. */
export interface Setting {
  readonly f: DialPosition;
  readonly t: DialPosition;
  readonly iso: DialPosition;
}

/** The fastest shutter used [thirds from 1 s]: 1/8000 s. */
const FASTEST_THIRDS = SHUTTER_DIAL.at(-1)!.thirds;

/** ISO that a setting's f-number and time need in this light [1], exact. */
export function isoFor(scene: Scene, fNumber: number, exposureTimeS: number): number {
  return isoNeeded({ ev100: scene.request.ev100, fNumber, exposureTimeS, exposureFactor: scene.lossFactor });
}

/** How far a setting is over (+) or under (-) the light [stops]. */
export function exposureErrorStops(scene: Scene, setting: Setting): number {
  return Math.log2(setting.iso.exact / isoFor(scene, setting.f.exact, setting.t.exact));
}

/** Nearest third stop of ISO that an f-number and a time need. */
export function isoThirdsFor(scene: Scene, f: DialPosition, t: DialPosition): number {
  return Math.round(3 * Math.log2(isoFor(scene, f.exact, t.exact) / 100));
}

/** A dial position for any value: the dial's where it has that mark, else the value as it is. */
export function positionOf(dial: readonly DialPosition[], marked: number): DialPosition {
  const nearest = nearestDialPosition(dial, marked);
  const exact = exactOfMarked(dial, marked);
  return exact === nearest.exact ? nearest : { thirds: nearest.thirds, marked, exact };
}

/** f-numbers of the lens on the dial, or the fixed one; widest first, at least one. */
export function fNumbersOf(scene: Scene): readonly DialPosition[] {
  const { fix, minFNumber, maxFNumber } = scene.request;
  if (fix.fNumber !== undefined) return [positionOf(F_NUMBER_DIAL, fix.fNumber)];
  const onDial = F_NUMBER_DIAL.filter(
    ({ exact }) => exact >= minFNumber * 0.999 && exact <= maxFNumber * 1.001,
  );
  return onDial.length > 0 ? onDial : [positionOf(F_NUMBER_DIAL, minFNumber)];
}

/** What the shutter would have to be for an aperture and an ISO. */
export type ShutterNeeded =
  | { readonly kind: 'onDial'; readonly t: DialPosition }
  /** Slower than the slowest that is to be used, or faster than the camera has. */
  | { readonly kind: 'tooSlow' }
  | { readonly kind: 'tooFast' };

/** The shutter that an aperture and an ISO need in this light. */
export function shutterFor(scene: Scene, f: DialPosition, isoThirds: number): ShutterNeeded {
  const thirds =
    fThirds(f) === undefined ? offDialThirds(scene, f, isoThirds) : scene.lightThirds + isoThirds - f.thirds;
  if (thirds > FASTEST_THIRDS) return { kind: 'tooFast' };
  const t = SHUTTER_DIAL[thirds - SHUTTER_DIAL[0]!.thirds];
  return t === undefined || t.thirds < slowestOf(scene).thirds ? { kind: 'tooSlow' } : { kind: 'onDial', t };
}

/** The slowest shutter on the dial that is to be used. */
export function slowestOf(scene: Scene): DialPosition {
  const { slowestShutterS } = scene.request;
  return SHUTTER_DIAL.find(({ exact }) => exact <= slowestShutterS * 1.13) ?? SHUTTER_DIAL.at(-1)!;
}

/** The fastest shutter on the dial. */
export function fastestShutter(): DialPosition {
  return SHUTTER_DIAL.at(-1)!;
}

/** A setting from a rung and a shutter. */
export function settingOf(f: DialPosition, t: DialPosition, isoThirds: number): Setting {
  return { f, t, iso: isoPosition(isoThirds) };
}

/** Thirds of an f-number that lies on the dial. */
function fThirds(f: DialPosition): number | undefined {
  return F_NUMBER_DIAL.find(({ thirds }) => thirds === f.thirds)?.exact === f.exact ? f.thirds : undefined;
}

function offDialThirds(scene: Scene, f: DialPosition, isoThirds: number): number {
  return Math.round(scene.lightThirds + isoThirds - 6 * Math.log2(f.exact));
}

/** Highest ISO on the dial [thirds from ISO 100], and the lowest. */
export const ISO_DIAL_THIRDS = { least: ISO_DIAL[0]!.thirds, most: ISO_DIAL.at(-1)!.thirds } as const;
