/** Whether the sun clears what stands round a place: hills and hedges, or the slope that it lies on. */
import { DomainError, requireFinite, requireInRange } from '../../domain-error.ts';

/**
 * The horizon round a place: its altitude above the level [°], at azimuths evenly spaced from north, clockwise. One
 * entry is the same all round; 36 stand every 10°.
 */
export type HorizonProfile = readonly number[];

/** A point of the horizon as somebody measured it. */
export interface HorizonPoint {
  /** From north, clockwise [°, 0 to 360]. */
  readonly azimuthDeg: number;
  /** Above the level [°, 0 to 90]. */
  readonly altitudeDeg: number;
}

const degree = Math.PI / 180;

/** The same azimuth, 0 (included) to 360 (not included). */
const turned = (azimuthDeg: number) => ((azimuthDeg % 360) + 360) % 360;

/**
 * Altitude of the horizon in a direction, straight between the profile's entries.
 *
 * @param profile altitudes [°], at least one
 * @param azimuthDeg from north, clockwise [°]
 * @returns [°]
 * @throws DomainError if the profile is empty or the azimuth not finite
 */
export function horizonAltitudeDeg(profile: HorizonProfile, azimuthDeg: number): number {
  const n = profile.length;
  if (n === 0) throw new DomainError('outOfRange', 'at least one altitude', 'profile', 0);
  const place = (turned(requireFinite('azimuthDeg', azimuthDeg, 'degrees')) / 360) * n;
  const before = Math.floor(place) % n;
  const part = place - Math.floor(place);
  return profile[before]! * (1 - part) + profile[(before + 1) % n]! * part;
}

/**
 * A profile through a few measured points, straight between neighbours and round through north.
 *
 * @param points in any order, at least one
 * @returns every 5°, 72 altitudes [°]
 * @throws DomainError if there is no point or one is out of range
 */
export function horizonThroughPoints(points: readonly HorizonPoint[]): number[] {
  if (points.length === 0) throw new DomainError('outOfRange', 'at least one point', 'points', 0);
  const sorted = points
    .map(({ azimuthDeg, altitudeDeg }) => ({
      az: turned(requireInRange('azimuthDeg', azimuthDeg, { unit: 'degrees', min: 0, max: 360 })),
      alt: requireInRange('altitudeDeg', altitudeDeg, { unit: 'degrees', min: 0, max: 90 }),
    }))
    .sort((one, other) => one.az - other.az);
  return Array.from({ length: 72 }, (_, i) => {
    const az = i * 5;
    const next = sorted.find((point) => point.az >= az) ?? sorted[0]!;
    const last = sorted.findLast((point) => point.az <= az) ?? sorted.at(-1)!;
    const gap = turned(next.az - last.az);
    return gap === 0 ? next.alt : last.alt + ((next.alt - last.alt) * turned(az - last.az)) / gap;
  });
}

/**
 * The horizon that an even slope makes of itself: tan H = tan S cos(az - aspect - 180°), 0 on its open side.
 *
 * @param slope.slopeDeg S, steepness [°], 0 to 89
 * @param slope.aspectDeg where it falls to, from north, clockwise [°, 0 to 360]
 * @returns every 5°, 72 altitudes [°], at least 0
 * @throws DomainError outside the ranges
 * @source geometry of a plane
 */
export function horizonOfSlope(slope: { readonly slopeDeg: number; readonly aspectDeg: number }): number[] {
  const S = requireInRange('slopeDeg', slope.slopeDeg, { what: 'a slope', unit: 'degrees', min: 0, max: 89 });
  const aspect = requireInRange('aspectDeg', slope.aspectDeg, { unit: 'degrees', min: 0, max: 360 });
  return Array.from({ length: 72 }, (_, i) => {
    const rise = Math.tan(S * degree) * -Math.cos((i * 5 - aspect) * degree);
    return Math.max(0, Math.atan(rise) / degree);
  });
}

/** The higher of two horizons all round, every 5°. @throws DomainError if one is empty */
export function higherHorizon(one: HorizonProfile, other: HorizonProfile): number[] {
  return Array.from({ length: 72 }, (_, i) =>
    Math.max(horizonAltitudeDeg(one, i * 5), horizonAltitudeDeg(other, i * 5)),
  );
}

/**
 * Share of the sky's light that reaches level ground: the mean of cos² H over the azimuths, H at least 0.
 *
 * Even sky; an overcast one is darker low down and loses less.
 *
 * @param profile altitudes [°], at least one
 * @returns [0..1]
 * @throws DomainError if the profile is empty
 * @source closed form of the horizontal receiver, as in Dozier and Frew 1990
 */
export function openSkyShare(profile: HorizonProfile): number {
  if (profile.length === 0) throw new DomainError('outOfRange', 'at least one altitude', 'profile', 0);
  const each = profile.map((H) => Math.cos(Math.min(90, Math.max(0, H)) * degree) ** 2);
  return each.reduce((sum, share) => sum + share, 0) / each.length;
}

/** Altitude of the sun's centre above the horizon in its direction [°]: apparent altitude less the horizon's. */
export function sunAboveHorizonDeg(
  sun: { readonly apparentAltitudeDeg: number; readonly azimuthDeg: number },
  profile: HorizonProfile,
): number {
  return sun.apparentAltitudeDeg - horizonAltitudeDeg(profile, sun.azimuthDeg);
}
