/** The Laplacian pyramid that frames are added to, one at a time. */
import type { Rgb16Image, Rgb8Image } from '../image.ts';
import type { Kernel } from '../kernel.ts';
import type { DisplacementGrid } from '../register/displacement.ts';
import type { SimilarityTerms } from '../register/similarity.ts';
import { applyChoices, type BlendChoice } from './choices.ts';
import type { DetailTiles } from './gaps.ts';
import { warpFrame } from './warp-frame.ts';

/** Where a frame lies, and how bright it is against the reference. */
export interface FramePlace {
  readonly grid: DisplacementGrid;
  readonly terms: SimilarityTerms;
  readonly gains: readonly [number, number, number];
}

/** One size of the pyramid: sums of weighted detail per channel, and of weights. */
interface Level {
  readonly w: number;
  readonly h: number;
  readonly sums: readonly [number, number, number];
  readonly weights: number;
}

/** How much the energy of a coarser scale supports the choice at the finer one. */
const SUPPORT = 0.1;
/** The scale, counted from the finest, at which source and depth are kept: half the size of the frame. */
const MAP_LEVEL = 1;

/**
 * Streaming fusion in encoded light: sum of weight x detail over sum of weight, scale by scale.
 *
 * Encoded, because there noise and visible contrast are nearly even over the tones, so that one threshold serves
 * lights and darks; the price is that a bright disc beside a dark edge is mixed slightly too dark. The weight is the
 * fourth power of the local energy of luma detail less the noise floor, plus a tenth of the next coarser scale's, so
 * that where a scale has no texture the coarser decides.
 *
 * Memory: 4 f32 pyramids for the sums; 3 planes and 2 pyramids while a frame is added: about 47 bytes a pixel.
 *
 * @source Burt & Adelson 1983; Ogden et al. 1985, via OI 6.2
 */
export class Fusion {
  private readonly levels: Level[] = [];
  private readonly map: { best: number; source: number; depth: number; depthWeight: number };
  private readonly row: number;

  constructor(
    private readonly kernel: Kernel,
    readonly width: number,
    readonly height: number,
    private readonly choices: readonly BlendChoice[] = [],
  ) {
    let w = width;
    let h = height;
    for (;;) {
      const plane = () => kernel.allocate(w * h * 4 + 16);
      this.levels.push({ w, h, sums: [plane(), plane(), plane()], weights: plane() });
      // The last level is the base; below 12 px there is nothing left to choose.
      if (this.levels.length > MAP_LEVEL + 1 && Math.min(w, h) < 24) break;
      w = (w + 1) >> 1;
      h = (h + 1) >> 1;
    }
    const { w: mw, h: mh } = this.levels[MAP_LEVEL]!;
    this.map = {
      best: kernel.allocate(mw * mh * 4),
      source: kernel.allocate(mw * mh),
      depth: kernel.allocate(mw * mh * 4),
      depthWeight: kernel.allocate(mw * mh * 4),
    };
    this.row = kernel.allocate((width + 64) * 4);
  }

  /**
   * Adds one frame.
   *
   * @param frame encoded RGB, 8 or 16 bit
   * @param place.grid where the reference's pixels lie in the frame; @param place.terms the similarity nearest to it
   * @param place.gains of red, green and blue, on encoded values
   * @param index the frame's number, 0..255
   * @param covering true for the reference, which covers everything
   */
  add(frame: Rgb8Image | Rgb16Image, place: FramePlace, index: number, covering: boolean): void {
    const { kernel, levels, row } = this;
    const { run } = kernel;
    const mark = kernel.mark();
    const n = this.width * this.height;
    const planes = [0, 1, 2].map(() => kernel.reserve(n * 4 + 16)) as [number, number, number];
    warpFrame(kernel, frame, place.grid, place.gains, planes, this);

    const pyramid = levels.map(({ w, h }) => kernel.reserve(w * h * 4 + 16));
    const weights = levels.map(({ w, h }) => kernel.reserve(w * h * 4 + 16));
    run.lumaOf(planes[0], planes[1], planes[2], pyramid[0]!, n);
    this.build(pyramid);
    const last = levels.length - 1;
    const least: number[] = [];
    for (let k = 0; k < last; k++) {
      const { w, h } = levels[k]!;
      run.addExpanded(pyramid[k]!, w, h, pyramid[k + 1]!, -1, pyramid[k]!, row);
      const floor = k <= 2 ? quietEnergy(kernel.float32(pyramid[k]!, w * h), w, h) : 0;
      least.push(floor / 2 + 1e-8);
      run.energy(pyramid[k]!, w, h, floor, weights[k]!, row);
    }
    for (let k = last - 2; k >= 0; k--) {
      const { w, h } = levels[k]!;
      run.addExpanded(weights[k]!, w, h, weights[k + 1]!, SUPPORT, weights[k]!, row);
    }
    const coarsest = levels[last - 1]!;
    run.reduce(weights[last - 1]!, coarsest.w, coarsest.h, weights[last]!, row);
    least.push(1e-8);
    levels.forEach(({ w, h, weights: sum }, k) => {
      const step = 2 ** k;
      const { a, b, x, y } = place.terms;
      const ramp = covering ? 0 : 2 * step;
      run.weigh(weights[k]!, w, h, step, least[k]!, a, b, x, y, frame.width, frame.height, ramp);
      applyChoices(kernel.float32(weights[k]!, w * h), { w, h }, step, this.choices, index);
      run.addPlane(sum, weights[k]!, w * h);
    });
    const { w: mw, h: mh } = levels[MAP_LEVEL]!;
    const { best, source, depth, depthWeight } = this.map;
    run.keepBest(weights[MAP_LEVEL]!, mw * mh, index, best, source, depth, depthWeight);

    for (const [channel, plane] of planes.entries()) {
      pyramid[0] = plane;
      this.build(pyramid);
      for (const [k, { w, h, sums }] of levels.entries()) {
        if (k < last) run.addExpanded(pyramid[k]!, w, h, pyramid[k + 1]!, -1, pyramid[k]!, row);
        run.addWeighted(sums[channel]!, weights[k]!, pyramid[k]!, w * h);
      }
    }
    kernel.release(mark);
  }

