// Radix-2 Fourier transform down the columns of a plane: each butterfly joins two whole rows, so that four columns
// go through one instruction. A plane is transformed by columns, transpose, columns.

/**
 * Transforms every column in place: X(k) = sum over y of x(y) exp(-2 pi i k y / n), with no scaling.
 *
 * re, im: n rows of `width` f32, width a multiple of 4, n a power of two. cosines, sines: n / 2 f32 each, of
 * 2 pi j / n. For the inverse, pass re and im exchanged and divide by n.
 */
export function fftColumns(re: usize, im: usize, n: i32, width: i32, cosines: usize, sines: usize): void {
  const row = <usize>width << 2;
  for (let i = 1, j = 0; i < n; i++) {
    let bit = n >> 1;
    for (; j & bit; bit >>= 1) j ^= bit;
    j ^= bit;
    if (i < j) {
      swapRows(re + <usize>i * row, re + <usize>j * row, row);
      swapRows(im + <usize>i * row, im + <usize>j * row, row);
    }
  }
  let span = 1;
  // Two stages at a time: each row is read and written half as often.
  for (; span << 1 < n; span <<= 2) {
    for (let k = 0; k < span; k++) {
      const turn = <usize>(k * (n / (span << 1))) << 2;
      const half = <usize>(k * (n / (span << 2))) << 2;
      const c1 = v128.load32_splat(cosines + turn);
      const s1 = v128.load32_splat(sines + turn);
      const c2 = v128.load32_splat(cosines + half);
      const s2 = v128.load32_splat(sines + half);
      const step = <usize>span * row;
      for (let y = k; y < n; y += span << 2) {
        const a = <usize>y * row;
        for (let x: usize = a; x < a + row; x += 16) {
          const ar = v128.load(re + x);
          const ai = v128.load(im + x);
          const br = v128.load(re + x + step);
          const bi = v128.load(im + x + step);
          const cr = v128.load(re + x + 2 * step);
          const ci = v128.load(im + x + 2 * step);
          const dr = v128.load(re + x + 3 * step);
          const di = v128.load(im + x + 3 * step);
          const tr = f32x4.add(f32x4.mul(br, c1), f32x4.mul(bi, s1));
          const ti = f32x4.sub(f32x4.mul(bi, c1), f32x4.mul(br, s1));
          const ur = f32x4.add(f32x4.mul(dr, c1), f32x4.mul(di, s1));
          const ui = f32x4.sub(f32x4.mul(di, c1), f32x4.mul(dr, s1));
          const er = f32x4.add(cr, ur);
          const ei = f32x4.add(ci, ui);
          const fr = f32x4.sub(cr, ur);
          const fi = f32x4.sub(ci, ui);
          const pr = f32x4.add(ar, tr);
          const pi = f32x4.add(ai, ti);
          const qr = f32x4.sub(ar, tr);
          const qi = f32x4.sub(ai, ti);
          const vr = f32x4.add(f32x4.mul(er, c2), f32x4.mul(ei, s2));
          const vi = f32x4.sub(f32x4.mul(ei, c2), f32x4.mul(er, s2));
          // A quarter turn on: exp(-i (angle + pi / 2)) = -i exp(-i angle).
          const wr = f32x4.sub(f32x4.mul(fi, c2), f32x4.mul(fr, s2));
          const wi = f32x4.neg(f32x4.add(f32x4.mul(fr, c2), f32x4.mul(fi, s2)));
          v128.store(re + x, f32x4.add(pr, vr));
          v128.store(im + x, f32x4.add(pi, vi));
          v128.store(re + x + step, f32x4.add(qr, wr));
          v128.store(im + x + step, f32x4.add(qi, wi));
          v128.store(re + x + 2 * step, f32x4.sub(pr, vr));
          v128.store(im + x + 2 * step, f32x4.sub(pi, vi));
          v128.store(re + x + 3 * step, f32x4.sub(qr, wr));
          v128.store(im + x + 3 * step, f32x4.sub(qi, wi));
        }
      }
    }
  }
  // An odd power of two leaves one stage.
  if (span < n) {
    for (let k = 0; k < span; k++) {
      const c = v128.load32_splat(cosines + (<usize>k << 2));
      const s = v128.load32_splat(sines + (<usize>k << 2));
      const a = <usize>k * row;
      const b = <usize>(k + span) * row;
      for (let x: usize = 0; x < row; x += 16) {
        const br = v128.load(re + b + x);
        const bi = v128.load(im + b + x);
        const ar = v128.load(re + a + x);
        const ai = v128.load(im + a + x);
        const tr = f32x4.add(f32x4.mul(br, c), f32x4.mul(bi, s));
        const ti = f32x4.sub(f32x4.mul(bi, c), f32x4.mul(br, s));
        v128.store(re + a + x, f32x4.add(ar, tr));
        v128.store(im + a + x, f32x4.add(ai, ti));
        v128.store(re + b + x, f32x4.sub(ar, tr));
        v128.store(im + b + x, f32x4.sub(ai, ti));
      }
    }
  }
}

