// Gaussian and Laplacian pyramids of f32 planes, kernel (1 4 6 4 1) / 16, borders clamped.
// `row` arguments are scratch for one row of the finer level plus 8 samples.

@inline
function clampRow(y: i32, h: i32): usize {
  return <usize>max(0, min(y, h - 1));
}

/** dst (ceil(w/2) x ceil(h/2)) = src blurred and halved: sample (i, j) is centred on (2 i, 2 j). */
export function reduce(src: usize, w: i32, h: i32, dst: usize, row: usize): void {
  const bytes = <usize>w << 2;
  const dw = (w + 1) >> 1;
  const dh = (h + 1) >> 1;
  const six = f32x4.splat(6);
  const four = f32x4.splat(4);
  const whole = w & ~3;
  const t = row + 8;
  for (let j = 0; j < dh; j++) {
    const r0 = src + clampRow(2 * j - 2, h) * bytes;
    const r1 = src + clampRow(2 * j - 1, h) * bytes;
    const r2 = src + clampRow(2 * j, h) * bytes;
    const r3 = src + clampRow(2 * j + 1, h) * bytes;
    const r4 = src + clampRow(2 * j + 2, h) * bytes;
    for (let x = 0; x < whole; x += 4) {
      const o = <usize>x << 2;
      const outer = f32x4.add(v128.load(r0 + o), v128.load(r4 + o));
      const inner = f32x4.add(v128.load(r1 + o), v128.load(r3 + o));
      const v = f32x4.add(outer, f32x4.add(f32x4.mul(inner, four), f32x4.mul(v128.load(r2 + o), six)));
      v128.store(t + o, v);
    }
    for (let x = whole; x < w; x++) {
      const o = <usize>x << 2;
      const inner = load<f32>(r1 + o) + load<f32>(r3 + o);
      store<f32>(t + o, load<f32>(r0 + o) + load<f32>(r4 + o) + 4 * inner + 6 * load<f32>(r2 + o));
    }
    store<f32>(t - 8, load<f32>(t));
    store<f32>(t - 4, load<f32>(t));
    const last = load<f32>(t + bytes - 4);
    store<f32>(t + bytes, last);
    store<f32>(t + bytes + 4, last);
    const out = dst + ((<usize>(j * dw)) << 2);
    for (let i = 0; i < dw; i++) {
      const at = t + (<usize>i << 3);
      const sum =
        load<f32>(at - 8) + load<f32>(at + 8) + 4 * (load<f32>(at - 4) + load<f32>(at + 4)) + 6 * load<f32>(at);
      store<f32>(out + (<usize>i << 2), sum * <f32>(1.0 / 256.0));
    }
  }
}

/** out = fine + factor x expand(coarse); out may be fine itself. coarse is ceil(w/2) x ceil(h/2). */
export function addExpanded(
  fine: usize,
  w: i32,
  h: i32,
  coarse: usize,
  factor: f32,
  out: usize,
  row: usize,
): void {
  const cw = (w + 1) >> 1;
  const ch = (h + 1) >> 1;
  const bytes = <usize>cw << 2;
  const t = row + 16;
  const whole = cw & ~3;
  for (let y = 0; y < h; y++) {
    const j = y >> 1;
    const r1 = coarse + clampRow(j, ch) * bytes;
    const r2 = coarse + clampRow(j + 1, ch) * bytes;
    const r0 = coarse + clampRow(j - 1, ch) * bytes;
    const odd = (y & 1) == 1;
    const w0: f32 = odd ? 0 : <f32>0.125 * factor;
    const w1: f32 = odd ? <f32>0.5 * factor : <f32>0.75 * factor;
    const w2: f32 = odd ? <f32>0.5 * factor : <f32>0.125 * factor;
    const s0 = f32x4.splat(w0);
    const s1 = f32x4.splat(w1);
    const s2 = f32x4.splat(w2);
    for (let x = 0; x < whole; x += 4) {
      const o = <usize>x << 2;
      const v = f32x4.add(f32x4.mul(v128.load(r0 + o), s0), f32x4.mul(v128.load(r1 + o), s1));
      v128.store(t + o, f32x4.add(v, f32x4.mul(v128.load(r2 + o), s2)));
    }
    for (let x = whole; x < cw; x++) {
      const o = <usize>x << 2;
      store<f32>(t + o, load<f32>(r0 + o) * w0 + load<f32>(r1 + o) * w1 + load<f32>(r2 + o) * w2);
    }
    store<f32>(t - 4, load<f32>(t));
    store<f32>(t + bytes, load<f32>(t + bytes - 4));
    const from = fine + ((<usize>(y * w)) << 2);
    const to = out + ((<usize>(y * w)) << 2);
    const pairs = w >> 1;
    const eighth = f32x4.splat(0.125);
    const threeQuarters = f32x4.splat(0.75);
    const half = f32x4.splat(0.5);
    let i = 0;
    for (; i + 4 <= pairs; i += 4) {
      const at = t + (<usize>i << 2);
      const a = v128.load(at - 4);
      const b = v128.load(at);
      const c = v128.load(at + 4);
      const even = f32x4.add(f32x4.mul(f32x4.add(a, c), eighth), f32x4.mul(b, threeQuarters));
      const uneven = f32x4.mul(f32x4.add(b, c), half);
      const o = <usize>i << 3;
      const low = v128.shuffle<f32>(even, uneven, 0, 4, 1, 5);
      const high = v128.shuffle<f32>(even, uneven, 2, 6, 3, 7);
      v128.store(to + o, f32x4.add(v128.load(from + o), low));
      v128.store(to + o + 16, f32x4.add(v128.load(from + o + 16), high));
    }
    for (let x = i << 1; x < w; x++) {
      const at = t + (<usize>(x >> 1) << 2);
      const o = <usize>x << 2;
      const value =
        (x & 1) == 1
          ? <f32>0.5 * (load<f32>(at) + load<f32>(at + 4))
          : <f32>0.125 * (load<f32>(at - 4) + load<f32>(at + 4)) + <f32>0.75 * load<f32>(at);
      store<f32>(to + o, load<f32>(from + o) + value);
    }
  }
}

