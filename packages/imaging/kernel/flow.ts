// Motion that differs from place to place, as displacements at the nodes of a grid: its normal equations, and a
// picture seen through it. Pictures are planes of f32; positions are px from the top-left pixel.
import { sample } from './register';

/**
 * Sums for a displacement at each node of a grid, over every `step`th pixel of the reference.
 *
 * nodes: columns x rows of dx, then as many of dy; pixel (x, y) of the reference lies at (x + dx, y + dy) of the moving
 * picture, dx and dy linear between the nodes, which stand every `cell` px. out, f32: for each node xx, xy, yy, xr, yr
 * and the weighted sum of squared residuals, each pixel counting for its four nodes as linear reading weighs them. xr and yr are
 * products with the residual as in alignSums.
 */
export function nodeSums(
  reference: usize,
  rw: i32,
  rh: i32,
  moving: usize,
  mw: i32,
  mh: i32,
  nodes: usize,
  cell: i32,
  columns: i32,
  rows: i32,
  gain: f32,
  offset: f32,
  step: i32,
  spread: f32,
  out: usize,
): void {
  memory.fill(out, 0, <usize>(columns * rows * 24));
  const right = <f32>(mw - 3);
  const bottom = <f32>(mh - 3);
  const plane = <usize>(columns * rows) << 2;
  const line = <usize>columns << 2;
  const zero = f32x4.splat(0);
  for (let row = 0; row < rows - 1; row++) {
    for (let column = 0; column < columns - 1; column++) {
      const at = nodes + (<usize>(row * columns + column) << 2);
      const dxs = f32x4(load<f32>(at), load<f32>(at + 4), load<f32>(at + line), load<f32>(at + line + 4));
      const ay = at + plane;
      const dys = f32x4(load<f32>(ay), load<f32>(ay + 4), load<f32>(ay + line), load<f32>(ay + line + 4));
      let xx = zero, xy = zero, yy = zero, xr = zero, yr = zero, rr = zero;
      const endY = min(rh, (row + 1) * cell);
      const endX = min(rw, (column + 1) * cell);
      for (let y = row * cell + (step >> 1); y < endY; y += step) {
        const v = <f32>(y - row * cell) / <f32>cell;
        for (let x = column * cell + (step >> 1); x < endX; x += step) {
          const u = <f32>(x - column * cell) / <f32>cell;
          const hat = f32x4((1 - u) * (1 - v), u * (1 - v), (1 - u) * v, u * v);
          const px = <f32>x + total(f32x4.mul(hat, dxs));
          const py = <f32>y + total(f32x4.mul(hat, dys));
          if (!(px >= 2 && py >= 2 && px < right && py < bottom)) continue;
          const s = sample(moving, mw, px, py);
          const residual = load<f32>(reference + (<usize>(y * rw + x) << 2)) - gain * f32x4.extract_lane(s, 0) - offset;
          const size = abs(residual);
          const weighted = f32x4.mul(hat, f32x4.splat(size <= spread ? 1 : spread / size));
          const mx = gain * f32x4.extract_lane(s, 1);
          const my = gain * f32x4.extract_lane(s, 2);
          xx = f32x4.add(xx, f32x4.mul(weighted, f32x4.splat(mx * mx)));
          xy = f32x4.add(xy, f32x4.mul(weighted, f32x4.splat(mx * my)));
          yy = f32x4.add(yy, f32x4.mul(weighted, f32x4.splat(my * my)));
          xr = f32x4.add(xr, f32x4.mul(weighted, f32x4.splat(mx * residual)));
          yr = f32x4.add(yr, f32x4.mul(weighted, f32x4.splat(my * residual)));
          rr = f32x4.add(rr, f32x4.mul(weighted, f32x4.splat(residual * residual)));
        }
      }
      const first = out + <usize>((row * columns + column) * 24);
      const below = first + <usize>(columns * 24);
      addNode(first, f32x4.extract_lane(xx, 0), f32x4.extract_lane(xy, 0), f32x4.extract_lane(yy, 0), f32x4.extract_lane(xr, 0), f32x4.extract_lane(yr, 0), f32x4.extract_lane(rr, 0));
      addNode(first + 24, f32x4.extract_lane(xx, 1), f32x4.extract_lane(xy, 1), f32x4.extract_lane(yy, 1), f32x4.extract_lane(xr, 1), f32x4.extract_lane(yr, 1), f32x4.extract_lane(rr, 1));
      addNode(below, f32x4.extract_lane(xx, 2), f32x4.extract_lane(xy, 2), f32x4.extract_lane(yy, 2), f32x4.extract_lane(xr, 2), f32x4.extract_lane(yr, 2), f32x4.extract_lane(rr, 2));
      addNode(below + 24, f32x4.extract_lane(xx, 3), f32x4.extract_lane(xy, 3), f32x4.extract_lane(yy, 3), f32x4.extract_lane(xr, 3), f32x4.extract_lane(yr, 3), f32x4.extract_lane(rr, 3));
    }
  }
}

