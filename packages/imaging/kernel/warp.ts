// Reading a frame between its pixels: six-tap windowed sinc in two passes, across each row of the frame, then down
// the columns of what came out. Places come in as nodes every `cell` px, read linearly in between.

/** Phases between two samples that the table of weights holds, each with six weights and two zeros. */
const PHASES = 512;
const PHASE_BYTES: usize = 32;
const table: usize = memory.data(513 * 32, 16);

/** Fills the table: sinc(x) sinc(x / 3) at the six samples round a place, their sum brought to 1. */
export function prepareWeights(): void {
  for (let phase = 0; phase <= PHASES; phase++) {
    const t = <f64>phase / <f64>PHASES;
    const at = table + <usize>phase * PHASE_BYTES;
    let sum: f64 = 0;
    for (let k = 0; k < 6; k++) sum += windowedSinc(t + 2 - <f64>k);
    for (let k = 0; k < 8; k++) {
      store<f32>(at + (<usize>k << 2), k < 6 ? <f32>(windowedSinc(t + 2 - <f64>k) / sum) : 0);
    }
  }
}

function windowedSinc(x: f64): f64 {
  if (abs(x) < 1e-9) return 1;
  if (abs(x) >= 3 - 1e-9) return 0;
  const u = Math.PI * x;
  return (3 * Math.sin(u) * Math.sin(u / 3)) / (u * u);
}

/** n pixels of interleaved 8-bit RGB to three planes of f32, 0..1 times a gain each; both ends repeated over 8 px. */
export function planesOf8(
  src: usize,
  n: i32,
  red: usize,
  green: usize,
  blue: usize,
  gainRed: f32,
  gainGreen: f32,
  gainBlue: f32,
): void {
  const unit: f32 = <f32>(1.0 / 255.0);
  const r = f32x4.splat(gainRed * unit);
  const g = f32x4.splat(gainGreen * unit);
  const b = f32x4.splat(gainBlue * unit);
  const zero = i8x16.splat(0);
  const whole = n - 6;
  let x = 0;
  for (; x < whole; x += 4) {
    const v = v128.load(src + <usize>x * 3);
    const o = <usize>x << 2;
    // prettier-ignore
    v128.store(red + o, f32x4.mul(f32x4.convert_i32x4_u(v128.shuffle<u8>(v, zero, 0, 16, 16, 16, 3, 16, 16, 16, 6, 16, 16, 16, 9, 16, 16, 16)), r));
    // prettier-ignore
    v128.store(green + o, f32x4.mul(f32x4.convert_i32x4_u(v128.shuffle<u8>(v, zero, 1, 16, 16, 16, 4, 16, 16, 16, 7, 16, 16, 16, 10, 16, 16, 16)), g));
    // prettier-ignore
    v128.store(blue + o, f32x4.mul(f32x4.convert_i32x4_u(v128.shuffle<u8>(v, zero, 2, 16, 16, 16, 5, 16, 16, 16, 8, 16, 16, 16, 11, 16, 16, 16)), b));
  }
  for (; x < n; x++) {
    const at = src + <usize>x * 3;
    const o = <usize>x << 2;
    store<f32>(red + o, <f32>load<u8>(at) * gainRed * unit);
    store<f32>(green + o, <f32>load<u8>(at + 1) * gainGreen * unit);
    store<f32>(blue + o, <f32>load<u8>(at + 2) * gainBlue * unit);
  }
  repeatEnds(red, n);
  repeatEnds(green, n);
  repeatEnds(blue, n);
}

/** The same for 16-bit RGB. */
export function planesOf16(
  src: usize,
  n: i32,
  red: usize,
  green: usize,
  blue: usize,
  gainRed: f32,
  gainGreen: f32,
  gainBlue: f32,
): void {
  const unit: f32 = <f32>(1.0 / 65535.0);
  for (let x = 0; x < n; x++) {
    const at = src + <usize>x * 6;
    const o = <usize>x << 2;
    store<f32>(red + o, <f32>load<u16>(at) * gainRed * unit);
    store<f32>(green + o, <f32>load<u16>(at + 2) * gainGreen * unit);
    store<f32>(blue + o, <f32>load<u16>(at + 4) * gainBlue * unit);
  }
  repeatEnds(red, n);
  repeatEnds(green, n);
  repeatEnds(blue, n);
}

function repeatEnds(row: usize, n: i32): void {
  const first = load<f32>(row);
  const end = row + (<usize>n << 2);
  const last = load<f32>(end - 4);
  for (let i: usize = 4; i <= 32; i += 4) {
    store<f32>(row - i, first);
    store<f32>(end + i - 4, last);
  }
}

/**
 * Reads three rows of a frame at n places. nodes: a place [px] for every `cell`th output sample, one more than needed;
 * places beyond the frame are read at its edge. Rows are as planesOf8 leaves them, w samples long.
 */
export function resampleAcross(
  red: usize,
  green: usize,
  blue: usize,
  w: i32,
  nodes: usize,
  cell: i32,
  outRed: usize,
  outGreen: usize,
  outBlue: usize,
  n: i32,
): void {
  const last = <f32>(w - 1);
  let x = 0;
  for (let node = 0; x < n; node++) {
    const at = nodes + (<usize>node << 2);
    const start = load<f32>(at);
    const slope = (load<f32>(at + 4) - start) / <f32>cell;
    const end = min(n, x + cell);
    for (let i = 0; x < end; x += 4, i += 4) {
      const p0 = placeAt(start + slope * <f32>i, last);
      const p1 = placeAt(start + slope * <f32>(i + 1), last);
      const p2 = placeAt(start + slope * <f32>(i + 2), last);
      const p3 = placeAt(start + slope * <f32>(i + 3), last);
      const o = <usize>x << 2;
      v128.store(outRed + o, four(red, p0, p1, p2, p3));
      v128.store(outGreen + o, four(green, p0, p1, p2, p3));
      v128.store(outBlue + o, four(blue, p0, p1, p2, p3));
    }
  }
}

