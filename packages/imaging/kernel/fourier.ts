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
  for (let span = 1; span < n; span <<= 1) {
    const step = n / (span << 1);
    for (let k = 0; k < span; k++) {
      const c = f32x4.splat(load<f32>(cosines + (<usize>(k * step) << 2)));
      const s = f32x4.splat(load<f32>(sines + (<usize>(k * step) << 2)));
      for (let y = k; y < n; y += span << 1) {
        const a = <usize>y * row;
        const b = <usize>(y + span) * row;
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
