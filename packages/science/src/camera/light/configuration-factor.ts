/** Configuration factors: what share of an element's view a flat shape fills, weighted by the cosine. */
import { DomainError, requirePositive } from '../../domain-error.ts';

/** A point or direction; x and y level, z up. */
export type Vector = readonly [number, number, number];

/**
 * The configuration factor from a small flat element to a polygon: Lambert's contour sum,
 *
 *   F = |sum over edges of angle(r_i, r_i+1) n . unit(r_i x r_i+1)| / (2 pi)
 *
 * with r from the element to the corners. What lies behind the element's plane is cut off first. E = pi L F is the
 * light that a shape of luminance L gives.
 *
 * @param element the point and its unit normal
 * @param corners in order round the polygon, at least three, all in one plane that does not hold the element
 * @returns F [0..1]; seen from either side of the polygon
 * @throws DomainError for fewer than three corners
 * @source Lambert 1760, Photometria; Siegel and Howell 1972, Thermal Radiation Heat Transfer, contour integration
 */
export function configurationFactor(
  element: { readonly at: Vector; readonly normal: Vector },
  corners: readonly Vector[],
): number {
  if (corners.length < 3) {
    throw new DomainError('empty', 'at least three corners', 'corners', corners.length);
  }
  const normal = unit(element.normal);
  const seen = aboveHorizon(
    corners.map((corner) => difference(corner, element.at)),
    normal,
  );
  let sum = 0;
  seen.forEach((r, i) => {
    const next = seen[(i + 1) % seen.length]!;
    const across = cross(r, next);
    const sine = length(across);
    // An edge that points at the element turns no angle.
    if (sine > 0) sum += (Math.atan2(sine, dot(r, next)) * dot(normal, across)) / sine;
  });
  return Math.min(1, Math.abs(sum) / (2 * Math.PI));
}

/** Corners of the regular polygon that stands for a disc: 72, of the disc's own area. */
const DISC_CORNERS = 72;
const SAME_AREA = Math.sqrt((2 * Math.PI) / DISC_CORNERS / Math.sin((2 * Math.PI) / DISC_CORNERS));

/** A disc as a polygon of the same area. @throws DomainError */
export function discCorners(centre: Vector, normal: Vector, diameter: number): readonly Vector[] {
  const radius = (SAME_AREA * requirePositive('diameter', diameter)) / 2;
  const n = unit(normal);
  const u = unit(cross(n, Math.abs(n[2]) < 0.9 ? [0, 0, 1] : [1, 0, 0]));
  const w = cross(n, u);
  return Array.from({ length: DISC_CORNERS }, (_, i) => {
    const angle = (2 * Math.PI * i) / DISC_CORNERS;
    return add(centre, add(scaled(u, radius * Math.cos(angle)), scaled(w, radius * Math.sin(angle))));
  });
}

export function unit(v: Vector): Vector {
  return scaled(v, 1 / requirePositive('length of a direction', length(v)));
}

export function dot(a: Vector, b: Vector): number {
  return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}

export function scaled(v: Vector, k: number): Vector {
  return [v[0] * k, v[1] * k, v[2] * k];
}

export function add(a: Vector, b: Vector): Vector {
  return [a[0] + b[0], a[1] + b[1], a[2] + b[2]];
}

function difference(a: Vector, b: Vector): Vector {
  return [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
}

function cross(a: Vector, b: Vector): Vector {
  return [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
}

function length(v: Vector): number {
  return Math.sqrt(dot(v, v));
}

/** The part of a polygon before the element's plane: Sutherland and Hodgman's cut. */
function aboveHorizon(corners: readonly Vector[], normal: Vector): readonly Vector[] {
  const kept: Vector[] = [];
  corners.forEach((corner, i) => {
    const next = corners[(i + 1) % corners.length]!;
    const [here, there] = [dot(corner, normal), dot(next, normal)];
    if (here >= 0) kept.push(corner);
    if (here * there < 0) kept.push(add(corner, scaled(difference(next, corner), here / (here - there))));
  });
  return kept;
}