/** A place as one number: 512 x px, rounded. */
@inline
function placeAt(place: f32, last: f32): i32 {
  return <i32>(max<f32>(0, min<f32>(place, last)) * <f32>PHASES + <f32>0.5);
}

@inline
function four(row: usize, p0: i32, p1: i32, p2: i32, p3: i32): v128 {
  const a = products(row, p0);
  const b = products(row, p1);
  const c = products(row, p2);
  const d = products(row, p3);
  const ab = f32x4.add(v128.shuffle<f32>(a, b, 0, 4, 1, 5), v128.shuffle<f32>(a, b, 2, 6, 3, 7));
  const cd = f32x4.add(v128.shuffle<f32>(c, d, 0, 4, 1, 5), v128.shuffle<f32>(c, d, 2, 6, 3, 7));
  return f32x4.add(v128.shuffle<f32>(ab, cd, 0, 1, 4, 5), v128.shuffle<f32>(ab, cd, 2, 3, 6, 7));
}

@inline
function products(row: usize, place: i32): v128 {
  const from = row + (<usize>(place >> 9) << 2) - 8;
  const weights = table + <usize>(place & 511) * PHASE_BYTES;
  return f32x4.add(
    f32x4.mul(v128.load(from), v128.load(weights)),
    f32x4.mul(v128.load(from, 16), v128.load(weights, 16)),
  );
}

/**
 * Reads one row of n places down a ring of rows. Row v of the frame (h rows) lies in slot v & (slots - 1) of each
 * ring, `stride` bytes apart; nodes hold the row [px] for every `cell`th sample.
 */
export function resampleDown(
  ringRed: usize,
  ringGreen: usize,
  ringBlue: usize,
  slots: i32,
  stride: usize,
  h: i32,
  nodes: usize,
  cell: i32,
  outRed: usize,
  outGreen: usize,
  outBlue: usize,
  n: i32,
): void {
  const last = <f32>(h - 1);
  let x = 0;
  for (let node = 0; x < n; node++) {
    const at = nodes + (<usize>node << 2);
    const start = load<f32>(at);
    const slope = (load<f32>(at + 4) - start) / <f32>cell;
    const end = min(n, x + cell);
    for (let i = 0; x < end; x += 4, i += 4) {
      const p0 = placeAt(start + slope * <f32>i, last);
      const p1 = placeAt(start + slope * <f32>(i + 1), last);
      const p2 = placeAt(start + slope * <f32>(i + 2), last);
      const p3 = placeAt(start + slope * <f32>(i + 3), last);
      const row = p0 >> 9;
      const o = <usize>x << 2;
      if (row == p1 >> 9 && row == p2 >> 9 && row == p3 >> 9 && x + 4 <= n) {
        const a = table + <usize>(p0 & 511) * PHASE_BYTES;
        const b = table + <usize>(p1 & 511) * PHASE_BYTES;
        const c = table + <usize>(p2 & 511) * PHASE_BYTES;
        const d = table + <usize>(p3 & 511) * PHASE_BYTES;
        let red = f32x4.splat(0);
        let green = f32x4.splat(0);
        let blue = f32x4.splat(0);
        for (let k = 0; k < 6; k++) {
          const slot = <usize>(max(0, min(row - 2 + k, h - 1)) & (slots - 1)) * stride + o;
          const tap = <usize>k << 2;
          const weights = f32x4(load<f32>(a + tap), load<f32>(b + tap), load<f32>(c + tap), load<f32>(d + tap));
          red = f32x4.add(red, f32x4.mul(weights, v128.load(ringRed + slot)));
          green = f32x4.add(green, f32x4.mul(weights, v128.load(ringGreen + slot)));
          blue = f32x4.add(blue, f32x4.mul(weights, v128.load(ringBlue + slot)));
        }
        v128.store(outRed + o, red);
        v128.store(outGreen + o, green);
        v128.store(outBlue + o, blue);
      } else {
        for (let lane = 0; lane < 4 && x + lane < n; lane++) {
          const place = lane == 0 ? p0 : lane == 1 ? p1 : lane == 2 ? p2 : p3;
          const weights = table + <usize>(place & 511) * PHASE_BYTES;
          const to = o + (<usize>lane << 2);
          let red: f32 = 0;
          let green: f32 = 0;
          let blue: f32 = 0;
          for (let k = 0; k < 6; k++) {
            const slot = <usize>(max(0, min((place >> 9) - 2 + k, h - 1)) & (slots - 1)) * stride + to;
            const weight = load<f32>(weights + (<usize>k << 2));
            red += weight * load<f32>(ringRed + slot);
            green += weight * load<f32>(ringGreen + slot);
            blue += weight * load<f32>(ringBlue + slot);
          }
          store<f32>(outRed + to, red);
          store<f32>(outGreen + to, green);
          store<f32>(outBlue + to, blue);
        }
      }
    }
  }
}

/** out[i] = sum of `factor` samples of row from factor x i on, for n samples. */
export function boxAcross(row: usize, factor: i32, scale: f32, out: usize, n: i32): void {
  for (let i = 0; i < n; i++) {
    let sum: f32 = 0;
    const at = row + (<usize>(i * factor) << 2);
    for (let k = 0; k < factor; k++) sum += load<f32>(at + (<usize>k << 2));
    store<f32>(out + (<usize>i << 2), sum * scale);
  }
}
