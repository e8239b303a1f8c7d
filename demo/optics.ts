/** A small renderer for the invented frames: blur in linear light, hand drift, noise. */

/** Linear light, 0..1, three planes of width x height. */
export interface LinearPicture {
  readonly width: number;
  readonly height: number;
  readonly planes: readonly Float32Array[];
}

/** Offsets [px] and weights that add up to 1. */
export interface Kernel {
  readonly dx: readonly number[];
  readonly dy: readonly number[];
  readonly weight: readonly number[];
}

/** Park and Miller's generator: the invented frames come out the same each time. */
export function generator(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state * 48_271) % 2_147_483_647;
    return state / 2_147_483_647;
  };
}

/** 8-bit sRGB, interleaved, to linear light. */
export function toLinear(rgb: Uint8Array, width: number, height: number): LinearPicture {
  const table = Float32Array.from({ length: 256 }, (_, code) => {
    const v = code / 255;
    return v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4;
  });
  const planes = [0, 1, 2].map((c) => {
    const plane = new Float32Array(width * height);
    for (let i = 0; i < plane.length; i++) plane[i] = table[rgb[i * 3 + c]!]!;
    return plane;
  });
  return { width, height, planes };
}

/** Linear light to 8-bit sRGB, interleaved, with noise of photons and reading: variance = (0.6 v + 0.0006) iso / 1e6. */
export function toCodes(picture: LinearPicture, iso: number, random: () => number): Uint8Array {
  const out = new Uint8Array(picture.width * picture.height * 3);
  picture.planes.forEach((plane, c) => {
    for (let i = 0; i < plane.length; i++) {
      const v = Math.max(0, plane[i]!);
      const sigma = Math.sqrt(((0.6 * v + 0.0006) * iso) / 1e6);
      // The sum of four even draws is near enough to a bell; its standard deviation is sqrt(1/3).
      const bell = (random() + random() + random() + random() - 2) * Math.sqrt(3);
      const seen = Math.min(1, Math.max(0, v + sigma * bell));
      const code = seen <= 0.0031308 ? 12.92 * seen : 1.055 * seen ** (1 / 2.4) - 0.055;
      out[i * 3 + c] = Math.round(code * 255);
    }
  });
  return out;
}

/** A frame cut from the middle of a source that is a little larger, drifted, turned and scaled as by a hand. */
export function drifted(
  source: LinearPicture,
  size: { readonly width: number; readonly height: number },
  drift: { readonly xPx: number; readonly yPx: number; readonly turnDeg: number; readonly scale: number },
): LinearPicture {
  const { width, height } = size;
  const cos = Math.cos((drift.turnDeg * Math.PI) / 180) / drift.scale;
  const sin = Math.sin((drift.turnDeg * Math.PI) / 180) / drift.scale;
  const planes = source.planes.map(() => new Float32Array(width * height));
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      const u = x - (width - 1) / 2;
      const v = y - (height - 1) / 2;
      const sx = (source.width - 1) / 2 + cos * u - sin * v + drift.xPx;
      const sy = (source.height - 1) / 2 + sin * u + cos * v + drift.yPx;
      sampleInto(source, sx, sy, planes, y * width + x);
    }
  }
  return { width, height, planes };
}

/** Sampling by Lanczos's window of three lobes, edges repeated. */
function sampleInto(
  source: LinearPicture,
  sx: number,
  sy: number,
  planes: readonly Float32Array[],
  at: number,
): void {
  const x0 = Math.floor(sx) - 2;
  const y0 = Math.floor(sy) - 2;
  const wx = lanczosWeights(sx - x0);
  const wy = lanczosWeights(sy - y0);
  for (let c = 0; c < planes.length; c++) {
    const plane = source.planes[c]!;
    let sum = 0;
    for (let j = 0; j < 6; j++) {
      const row = clampIndex(y0 + j, source.height) * source.width;
      let line = 0;
      for (let i = 0; i < 6; i++) line += wx[i]! * plane[row + clampIndex(x0 + i, source.width)]!;
      sum += wy[j]! * line;
    }
    planes[c]![at] = sum;
  }
}

const LANCZOS_STEPS = 512;
const lanczosTable = Array.from({ length: LANCZOS_STEPS + 1 }, (_, step) => {
  const weights = Array.from({ length: 6 }, (__, i) => lanczos(2 + step / LANCZOS_STEPS - i));
  const total = weights.reduce((sum, w) => sum + w, 0);
  return weights.map((w) => w / total);
});

function lanczosWeights(offset: number): readonly number[] {
  return lanczosTable[Math.round((offset - 2) * LANCZOS_STEPS)]!;
}

function lanczos(x: number): number {
  if (x === 0) return 1;
  if (Math.abs(x) >= 3) return 0;
  const p = Math.PI * x;
  return (3 * Math.sin(p) * Math.sin(p / 3)) / (p * p);
}

