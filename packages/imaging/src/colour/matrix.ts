/** Three by three matrices, row by row: the arithmetic of colour spaces. */
import { DomainError } from '@tepal/science';

/** Row by row: [a b c; d e f; g h i]. */
export type Matrix3 = readonly [
  ...[a: number, b: number, c: number],
  ...[d: number, e: number, f: number],
  ...[g: number, h: number, i: number],
];

/** Three numbers that belong together: a colour in some space. */
export type Triple = readonly [number, number, number];

export const IDENTITY: Matrix3 = [1, 0, 0, 0, 1, 0, 0, 0, 1];

/** The matrix that does `second` after `first`: second · first. */
export function multiply(second: Matrix3, first: Matrix3): Matrix3 {
  const [a, b, c, d, e, f, g, h, i] = second;
  const [A, B, C, D, E, F, G, H, I] = first;
  return [
    a * A + b * D + c * G,
    a * B + b * E + c * H,
    a * C + b * F + c * I,
    d * A + e * D + f * G,
    d * B + e * E + f * H,
    d * C + e * F + f * I,
    g * A + h * D + i * G,
    g * B + h * E + i * H,
    g * C + h * F + i * I,
  ];
}

/** The matrix applied to a column of three. */
export function apply(matrix: Matrix3, [x, y, z]: Triple): Triple {
  const [a, b, c, d, e, f, g, h, i] = matrix;
  return [a * x + b * y + c * z, d * x + e * y + f * z, g * x + h * y + i * z];
}

/** @returns the inverse @throws DomainError if there is none */
export function invert(matrix: Matrix3): Matrix3 {
  const [a, b, c, d, e, f, g, h, i] = matrix;
  const A = e * i - f * h;
  const B = f * g - d * i;
  const C = d * h - e * g;
  const determinant = a * A + b * B + c * C;
  if (!(Math.abs(determinant) > 1e-12)) {
    throw new DomainError('outOfRange', 'a matrix that can be inverted', 'matrix', matrix.join(' '));
  }
  const k = 1 / determinant;
  return [
    A * k,
    (c * h - b * i) * k,
    (b * f - c * e) * k,
    B * k,
    (a * i - c * g) * k,
    (c * d - a * f) * k,
    C * k,
    (b * g - a * h) * k,
    (a * e - b * d) * k,
  ];
}

/** A matrix that scales each of the three by its own factor. */
export function diagonal([x, y, z]: Triple): Matrix3 {
  return [x, 0, 0, 0, y, 0, 0, 0, z];
}