function swapRows(a: usize, b: usize, bytes: usize): void {
  for (let x: usize = 0; x < bytes; x += 16) {
    const t = v128.load(a + x);
    v128.store(a + x, v128.load(b + x));
    v128.store(b + x, t);
  }
}

/** Transposes a square plane of n by n f32 in place. */
export function transpose(plane: usize, n: i32): void {
  const block = 16;
  for (let y0 = 0; y0 < n; y0 += block) {
    for (let x0 = y0; x0 < n; x0 += block) {
      for (let y = y0; y < min(y0 + block, n); y++) {
        for (let x = x0 == y0 ? y + 1 : x0; x < min(x0 + block, n); x++) {
          const a = plane + (<usize>(y * n + x) << 2);
          const b = plane + (<usize>(x * n + y) << 2);
          const t = load<f32>(a);
          store<f32>(a, load<f32>(b));
          store<f32>(b, t);
        }
      }
    }
  }
}

/**
 * Lays a picture's middle under a window, its weighted mean taken out.
 *
 * src: w x h f32; left, top: where the plane's first pixel lies in it, places beyond are clamped. weights: side f32 of
 * the window along one axis. dst: side x side f32.
 */
export function underWindow(
  src: usize,
  w: i32,
  h: i32,
  left: i32,
  top: i32,
  side: i32,
  weights: usize,
  dst: usize,
): void {
  let sum: f64 = 0;
  let total: f64 = 0;
  for (let y = 0; y < side; y++) {
    const row = src + (<usize>(min(h - 1, max(0, y + top)) * w) << 2);
    const wy = load<f32>(weights + (<usize>y << 2));
    const out = dst + (<usize>(y * side) << 2);
    if (wy == 0) continue;
    for (let x = 0; x < side; x++) {
      const weight = wy * load<f32>(weights + (<usize>x << 2));
      const value = load<f32>(row + (<usize>min(w - 1, max(0, x + left)) << 2));
      store<f32>(out + (<usize>x << 2), value);
      sum += weight * value;
      total += weight;
    }
  }
  const mean = f32x4.splat(<f32>(sum / total));
  for (let y = 0; y < side; y++) {
    const wy = f32x4.splat(load<f32>(weights + (<usize>y << 2)));
    const out = dst + (<usize>(y * side) << 2);
    for (let x: usize = 0; x < <usize>side << 2; x += 16) {
      const weight = f32x4.mul(wy, v128.load(weights + x));
      v128.store(out + x, f32x4.mul(weight, f32x4.sub(v128.load(out + x), mean)));
    }
  }
}

/** Adds the power of half a spectrum to its cells (i16 a sample, negative: none). sums: f64 a cell. */
export function powerSums(re: usize, im: usize, side: i32, cells: usize, sums: usize): void {
  const half = (side * side) >> 1;
  for (let i = 0; i < half; i++) {
    const cell = <i32>load<i16>(cells + (<usize>i << 1));
    if (cell < 0) continue;
    const at = <usize>i << 2;
    const r = load<f32>(re + at);
    const m = load<f32>(im + at);
    const to = sums + (<usize>cell << 3);
    store<f64>(to, load<f64>(to) + r * r + m * m);
  }
}

/**
 * The same for two real planes transformed as one (the second as its imaginary part): adds the power of the first, of
 * the second, and the real part of the first times the second's conjugate, turned back by a shift.
 *
 * turns: cos and sin along u, then along v, side f32 each. sums: 3 f64 a cell.
 */
export function crossSums(re: usize, im: usize, side: i32, cells: usize, turns: usize, sums: usize): void {
  const line = <usize>side << 2;
  for (let v = 0; v < side >> 1; v++) {
    const cv = load<f32>(turns + 2 * line + (<usize>v << 2));
    const sv = load<f32>(turns + 3 * line + (<usize>v << 2));
    const mirror = ((side - v) & (side - 1)) * side;
    for (let u = 0; u < side; u++) {
      const i = v * side + u;
      const cell = <i32>load<i16>(cells + (<usize>i << 1));
      if (cell < 0) continue;
      const at = <usize>i << 2;
      const back = <usize>(mirror + ((side - u) & (side - 1))) << 2;
      const ar = (load<f32>(re + at) + load<f32>(re + back)) * 0.5;
      const ai = (load<f32>(im + at) - load<f32>(im + back)) * 0.5;
      const br = (load<f32>(im + at) + load<f32>(im + back)) * 0.5;
      const bi = (load<f32>(re + back) - load<f32>(re + at)) * 0.5;
      const cu = load<f32>(turns + (<usize>u << 2));
      const su = load<f32>(turns + line + (<usize>u << 2));
      const to = sums + <usize>cell * 24;
      store<f64>(to, load<f64>(to) + ar * ar + ai * ai);
      store<f64>(to, load<f64>(to, 8) + br * br + bi * bi, 8);
      const turned = (ar * br + ai * bi) * (cu * cv - su * sv) + (ar * bi - ai * br) * (su * cv + cu * sv);
      store<f64>(to, load<f64>(to, 16) + turned, 16);
    }
  }
}
