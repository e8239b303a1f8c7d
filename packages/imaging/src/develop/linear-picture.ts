/** The picture that is developed and finished: three planes of linear light. */
import { DomainError } from '@tepal/science';
import type { Matrix3 } from '../colour/matrix.ts';

/**
 * Linear light of the working space (linear BT.2020, white D65), row by row. 1 is the white of the picture; what is
 * brighter goes on above 1, what is outside the primaries below 0.
 */
export interface LinearPicture {
  readonly width: number;
  readonly height: number;
  readonly red: Float32Array;
  readonly green: Float32Array;
  readonly blue: Float32Array;
}

/** A new black picture. @throws DomainError unless both sides are whole and positive */
export function blankPicture(width: number, height: number): LinearPicture {
  if (!(Number.isInteger(width) && Number.isInteger(height) && width > 0 && height > 0)) {
    throw new DomainError('outOfRange', 'whole sides of at least 1 px', 'picture', `${width} x ${height}`);
  }
  const plane = () => new Float32Array(width * height);
  return { width, height, red: plane(), green: plane(), blue: plane() };
}

/** @throws DomainError when a plane does not hold width x height samples */
export function checkPicture(picture: LinearPicture): void {
  const { width, height } = picture;
  for (const name of ['red', 'green', 'blue'] as const) {
    if (picture[name].length !== width * height || width * height === 0) {
      throw new DomainError(
        'outOfRange',
        `${width * height} samples of ${width} x ${height}`,
        name,
        `${picture[name].length} samples`,
      );
    }
  }
}

export function copyPicture(picture: LinearPicture): LinearPicture {
  const { width, height, red, green, blue } = picture;
  return { width, height, red: red.slice(), green: green.slice(), blue: blue.slice() };
}

/** The three planes in order. */
export function planesOf({
  red,
  green,
  blue,
}: LinearPicture): readonly [Float32Array, Float32Array, Float32Array] {
  return [red, green, blue];
}

/** Every colour turned by a matrix, in place. */
export function turnColours({ red, green, blue }: LinearPicture, m: Matrix3): void {
  for (let i = 0; i < red.length; i += 1) {
    const r = red[i]!;
    const g = green[i]!;
    const b = blue[i]!;
    red[i] = m[0] * r + m[1] * g + m[2] * b;
    green[i] = m[3] * r + m[4] * g + m[5] * b;
    blue[i] = m[6] * r + m[7] * g + m[8] * b;
  }
}

/** A rectangle of a picture in whole pixels. */
export interface PixelBox {
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
}

/** A copy of a rectangle. @throws DomainError if it does not lie within */
export function cutPicture(picture: LinearPicture, box: PixelBox): LinearPicture {
  const { left, top, width, height } = box;
  const whole = [left, top, width, height].every(Number.isInteger);
  const within = left >= 0 && top >= 0 && left + width <= picture.width && top + height <= picture.height;
  if (!(whole && within && width > 0 && height > 0)) {
    throw new DomainError(
      'outOfRange',
      'a box within the picture',
      'box',
      `${left},${top} ${width} x ${height}`,
    );
  }
  const out = blankPicture(width, height);
  for (const [from, to] of [
    [picture.red, out.red],
    [picture.green, out.green],
    [picture.blue, out.blue],
  ] as const) {
    for (let y = 0; y < height; y += 1) {
      const start = (top + y) * picture.width + left;
      to.set(from.subarray(start, start + width), y * width);
    }
  }
  return out;
}
