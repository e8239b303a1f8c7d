// What registration sums over two pictures: halving, and the normal equations of a motion.
// Pictures are planes of f32; positions are px from the top-left pixel.

/** For each of 1024 phases four Catmull-Rom weights and the four of its slope. */
const PHASES = 1024;
const table: usize = memory.data(1025 * 32, 16);

export function prepareCubic(): void {
  for (let phase = 0; phase <= PHASES; phase++) {
    const t = <f32>phase / <f32>PHASES;
    const t2 = t * t;
    const t3 = t2 * t;
    const at = table + <usize>phase * 32;
    store<f32>(at, (-t3 + 2 * t2 - t) * <f32>0.5);
    store<f32>(at, (3 * t3 - 5 * t2 + 2) * <f32>0.5, 4);
    store<f32>(at, (-3 * t3 + 4 * t2 + t) * <f32>0.5, 8);
    store<f32>(at, (t3 - t2) * <f32>0.5, 12);
    store<f32>(at, (-3 * t2 + 4 * t - 1) * <f32>0.5, 16);
    store<f32>(at, (9 * t2 - 10 * t) * <f32>0.5, 20);
    store<f32>(at, (-9 * t2 + 8 * t + 1) * <f32>0.5, 24);
    store<f32>(at, (3 * t2 - 2 * t) * <f32>0.5, 28);
  }
}

/** dst (w/2 x h/2, rounded down) = means of 2 x 2. */
export function halve(src: usize, w: i32, h: i32, dst: usize): void {
  const dw = w >> 1;
  const dh = h >> 1;
  const quarter = f32x4.splat(0.25);
  for (let y = 0; y < dh; y++) {
    const upper = src + (<usize>(2 * y * w) << 2);
    const lower = upper + (<usize>w << 2);
    const out = dst + (<usize>(y * dw) << 2);
    let x = 0;
    for (; x + 4 <= dw; x += 4) {
      const o = <usize>x << 3;
      const a = f32x4.add(v128.load(upper + o), v128.load(lower + o));
      const b = f32x4.add(v128.load(upper + o, 16), v128.load(lower + o, 16));
      const sum = f32x4.add(v128.shuffle<f32>(a, b, 0, 2, 4, 6), v128.shuffle<f32>(a, b, 1, 3, 5, 7));
      v128.store(out + (<usize>x << 2), f32x4.mul(sum, quarter));
    }
    for (; x < dw; x++) {
      const o = <usize>x << 3;
      const sum = load<f32>(upper + o) + load<f32>(upper + o, 4) + load<f32>(lower + o) + load<f32>(lower + o, 4);
      store<f32>(out + (<usize>x << 2), sum * <f32>0.25);
    }
  }
}

/** Value, slope along x and slope along y of the picture between its pixels, at least 2 px from its border. */
@inline
export function sample(picture: usize, w: i32, px: f32, py: f32): v128 {
  const ix = <i32>px;
  const iy = <i32>py;
  const across = table + (<usize>((px - <f32>ix) * <f32>PHASES + <f32>0.5) << 5);
  const down = table + (<usize>((py - <f32>iy) * <f32>PHASES + <f32>0.5) << 5);
  const stride = <usize>w << 2;
  let at = picture + (<usize>((iy - 1) * w + ix - 1) << 2);
  let row = v128.load(at);
  let value = f32x4.mul(row, v128.load32_splat(down));
  let slope = f32x4.mul(row, v128.load32_splat(down, 16));
  at += stride;
  row = v128.load(at);
  value = f32x4.add(value, f32x4.mul(row, v128.load32_splat(down, 4)));
  slope = f32x4.add(slope, f32x4.mul(row, v128.load32_splat(down, 20)));
  at += stride;
  row = v128.load(at);
  value = f32x4.add(value, f32x4.mul(row, v128.load32_splat(down, 8)));
  slope = f32x4.add(slope, f32x4.mul(row, v128.load32_splat(down, 24)));
  at += stride;
  row = v128.load(at);
  value = f32x4.add(value, f32x4.mul(row, v128.load32_splat(down, 12)));
  slope = f32x4.add(slope, f32x4.mul(row, v128.load32_splat(down, 28)));
  const weights = v128.load(across);
  const a = f32x4.mul(value, weights);
  const b = f32x4.mul(value, v128.load(across, 16));
  const c = f32x4.mul(slope, weights);
  const ab = f32x4.add(v128.shuffle<f32>(a, b, 0, 4, 1, 5), v128.shuffle<f32>(a, b, 2, 6, 3, 7));
  const cc = f32x4.add(c, v128.shuffle<f32>(c, c, 2, 3, 0, 1));
  const low = f32x4.add(v128.shuffle<f32>(ab, cc, 0, 1, 4, 4), v128.shuffle<f32>(ab, cc, 2, 3, 5, 5));
  return low;
}

/**
 * Sums for an affine motion with gain and offset, over every `step`th pixel of the reference.
 *
 * The reference's pixel q, from its centre, lies at (m0 qx + m1 qy + m2, m3 qx + m4 qy + m5) of the moving picture,
 * from its top left. residual = reference - gain x moving - offset; its weight is 1 up to `spread`, then spread / |r|.
 * Samples above a top are passed over: burnt ones follow no gain.
 * The eight slopes: mx qx, mx qy, my qx, my qy (q over `unit`), mx, my, moving, 1.
 *
 * out, f64: 8 x 8 products of slopes (lower triangle in blocks of four), 8 products with the residual, count, sum of
 * |residual|, sums of r, m, r r, m m, r m.
 */
