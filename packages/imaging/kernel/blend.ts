// What a focus-series blend does to every pixel of every frame.

/**
 * Warps rows of interleaved 16-bit RGB into three f32 planes (0..1), Catmull-Rom, positions clamped to the frame.
 *
 * src holds the frame's rows from `firstRow` on, `srcRows` of them, of a frame of srcW x srcH. Output pixel (x, y) reads
 * the frame at (a x - b y + cx, b x + a y + cy). Rows y0..y1 of planes w pixels wide are written.
 */
export function warpRgb16(
  src: usize,
  firstRow: i32,
  srcRows: i32,
  srcW: i32,
  srcH: i32,
  a: f64,
  b: f64,
  cx: f64,
  cy: f64,
  red: usize,
  green: usize,
  blue: usize,
  w: i32,
  y0: i32,
  y1: i32,
  gainRed: f32,
  gainGreen: f32,
  gainBlue: f32,
): void {
  const stride = <usize>srcW * 6;
  const maxX = <f64>(srcW - 1);
  const maxY = <f64>(srcH - 1);
  const unit: f32 = <f32>(1.0 / 65535.0);
  const gains = f32x4.mul(f32x4(gainRed, gainGreen, gainBlue, 0), f32x4.splat(unit));
  for (let y = y0; y < y1; y++) {
    let px = cx - b * <f64>y;
    let py = cy + a * <f64>y;
    const out = (<usize>(y * w)) << 2;
    for (let x = 0; x < w; x++, px += a, py += b) {
      const qx = max<f64>(0, min<f64>(px, maxX));
      const qy = max<f64>(0, min<f64>(py, maxY));
      const ix = <i32>qx;
      const iy = <i32>qy;
      const tx = <f32>(qx - <f64>ix);
      const ty = <f32>(qy - <f64>iy);
      const x0 = <usize>max(ix - 1, 0) * 6;
      const x1 = <usize>ix * 6;
      const x2 = <usize>min(ix + 1, srcW - 1) * 6;
      const x3 = <usize>min(ix + 2, srcW - 1) * 6;
      const tx2 = tx * tx;
      const tx3 = tx2 * tx;
      const wx0 = f32x4.splat((-tx3 + 2 * tx2 - tx) * <f32>0.5);
      const wx1 = f32x4.splat((3 * tx3 - 5 * tx2 + 2) * <f32>0.5);
      const wx2 = f32x4.splat((-3 * tx3 + 4 * tx2 + tx) * <f32>0.5);
      const wx3 = f32x4.splat((tx3 - tx2) * <f32>0.5);
      const ty2 = ty * ty;
      const ty3 = ty2 * ty;
      let sum = f32x4.splat(0);
      for (let k = 0; k < 4; k++) {
        const yy = max(0, min(iy - 1 + k, srcH - 1)) - firstRow;
        const row = src + <usize>max(0, min(yy, srcRows - 1)) * stride;
        const wy: f32 =
          k == 0
            ? (-ty3 + 2 * ty2 - ty) * <f32>0.5
            : k == 1
              ? (3 * ty3 - 5 * ty2 + 2) * <f32>0.5
              : k == 2
                ? (-3 * ty3 + 4 * ty2 + ty) * <f32>0.5
                : (ty3 - ty2) * <f32>0.5;
        // Eight bytes a pixel: three samples and the next pixel's first, which is dropped.
        let line = f32x4.mul(pixel(row + x0), wx0);
        line = f32x4.add(line, f32x4.mul(pixel(row + x1), wx1));
        line = f32x4.add(line, f32x4.mul(pixel(row + x2), wx2));
        line = f32x4.add(line, f32x4.mul(pixel(row + x3), wx3));
        sum = f32x4.add(sum, f32x4.mul(line, f32x4.splat(wy)));
      }
      sum = f32x4.max(f32x4.splat(0), f32x4.mul(sum, gains));
      const at = out + (<usize>x << 2);
      store<f32>(red + at, f32x4.extract_lane(sum, 0));
      store<f32>(green + at, f32x4.extract_lane(sum, 1));
      store<f32>(blue + at, f32x4.extract_lane(sum, 2));
    }
  }
}