/** dst = max(0, (1 4 6 4 1)² blur of src² - floor), the same size. */
export function energy(src: usize, w: i32, h: i32, floor: f32, dst: usize, row: usize): void {
  const bytes = <usize>w << 2;
  const t = row + 16;
  const six = f32x4.splat(6);
  const four = f32x4.splat(4);
  const scale = f32x4.splat(<f32>(1.0 / 256.0));
  const floors = f32x4.splat(floor);
  const zero = f32x4.splat(0);
  const whole = w & ~3;
  for (let y = 0; y < h; y++) {
    const r0 = src + clampRow(y - 2, h) * bytes;
    const r1 = src + clampRow(y - 1, h) * bytes;
    const r2 = src + clampRow(y, h) * bytes;
    const r3 = src + clampRow(y + 1, h) * bytes;
    const r4 = src + clampRow(y + 2, h) * bytes;
    for (let x = 0; x < whole; x += 4) {
      const o = <usize>x << 2;
      const a = v128.load(r0 + o);
      const b = v128.load(r1 + o);
      const c = v128.load(r2 + o);
      const d = v128.load(r3 + o);
      const e = v128.load(r4 + o);
      const outer = f32x4.add(f32x4.mul(a, a), f32x4.mul(e, e));
      const inner = f32x4.add(f32x4.mul(b, b), f32x4.mul(d, d));
      const middle = f32x4.mul(f32x4.mul(c, c), six);
      v128.store(t + o, f32x4.add(outer, f32x4.add(f32x4.mul(inner, four), middle)));
    }
    for (let x = whole; x < w; x++) {
      const o = <usize>x << 2;
      const a = load<f32>(r0 + o);
      const b = load<f32>(r1 + o);
      const c = load<f32>(r2 + o);
      const d = load<f32>(r3 + o);
      const e = load<f32>(r4 + o);
      store<f32>(t + o, a * a + e * e + 4 * (b * b + d * d) + 6 * c * c);
    }
    store<f32>(t - 8, load<f32>(t));
    store<f32>(t - 4, load<f32>(t));
    const last = load<f32>(t + bytes - 4);
    store<f32>(t + bytes, last);
    store<f32>(t + bytes + 4, last);
    const out = dst + ((<usize>(y * w)) << 2);
    for (let x = 0; x < whole; x += 4) {
      const at = t + (<usize>x << 2);
      const outer = f32x4.add(v128.load(at - 8), v128.load(at + 8));
      const inner = f32x4.add(v128.load(at - 4), v128.load(at + 4));
      const sum = f32x4.add(outer, f32x4.add(f32x4.mul(inner, four), f32x4.mul(v128.load(at), six)));
      v128.store(out + (<usize>x << 2), f32x4.max(zero, f32x4.sub(f32x4.mul(sum, scale), floors)));
    }
    for (let x = whole; x < w; x++) {
      const at = t + (<usize>x << 2);
      const sum =
        load<f32>(at - 8) + load<f32>(at + 8) + 4 * (load<f32>(at - 4) + load<f32>(at + 4)) + 6 * load<f32>(at);
      store<f32>(out + (<usize>x << 2), max<f32>(0, sum * <f32>(1.0 / 256.0) - floor));
    }
  }
}
