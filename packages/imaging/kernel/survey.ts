// One pass over a strip of 8-bit luma: what the tile grid and the small luma image need.

/** Sums a tile is made of, in the order in which they are stored (i32 each). */
const SUMS: usize = 7; // count, sum, gx gx, gx gy, gy gy, laplacian squared, pixels at the top code

@inline
function lanes(v: v128): i32 {
  return (
    i32x4.extract_lane(v, 0) + i32x4.extract_lane(v, 1) + i32x4.extract_lane(v, 2) + i32x4.extract_lane(v, 3)
  );
}

/**
 * Adds one strip to a row of tiles and to the columns of the small image.
 *
 * rows: pointer to the first pixel of the strip's first row; one more row stands before and after it, and one more
 * pixel before and after each row (stride >= width + 2). Gradient: I(x+1) - I(x-1), so twice the slope.
 * tiles: ceil(width / tilePx) * SUMS sums, added to. columns: width u16 sums for the small image, added to.
 * tilePx must be a multiple of 16.
 */
export function surveyStrip(
  rows: usize,
  stride: usize,
  width: i32,
  height: i32,
  tilePx: i32,
  tiles: usize,
  columns: usize,
): void {
  const top = i8x16.splat(-1);
  for (let x0 = 0, tile = tiles; x0 < width; x0 += tilePx, tile += SUMS << 2) {
    const x1 = min(x0 + tilePx, width);
    const whole = x0 + ((x1 - x0) & ~15);
    let sxx = i32x4.splat(0);
    let sxy = i32x4.splat(0);
    let syy = i32x4.splat(0);
    let sll = i32x4.splat(0);
    let sum = i32x4.splat(0);
    let atTop = 0;
    let tailXX = 0;
    let tailXY = 0;
    let tailYY = 0;
    let tailLL = 0;
    let tailSum = 0;
    for (let y = 0; y < height; y++) {
      const row = rows + <usize>y * stride;
      for (let x = x0; x < whole; x += 16) {
        const at = row + <usize>x;
        const c = v128.load(at);
        const l = v128.load(at - 1);
        const r = v128.load(at + 1);
        const u = v128.load(at - stride);
        const d = v128.load(at + stride);
        atTop += popcnt(i8x16.bitmask(i8x16.eq(c, top)));
        sum = i32x4.add(sum, i32x4.extadd_pairwise_i16x8_u(i16x8.extadd_pairwise_i8x16_u(c)));

        let cl = i16x8.extend_low_i8x16_u(c);
        let ll = i16x8.extend_low_i8x16_u(l);
        let rl = i16x8.extend_low_i8x16_u(r);
        let ul = i16x8.extend_low_i8x16_u(u);
        let dl = i16x8.extend_low_i8x16_u(d);
        let gx = i16x8.sub(rl, ll);
        let gy = i16x8.sub(dl, ul);
        let lap = i16x8.sub(i16x8.add(i16x8.add(ll, rl), i16x8.add(ul, dl)), i16x8.shl(cl, 2));
        sxx = i32x4.add(sxx, i32x4.dot_i16x8_s(gx, gx));
        sxy = i32x4.add(sxy, i32x4.dot_i16x8_s(gx, gy));
        syy = i32x4.add(syy, i32x4.dot_i16x8_s(gy, gy));
        sll = i32x4.add(sll, i32x4.dot_i16x8_s(lap, lap));
        const column = columns + (<usize>x << 1);
        v128.store(column, i16x8.add(v128.load(column), cl));

        cl = i16x8.extend_high_i8x16_u(c);
        ll = i16x8.extend_high_i8x16_u(l);
        rl = i16x8.extend_high_i8x16_u(r);
        ul = i16x8.extend_high_i8x16_u(u);
        dl = i16x8.extend_high_i8x16_u(d);
        gx = i16x8.sub(rl, ll);
        gy = i16x8.sub(dl, ul);
        lap = i16x8.sub(i16x8.add(i16x8.add(ll, rl), i16x8.add(ul, dl)), i16x8.shl(cl, 2));
        sxx = i32x4.add(sxx, i32x4.dot_i16x8_s(gx, gx));
        sxy = i32x4.add(sxy, i32x4.dot_i16x8_s(gx, gy));
        syy = i32x4.add(syy, i32x4.dot_i16x8_s(gy, gy));
        sll = i32x4.add(sll, i32x4.dot_i16x8_s(lap, lap));
        v128.store(column, i16x8.add(v128.load(column, 16), cl), 16);
      }
      for (let x = whole; x < x1; x++) {
        const at = row + <usize>x;
        const c = <i32>load<u8>(at);
        const l = <i32>load<u8>(at - 1);
        const r = <i32>load<u8>(at + 1);
        const u = <i32>load<u8>(at - stride);
        const d = <i32>load<u8>(at + stride);
        const gx = r - l;
        const gy = d - u;
        const lap = l + r + u + d - 4 * c;
        tailXX += gx * gx;
        tailXY += gx * gy;
        tailYY += gy * gy;
        tailLL += lap * lap;
        tailSum += c;
        atTop += i32(c == 255);
        const column = columns + (<usize>x << 1);
        store<u16>(column, <u16>(load<u16>(column) + c));
      }
    }
    store<i32>(tile, load<i32>(tile) + (x1 - x0) * height);
    store<i32>(tile, load<i32>(tile, 4) + lanes(sum) + tailSum, 4);
    store<i32>(tile, load<i32>(tile, 8) + lanes(sxx) + tailXX, 8);
    store<i32>(tile, load<i32>(tile, 12) + lanes(sxy) + tailXY, 12);
    store<i32>(tile, load<i32>(tile, 16) + lanes(syy) + tailYY, 16);
    store<i32>(tile, load<i32>(tile, 20) + lanes(sll) + tailLL, 20);
    store<i32>(tile, load<i32>(tile, 24) + atTop, 24);
  }
}