@inline
function pixel(at: usize): v128 {
  return f32x4.convert_i32x4_u(v128.load_ext<u16>(at));
}

/** out = (red + 2 green + blue) / 4 over n samples. */
export function lumaOf(red: usize, green: usize, blue: usize, out: usize, n: i32): void {
  for (let i = 0; i < n; i++) {
    const o = <usize>i << 2;
    store<f32>(out + o, (load<f32>(red + o) + 2 * load<f32>(green + o) + load<f32>(blue + o)) * <f32>0.25);
  }
}

/**
 * Turns energies into weights in place: (energy + least)^4 x coverage. Coverage falls to 0 towards the frame's edge
 * over `ramp` px of the frame; sample (x, y) of this level lies at step x (x, y) of the reference.
 */
export function weigh(
  plane: usize,
  w: i32,
  h: i32,
  step: f32,
  least: f32,
  a: f32,
  b: f32,
  cx: f32,
  cy: f32,
  srcW: f32,
  srcH: f32,
  ramp: f32,
): void {
  for (let y = 0; y < h; y++) {
    const ry = step * <f32>y;
    const out = plane + ((<usize>(y * w)) << 2);
    for (let x = 0; x < w; x++) {
      const rx = step * <f32>x;
      const px = a * rx - b * ry + cx;
      const py = b * rx + a * ry + cy;
      const inside = min(min(px, py), min(srcW - 1 - px, srcH - 1 - py));
      const coverage = ramp > 0 ? max<f32>(0, min<f32>(1, inside / ramp - 1)) : <f32>1;
      const at = out + (<usize>x << 2);
      const e = load<f32>(at) + least;
      store<f32>(at, e * e * e * e * coverage);
    }
  }
}

/** sum += weight x value over n samples. */
export function addWeighted(sum: usize, weight: usize, value: usize, n: i32): void {
  const whole = n & ~3;
  for (let i = 0; i < whole; i += 4) {
    const o = <usize>i << 2;
    const product = f32x4.mul(v128.load(weight + o), v128.load(value + o));
    v128.store(sum + o, f32x4.add(v128.load(sum + o), product));
  }
  for (let i = whole; i < n; i++) {
    const o = <usize>i << 2;
    store<f32>(sum + o, load<f32>(sum + o) + load<f32>(weight + o) * load<f32>(value + o));
  }
}

/** sum += value over n samples. */
export function addPlane(sum: usize, value: usize, n: i32): void {
  for (let i = 0; i < n; i++) {
    const o = <usize>i << 2;
    store<f32>(sum + o, load<f32>(sum + o) + load<f32>(value + o));
  }
}

/** sum /= weight over n samples, 0 where no weight. */
export function divide(sum: usize, weight: usize, n: i32): void {
  for (let i = 0; i < n; i++) {
    const o = <usize>i << 2;
    const d = load<f32>(weight + o);
    store<f32>(sum + o, d > 0 ? load<f32>(sum + o) / d : 0);
  }
}

/**
 * Remembers at each sample which frame weighs most, and the weighted sum of frame numbers by the root of the weight.
 */
export function keepBest(
  weight: usize,
  n: i32,
  frame: i32,
  best: usize,
  source: usize,
  depth: usize,
  depthWeight: usize,
): void {
  for (let i = 0; i < n; i++) {
    const o = <usize>i << 2;
    const v = load<f32>(weight + o);
    if (v > load<f32>(best + o)) {
      store<f32>(best + o, v);
      store<u8>(source + <usize>i, <u8>frame);
    }
    const root = sqrt<f32>(v);
    store<f32>(depth + o, load<f32>(depth + o) + root * <f32>frame);
    store<f32>(depthWeight + o, load<f32>(depthWeight + o) + root);
  }
}
