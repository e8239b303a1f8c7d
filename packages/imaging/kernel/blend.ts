// What a focus-series blend does to every pixel of every frame.

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