  /** Divides the sums; after this no frame can be added. @returns the detail left, tile by tile */
  settle(): DetailTiles {
    const { run } = this.kernel;
    for (const { w, h, sums, weights } of this.levels) {
      for (const sum of sums) run.divide(sum, weights, w * h);
    }
    const tilePx = 64;
    const columns = Math.ceil(this.width / tilePx);
    const rows = Math.ceil(this.height / tilePx);
    const fine = new Float64Array(columns * rows);
    const coarse = new Float64Array(columns * rows);
    for (const k of [0, 1, 2, 3]) {
      const level = this.levels[k];
      if (level === undefined || k >= this.levels.length - 1) continue;
      const green = this.kernel.float32(level.sums[1], level.w * level.h);
      const side = tilePx >> k;
      const into = k < 2 ? fine : coarse;
      for (let y = 0; y < level.h; y++) {
        const rowOfTiles = Math.floor(y / side) * columns;
        for (let x = 0; x < level.w; x++) {
          const value = green[y * level.w + x]!;
          into[rowOfTiles + Math.floor(x / side)]! += (value * value) / (side * side);
        }
      }
    }
    return { columns, rows, tilePx, fine, coarse };
  }

  /** @returns for each frame number 0..255 its share of the detail at the scale of the maps [0..1] */
  shares(): Float64Array {
    const { w, h } = this.levels[MAP_LEVEL]!;
    const source = this.kernel.bytes(this.map.source, w * h);
    const best = this.kernel.float32(this.map.best, w * h);
    const shares = new Float64Array(256);
    let all = 0;
    for (let i = 0; i < best.length; i++) {
      // The weight is the fourth power of the energy of detail.
      const energy = Math.sqrt(Math.sqrt(best[i]!));
      shares[source[i]!]! += energy;
      all += energy;
    }
    return all > 0 ? shares.map((share) => share / all) : shares;
  }

  /** Sums the scales up, in place; after this the rows can be read. */
  collapse(): void {
    const { kernel, levels, row } = this;
    for (let channel = 0; channel < 3; channel++) {
      for (let k = levels.length - 2; k >= 0; k--) {
        const { w, h, sums } = levels[k]!;
        kernel.run.addExpanded(sums[channel]!, w, h, levels[k + 1]!.sums[channel]!, 1, sums[channel]!, row);
      }
    }
  }

  /** @returns `count` rows of the collapsed picture from row `first` on: interleaved RGB, 0..65535 */
  pictureRows(first: number, count: number): Uint16Array {
    const { kernel, levels, width } = this;
    const out = new Uint16Array(count * width * 3);
    levels[0]!.sums.forEach((sum, channel) => {
      const plane = kernel.float32(sum + first * width * 4, count * width);
      for (let i = 0, at = channel; i < plane.length; i++, at += 3) {
        const code = plane[i]! * 65535 + 0.5;
        out[at] = code < 0 ? 0 : code > 65535 ? 65535 : code;
      }
    });
    return out;
  }

  /** @returns which frame gave most at each pixel of these rows */
  sourceRows(first: number, count: number): Uint8Array {
    const { w, h } = this.levels[MAP_LEVEL]!;
    const half = this.kernel.bytes(this.map.source, w * h);
    const out = new Uint8Array(count * this.width);
    for (let y = 0, at = 0; y < count; y++) {
      const row = ((first + y) >> 1) * w;
      for (let x = 0; x < this.width; x++, at++) out[at] = half[row + (x >> 1)]!;
    }
    return out;
  }

  /** @returns the weighted mean of frame numbers at each pixel of these rows: the refined depth */
  depthRows(first: number, count: number): Float32Array {
    const { w, h } = this.levels[MAP_LEVEL]!;
    const depth = this.kernel.float32(this.map.depth, w * h);
    const weight = this.kernel.float32(this.map.depthWeight, w * h);
    const out = new Float32Array(count * this.width);
    for (let y = 0, at = 0; y < count; y++) {
      const row = ((first + y) >> 1) * w;
      for (let x = 0; x < this.width; x++, at++) {
        const from = row + (x >> 1);
        out[at] = weight[from]! > 0 ? depth[from]! / weight[from]! : 0;
      }
    }
    return out;
  }

  private build(pyramid: readonly number[]): void {
    for (let k = 1; k < pyramid.length; k++) {
      const { w, h } = this.levels[k - 1]!;
      this.kernel.run.reduce(pyramid[k - 1]!, w, h, pyramid[k]!, this.row);
    }
  }
}

/** Mean square of the quietest twentieth of blocks: the noise of this scale, since part of every frame is soft. */
function quietEnergy(detail: Float32Array, w: number, h: number): number {
  const side = 16;
  const apart = Math.max(side, Math.round(Math.sqrt((w * h) / 4000)));
  const means: number[] = [];
  for (let y0 = 0; y0 + side <= h; y0 += apart) {
    for (let x0 = 0; x0 + side <= w; x0 += apart) {
      let sum = 0;
      for (let y = y0; y < y0 + side; y++) {
        for (let x = x0; x < x0 + side; x++) sum += detail[y * w + x]! ** 2;
      }
      means.push(sum / side ** 2);
    }
  }
  means.sort((a, b) => a - b);
  return means[Math.floor(means.length / 20)] ?? 0;
}
