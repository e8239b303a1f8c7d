/** Means over windows, and blurs made of them: the cost does not grow with the radius. */

/** One plane of samples, row by row. */
export interface Plane {
  readonly width: number;
  readonly height: number;
  readonly data: Float32Array;
}

/**
 * The mean over a square window of side 2 r + 1, cut off at the borders.
 *
 * @param radiusPx r, whole, >= 0
 */
export function boxMean(plane: Plane, radiusPx: number): Plane {
  const { width, height, data } = plane;
  const r = Math.max(0, Math.round(radiusPx));
  if (r === 0) return { width, height, data: data.slice() };
  const across = new Float32Array(data.length);
  for (let y = 0; y < height; y += 1) {
    const row = y * width;
    let sum = 0;
    for (let x = 0; x < Math.min(r, width); x += 1) sum += data[row + x]!;
    for (let x = 0; x < width; x += 1) {
      if (x + r < width) sum += data[row + x + r]!;
      if (x - r - 1 >= 0) sum -= data[row + x - r - 1]!;
      across[row + x] = sum / (Math.min(width - 1, x + r) - Math.max(0, x - r) + 1);
    }
  }
  const out = new Float32Array(data.length);
  const sums = new Float64Array(width);
  for (let y = 0; y < Math.min(r, height); y += 1) {
    for (let x = 0; x < width; x += 1) sums[x] = sums[x]! + across[y * width + x]!;
  }
  for (let y = 0; y < height; y += 1) {
    const add = y + r < height ? (y + r) * width : -1;
    const drop = y - r - 1 >= 0 ? (y - r - 1) * width : -1;
    const count = Math.min(height - 1, y + r) - Math.max(0, y - r) + 1;
    for (let x = 0; x < width; x += 1) {
      let sum = sums[x]!;
      if (add >= 0) sum += across[add + x]!;
      if (drop >= 0) sum -= across[drop + x]!;
      sums[x] = sum;
      out[y * width + x] = sum / count;
    }
  }
  return { width, height, data: out };
}

/** A Gaussian blur, exact taps out to 3 sigma, borders repeated. @param sigmaPx >= 0 */
export function gaussianBlur(plane: Plane, sigmaPx: number): Plane {
  const { width, height, data } = plane;
  if (!(sigmaPx > 0.05)) return { width, height, data: data.slice() };
  const r = Math.ceil(3 * sigmaPx);
  const taps = Float64Array.from({ length: 2 * r + 1 }, (_, i) =>
    Math.exp(-((i - r) ** 2) / (2 * sigmaPx ** 2)),
  );
  const total = taps.reduce((sum, tap) => sum + tap, 0);
  for (let i = 0; i < taps.length; i += 1) taps[i] = taps[i]! / total;
  const across = new Float32Array(data.length);
  for (let y = 0; y < height; y += 1) {
    const row = y * width;
    for (let x = 0; x < width; x += 1) {
      let sum = 0;
      for (let k = -r; k <= r; k += 1) {
        const at = Math.min(width - 1, Math.max(0, x + k));
        sum += taps[k + r]! * data[row + at]!;
      }
      across[row + x] = sum;
    }
  }
  const out = new Float32Array(data.length);
  for (let y = 0; y < height; y += 1) {
    for (let k = -r; k <= r; k += 1) {
      const row = Math.min(height - 1, Math.max(0, y + k)) * width;
      const tap = taps[k + r]!;
      for (let x = 0; x < width; x += 1) out[y * width + x] = out[y * width + x]! + tap * across[row + x]!;
    }
  }
  return { width, height, data: out };
}

/** The plane made smaller by a whole factor: the mean of each square of pixels. */
export function shrink(plane: Plane, factor: number): Plane {
  if (factor <= 1) return plane;
  const width = Math.ceil(plane.width / factor);
  const height = Math.ceil(plane.height / factor);
  const data = new Float32Array(width * height);
  for (let y = 0; y < height; y += 1) {
    const bottom = Math.min(plane.height, (y + 1) * factor);
    for (let x = 0; x < width; x += 1) {
      const right = Math.min(plane.width, (x + 1) * factor);
      let sum = 0;
      for (let v = y * factor; v < bottom; v += 1) {
        for (let u = x * factor; u < right; u += 1) sum += plane.data[v * plane.width + u]!;
      }
      data[y * width + x] = sum / ((bottom - y * factor) * (right - x * factor));
    }
  }
  return { width, height, data };
}

/**
 * One row of a shrunken plane brought back to full width, straight lines between.
 *
 * @param out `width` places
 */
export function enlargedRow(small: Plane, factor: number, y: number, out: Float32Array): void {
  const { width, height, data } = small;
  const at = Math.min(height - 1, Math.max(0, (y + 0.5) / factor - 0.5));
  const y0 = Math.floor(at);
  const fy = at - y0;
  const top = y0 * width;
  const bottom = Math.min(height - 1, y0 + 1) * width;
  for (let x = 0; x < out.length; x += 1) {
    const ax = Math.min(width - 1, Math.max(0, (x + 0.5) / factor - 0.5));
    const x0 = Math.floor(ax);
    const x1 = Math.min(width - 1, x0 + 1);
    const fx = ax - x0;
    const upper = data[top + x0]! + (data[top + x1]! - data[top + x0]!) * fx;
    const lower = data[bottom + x0]! + (data[bottom + x1]! - data[bottom + x0]!) * fx;
    out[x] = upper + (lower - upper) * fy;
  }
}