export function alignSums(
  reference: usize,
  rw: i32,
  rh: i32,
  moving: usize,
  mw: i32,
  mh: i32,
  m0: f32,
  m1: f32,
  m2: f32,
  m3: f32,
  m4: f32,
  m5: f32,
  gain: f32,
  offset: f32,
  unit: f32,
  step: i32,
  spread: f32,
  topReference: f32,
  topMoving: f32,
  out: usize,
): void {
  memory.fill(out, 0, 79 * 8);
  const right = <f32>(mw - 3);
  const bottom = <f32>(mh - 3);
  const middleX = <f32>(rw - 1) * <f32>0.5;
  const middleY = <f32>(rh - 1) * <f32>0.5;
  const scale: f32 = 1 / unit;
  for (let y = step >> 1; y < rh; y += step) {
    const qy = <f32>y - middleY;
    const line = reference + (<usize>(y * rw) << 2);
    let n00 = f32x4.splat(0), n01 = n00, n02 = n00, n03 = n00;
    let n10 = n00, n11 = n00, n12 = n00, n13 = n00;
    let n20 = n00, n21 = n00, n22 = n00, n23 = n00;
    let r0 = n00, r1 = n00;
    let count: i32 = 0;
    let absolute: f32 = 0, sr: f32 = 0, sm: f32 = 0, srr: f32 = 0, smm: f32 = 0, srm: f32 = 0;
    for (let x = step >> 1; x < rw; x += step) {
      const qx = <f32>x - middleX;
      const px = m0 * qx + m1 * qy + m2;
      const py = m3 * qx + m4 * qy + m5;
      if (!(px >= 2 && py >= 2 && px < right && py < bottom)) continue;
      const r = load<f32>(line + (<usize>x << 2));
      const s = sample(moving, mw, px, py);
      const m = f32x4.extract_lane(s, 0);
      if (r > topReference || m > topMoving) continue;
      count++;
      sr += r;
      sm += m;
      srr += r * r;
      smm += m * m;
      srm += r * m;
      const residual = r - gain * m - offset;
      const size = abs(residual);
      absolute += size;
      const weight: f32 = size <= spread ? 1 : spread / size;
      const mx = gain * f32x4.extract_lane(s, 1);
      const my = gain * f32x4.extract_lane(s, 2);
      const j0 = f32x4.mul(f32x4(mx, mx, my, my), f32x4(qx * scale, qy * scale, qx * scale, qy * scale));
      const j1 = f32x4(mx, my, m, 1);
      const w0 = f32x4.mul(j0, f32x4.splat(weight));
      const w1 = f32x4.mul(j1, f32x4.splat(weight));
      const rr = f32x4.splat(residual);
      r0 = f32x4.add(r0, f32x4.mul(w0, rr));
      r1 = f32x4.add(r1, f32x4.mul(w1, rr));
      let v = v128.shuffle<f32>(j0, j0, 0, 0, 0, 0);
      n00 = f32x4.add(n00, f32x4.mul(w0, v));
      n10 = f32x4.add(n10, f32x4.mul(w1, v));
      v = v128.shuffle<f32>(j0, j0, 1, 1, 1, 1);
      n01 = f32x4.add(n01, f32x4.mul(w0, v));
      n11 = f32x4.add(n11, f32x4.mul(w1, v));
      v = v128.shuffle<f32>(j0, j0, 2, 2, 2, 2);
      n02 = f32x4.add(n02, f32x4.mul(w0, v));
      n12 = f32x4.add(n12, f32x4.mul(w1, v));
      v = v128.shuffle<f32>(j0, j0, 3, 3, 3, 3);
      n03 = f32x4.add(n03, f32x4.mul(w0, v));
      n13 = f32x4.add(n13, f32x4.mul(w1, v));
      n20 = f32x4.add(n20, f32x4.mul(w1, f32x4.splat(mx)));
      n21 = f32x4.add(n21, f32x4.mul(w1, f32x4.splat(my)));
      n22 = f32x4.add(n22, f32x4.mul(w1, f32x4.splat(m)));
      n23 = f32x4.add(n23, w1);
    }
    // Columns 0 to 3 hold all eight rows, columns 4 to 7 the lower four.
    addFour(out, 0, n00);
    addFour(out, 4, n10);
    addFour(out, 8, n01);
    addFour(out, 12, n11);
    addFour(out, 16, n02);
    addFour(out, 20, n12);
    addFour(out, 24, n03);
    addFour(out, 28, n13);
    addFour(out, 36, n20);
    addFour(out, 44, n21);
    addFour(out, 52, n22);
    addFour(out, 60, n23);
    addFour(out, 64, r0);
    addFour(out, 68, r1);
    addOne(out, 72, <f32>count);
    addOne(out, 73, absolute);
    addOne(out, 74, sr);
    addOne(out, 75, sm);
    addOne(out, 76, srr);
    addOne(out, 77, smm);
    addOne(out, 78, srm);
  }
}

@inline
function addFour(out: usize, at: i32, v: v128): void {
  addOne(out, at, f32x4.extract_lane(v, 0));
  addOne(out, at + 1, f32x4.extract_lane(v, 1));
  addOne(out, at + 2, f32x4.extract_lane(v, 2));
  addOne(out, at + 3, f32x4.extract_lane(v, 3));
}

@inline
function addOne(out: usize, at: i32, v: f32): void {
  const to = out + (<usize>at << 3);
  store<f64>(to, load<f64>(to) + <f64>v);
}
