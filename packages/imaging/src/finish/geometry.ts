/** Crop and level: which part of the picture is shown, and how it is turned. */
import { DomainError, requireInRange } from '@tepal/science';
import {
  blankPicture,
  cutPicture,
  planesOf,
  type LinearPicture,
  type PixelBox,
} from '../develop/linear-picture.ts';

export interface Framing {
  /** Turned counter-clockwise as seen [°], -45 to 45, about the middle of the picture. */
  readonly levelDeg?: number;
  /** The part that is kept, as fractions of the levelled picture; all of it unless given. */
  readonly crop?: {
    readonly left: number;
    readonly top: number;
    readonly width: number;
    readonly height: number;
  };
}

/**
 * The largest upright rectangle of the picture's own proportions that lies within the turned picture [px].
 *
 * @param levelDeg -45 to 45
 * @source plane geometry: the corner of the scaled rectangle must stay within the turned sides
 */
export function levelledSize(
  width: number,
  height: number,
  levelDeg: number,
): { readonly width: number; readonly height: number } {
  const angle = (Math.abs(levelDeg) * Math.PI) / 180;
  const c = Math.cos(angle);
  const s = Math.sin(angle);
  const scale = Math.min(width / (width * c + height * s), height / (width * s + height * c));
  return { width: Math.max(1, Math.floor(width * scale)), height: Math.max(1, Math.floor(height * scale)) };
}

/**
 * The picture levelled and cropped: one resampling, and none where it is only cropped, so that samples stay as they
 * are.
 *
 * @throws DomainError if the angle or the crop is out of its range
 */
export function frame(picture: LinearPicture, framing: Framing): LinearPicture {
  const level = requireInRange('levelDeg', framing.levelDeg ?? 0, { unit: 'degrees', min: -45, max: 45 });
  const size = level === 0 ? picture : levelledSize(picture.width, picture.height, level);
  const box = boxOf(framing.crop ?? { left: 0, top: 0, width: 1, height: 1 }, size);
  if (level === 0) {
    const whole = box.width === picture.width && box.height === picture.height;
    return whole ? picture : cutPicture(picture, box);
  }
  return turn(picture, level, size, box);
}

/** The size that framing gives a picture. @throws DomainError if the angle or the crop is out of its range */
export function framedSize(
  size: { readonly width: number; readonly height: number },
  framing: Framing,
): { readonly width: number; readonly height: number } {
  const level = requireInRange('levelDeg', framing.levelDeg ?? 0, { unit: 'degrees', min: -45, max: 45 });
  const levelled = level === 0 ? size : levelledSize(size.width, size.height, level);
  const { width, height } = boxOf(framing.crop ?? { left: 0, top: 0, width: 1, height: 1 }, levelled);
  return { width, height };
}

/** The crop in whole pixels, at least one each way. @throws DomainError if it does not lie within 0 to 1 */
export function boxOf(
  crop: NonNullable<Framing['crop']>,
  size: { readonly width: number; readonly height: number },
): PixelBox {
  const { left, top, width, height } = crop;
  const within =
    left >= 0 && top >= 0 && width > 0 && height > 0 && left + width <= 1 + 1e-9 && top + height <= 1 + 1e-9;
  if (!within) {
    throw new DomainError(
      'outOfRange',
      'left, top, width and height as fractions within the picture',
      'crop',
      `${left}, ${top}, ${width}, ${height}`,
    );
  }
  const x = Math.min(size.width - 1, Math.round(left * size.width));
  const y = Math.min(size.height - 1, Math.round(top * size.height));
  return {
    left: x,
    top: y,
    width: Math.max(1, Math.min(size.width - x, Math.round(width * size.width))),
    height: Math.max(1, Math.min(size.height - y, Math.round(height * size.height))),
  };
}

/** Turned by the cubic of Keys over 4 x 4 pixels. */
function turn(
  picture: LinearPicture,
  levelDeg: number,
  size: { readonly width: number; readonly height: number },
  box: PixelBox,
): LinearPicture {
  const { width, height } = picture;
  const out = blankPicture(box.width, box.height);
  const angle = (levelDeg * Math.PI) / 180;
  const c = Math.cos(angle);
  const s = Math.sin(angle);
  const planes = planesOf(picture);
  const outs = planesOf(out);
  const wx = new Float64Array(4);
  const wy = new Float64Array(4);
  for (let y = 0; y < box.height; y += 1) {
    const v = box.top + y + 0.5 - size.height / 2;
    for (let x = 0; x < box.width; x += 1) {
      const u = box.left + x + 0.5 - size.width / 2;
      // The picture turns counter-clockwise, y pointing down; so the place is looked up turned back.
      const sx = c * u - s * v + width / 2 - 0.5;
      const sy = s * u + c * v + height / 2 - 0.5;
      const x0 = Math.floor(sx);
      const y0 = Math.floor(sy);
      cubicWeights(sx - x0, wx);
      cubicWeights(sy - y0, wy);
      for (let p = 0; p < 3; p += 1) {
        const plane = planes[p]!;
        let sum = 0;
        for (let j = 0; j < 4; j += 1) {
          const row = Math.min(height - 1, Math.max(0, y0 + j - 1)) * width;
          let across = 0;
          for (let i = 0; i < 4; i += 1) {
            across += wx[i]! * plane[row + Math.min(width - 1, Math.max(0, x0 + i - 1))]!;
          }
          sum += wy[j]! * across;
        }
        outs[p]![y * box.width + x] = sum;
      }
    }
  }
  return out;
}

/** @source Keys 1981, IEEE ASSP 29, 1153: cubic convolution with a = -1/2 */
function cubicWeights(t: number, out: Float64Array): void {
  const t2 = t * t;
  const t3 = t2 * t;
  out[0] = -0.5 * t3 + t2 - 0.5 * t;
  out[1] = 1.5 * t3 - 2.5 * t2 + 1;
  out[2] = -1.5 * t3 + 2 * t2 + 0.5 * t;
  out[3] = 0.5 * t3 - 0.5 * t2;
}