/** Defocus: a uniform disc; its sigma along one axis is a quarter of the diameter. */
export function discKernel(diameterPx: number): Kernel {
  return rastered(diameterPx / 2, (x, y) => x * x + y * y <= (diameterPx / 2) ** 2);
}

/** Movement: a uniform streak; its sigma along itself is length / sqrt 12. Direction from the x axis, counter-clockwise. */
export function streakKernel(lengthPx: number, directionDeg: number): Kernel {
  const steps = Math.max(2, Math.ceil(lengthPx * 2));
  const along = Array.from({ length: steps }, (_, i) => ((i + 0.5) / steps - 0.5) * lengthPx);
  const angle = (directionDeg * Math.PI) / 180;
  return {
    dx: along.map((s) => s * Math.cos(angle)),
    dy: along.map((s) => -s * Math.sin(angle)),
    weight: along.map(() => 1 / steps),
  };
}

function rastered(radiusPx: number, inside: (x: number, y: number) => boolean): Kernel {
  const reach = Math.ceil(radiusPx + 0.5);
  const dx: number[] = [];
  const dy: number[] = [];
  const weight: number[] = [];
  for (let y = -reach; y <= reach; y++) {
    for (let x = -reach; x <= reach; x++) {
      let hits = 0;
      for (let k = 0; k < 64; k++) {
        if (inside(x - 0.4375 + (k % 8) / 8, y - 0.4375 + Math.floor(k / 8) / 8)) hits++;
      }
      if (hits > 0) {
        dx.push(x);
        dy.push(y);
        weight.push(hits);
      }
    }
  }
  const total = weight.reduce((sum, w) => sum + w, 0);
  return { dx, dy, weight: weight.map((w) => w / total) };
}

/** A plane through a kernel, edges repeated; offsets between pixels are split bilinearly. */
export function blurPlane(plane: Float32Array, width: number, height: number, kernel: Kernel): Float32Array {
  const taps = wholeTaps(kernel);
  const reach = taps.reduce((most, { x, y }) => Math.max(most, Math.abs(x), Math.abs(y)), 0);
  const stride = width + 2 * reach;
  const padded = new Float32Array(stride * (height + 2 * reach));
  for (let y = 0; y < height + 2 * reach; y++) {
    const row = clampIndex(y - reach, height) * width;
    for (let x = 0; x < stride; x++) padded[y * stride + x] = plane[row + clampIndex(x - reach, width)]!;
  }
  const out = new Float32Array(plane.length);
  for (const { x: dx, y: dy, w } of taps) {
    for (let y = 0; y < height; y++) {
      let from = (y + reach + dy) * stride + reach + dx;
      for (let i = y * width, end = i + width; i < end; i++) out[i] = out[i]! + w * padded[from++]!;
    }
  }
  return out;
}

function wholeTaps(kernel: Kernel): { x: number; y: number; w: number }[] {
  const taps = new Map<string, { x: number; y: number; w: number }>();
  kernel.weight.forEach((weight, k) => {
    const x = Math.floor(kernel.dx[k]!);
    const y = Math.floor(kernel.dy[k]!);
    const fx = kernel.dx[k]! - x;
    const fy = kernel.dy[k]! - y;
    const share = [(1 - fx) * (1 - fy), fx * (1 - fy), (1 - fx) * fy, fx * fy];
    share.forEach((part, corner) => {
      if (part === 0) return;
      const tap = { x: x + (corner % 2), y: y + Math.floor(corner / 2), w: 0 };
      const key = `${String(tap.x)} ${String(tap.y)}`;
      const found = taps.get(key) ?? tap;
      taps.set(key, { ...found, w: found.w + weight * part });
    });
  });
  return [...taps.values()];
}

/** Every plane of a picture through a kernel. */
export function blurred(picture: LinearPicture, kernel: Kernel): LinearPicture {
  const { width, height } = picture;
  return { width, height, planes: picture.planes.map((plane) => blurPlane(plane, width, height, kernel)) };
}

/** `inside` where the ellipse is, `outside` elsewhere, with a soft edge a quarter of the radius wide. */
export function withinEllipse(
  inside: LinearPicture,
  outside: LinearPicture,
  ellipse: { readonly x: number; readonly y: number; readonly radiusX: number; readonly radiusY: number },
): LinearPicture {
  const { width, height } = inside;
  const planes = outside.planes.map((plane) => Float32Array.from(plane));
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      const r = Math.hypot(
        (x / width - ellipse.x) / ellipse.radiusX,
        (y / height - ellipse.y) / ellipse.radiusY,
      );
      const share = Math.min(1, Math.max(0, (1.25 - r) / 0.25));
      const i = y * width + x;
      if (share > 0) {
        planes.forEach((plane, c) => (plane[i] = share * inside.planes[c]![i]! + (1 - share) * plane[i]!));
      }
    }
  }
  return { width, height, planes };
}

export function clampIndex(index: number, length: number): number {
  return index < 0 ? 0 : index >= length ? length - 1 : index;
}