@inline
function total(v: v128): f32 {
  const pair = f32x4.add(v, v128.shuffle<f32>(v, v, 2, 3, 0, 1));
  return f32x4.extract_lane(f32x4.add(pair, v128.shuffle<f32>(pair, pair, 1, 0, 3, 2)), 0);
}

function addNode(at: usize, xx: f32, xy: f32, yy: f32, xr: f32, yr: f32, rr: f32): void {
  store<f32>(at, load<f32>(at) + xx);
  store<f32>(at, load<f32>(at, 4) + xy, 4);
  store<f32>(at, load<f32>(at, 8) + yy, 8);
  store<f32>(at, load<f32>(at, 12) + xr, 12);
  store<f32>(at, load<f32>(at, 16) + yr, 16);
  store<f32>(at, load<f32>(at, 20) + rr, 20);
}

/**
 * dst (rw x rh) = gain x the moving picture, seen through the displacements of a grid laid out as for nodeSums; places
 * beyond its border are read 2 px inside it.
 */
export function warpPlane(
  moving: usize,
  mw: i32,
  mh: i32,
  nodes: usize,
  cell: i32,
  columns: i32,
  rows: i32,
  gain: f32,
  dst: usize,
  rw: i32,
  rh: i32,
): void {
  const right = <f32>(mw - 3) - <f32>0.01;
  const bottom = <f32>(mh - 3) - <f32>0.01;
  const plane = <usize>(columns * rows) << 2;
  const line = <usize>columns << 2;
  for (let y = 0; y < rh; y++) {
    const row = min(rows - 2, y / cell);
    const v = <f32>(y - row * cell) / <f32>cell;
    const out = dst + (<usize>(y * rw) << 2);
    for (let column = 0; column < columns - 1; column++) {
      const at = nodes + (<usize>(row * columns + column) << 2);
      const ay = at + plane;
      const x0 = column * cell;
      const end = min(rw, x0 + cell);
      const left = load<f32>(at) + v * (load<f32>(at + line) - load<f32>(at));
      const slope = (load<f32>(at + 4) + v * (load<f32>(at + line + 4) - load<f32>(at + 4)) - left) / <f32>cell;
      const top = load<f32>(ay) + v * (load<f32>(ay + line) - load<f32>(ay));
      const fall = (load<f32>(ay + 4) + v * (load<f32>(ay + line + 4) - load<f32>(ay + 4)) - top) / <f32>cell;
      for (let x = x0; x < end; x++) {
        const px = max<f32>(2, min<f32>(right, <f32>x + left + slope * <f32>(x - x0)));
        const py = max<f32>(2, min<f32>(bottom, <f32>y + top + fall * <f32>(x - x0)));
        store<f32>(out + (<usize>x << 2), gain * f32x4.extract_lane(sample(moving, mw, px, py), 0));
      }
    }
  }
}
