/** Pictures made smaller in linear light: never larger. */
import { DomainError, requireInteger } from '@tepal/science';
import { blankPicture, planesOf, type LinearPicture } from '../develop/linear-picture.ts';

/**
 * The picture at a smaller size, by Lanczos' window over three lobes of the new size, in linear light: so fine light
 * stripes keep their brightness. Samples below black, which the window's lobes can make, become black.
 *
 * @throws DomainError if a side is not whole and positive, or larger than the picture's own
 * @source Lanczos' kernel sinc(x) sinc(x/3), |x| < 3; Duchon 1979
 */
export function reduceTo(picture: LinearPicture, width: number, height: number): LinearPicture {
  requireInteger('width', width, { min: 1 });
  requireInteger('height', height, { min: 1 });
  if (width > picture.width || height > picture.height) {
    throw new DomainError(
      'outOfRange',
      `at most ${picture.width} x ${picture.height} px, for nothing is enlarged,`,
      'size',
      `${width} x ${height}`,
    );
  }
  if (width === picture.width && height === picture.height) return picture;
  const across = tapsFor(picture.width, width);
  const down = tapsFor(picture.height, height);
  const out = blankPicture(width, height);
  const outs = planesOf(out);
  planesOf(picture).forEach((plane, p) => reducePlane(plane, picture.width, across, down, outs[p]!));
  return out;
}

interface Taps {
  readonly size: number;
  readonly first: Int32Array;
  readonly count: Int32Array;
  readonly weights: readonly Float32Array[];
}

function tapsFor(from: number, to: number): Taps {
  const ratio = from / to;
  const reach = 3 * ratio;
  const first = new Int32Array(to);
  const count = new Int32Array(to);
  const weights: Float32Array[] = [];
  for (let i = 0; i < to; i += 1) {
    const centre = (i + 0.5) * ratio - 0.5;
    const start = Math.max(0, Math.ceil(centre - reach));
    const end = Math.min(from - 1, Math.floor(centre + reach));
    const taps = Float32Array.from({ length: end - start + 1 }, (_, k) =>
      lanczos((start + k - centre) / ratio),
    );
    const sum = taps.reduce((total, tap) => total + tap, 0);
    for (let k = 0; k < taps.length; k += 1) taps[k] = taps[k]! / sum;
    first[i] = start;
    count[i] = taps.length;
    weights.push(taps);
  }
  return { size: to, first, count, weights };
}

function lanczos(x: number): number {
  if (x === 0) return 1;
  if (Math.abs(x) >= 3) return 0;
  const a = Math.PI * x;
  return ((Math.sin(a) / a) * Math.sin(a / 3)) / (a / 3);
}

/** Rows are reduced across as they are needed, and only those that still are kept. */
function reducePlane(plane: Float32Array, width: number, across: Taps, down: Taps, out: Float32Array): void {
  const rows = new Map<number, Float32Array>();
  const rowAt = (y: number): Float32Array => {
    const known = rows.get(y);
    if (known !== undefined) return known;
    const row = new Float32Array(across.size);
    for (let x = 0; x < across.size; x += 1) {
      const taps = across.weights[x]!;
      const start = y * width + across.first[x]!;
      let sum = 0;
      for (let k = 0; k < taps.length; k += 1) sum += taps[k]! * plane[start + k]!;
      row[x] = sum;
    }
    rows.set(y, row);
    return row;
  };
  for (let y = 0; y < down.size; y += 1) {
    const start = down.first[y]!;
    for (const known of rows.keys()) if (known < start) rows.delete(known);
    const taps = down.weights[y]!;
    const at = y * across.size;
    for (let k = 0; k < taps.length; k += 1) {
      const row = rowAt(start + k);
      const tap = taps[k]!;
      for (let x = 0; x < across.size; x += 1) out[at + x] = out[at + x]! + tap * row[x]!;
    }
    for (let x = at; x < at + across.size; x += 1) out[x] = Math.max(0, out[x]!);
  }
}
