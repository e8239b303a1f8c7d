/** Noise and fine detail of a crop, and what reading between pixels costs. */
import type { FloatImage } from '../image.ts';

/** Mean squared Laplacian of 16 px blocks, ascending; white noise of sigma s gives 20 s². */
function blockLaplacians(image: FloatImage): number[] {
  const { width, height, data } = image;
  const side = 16;
  const out: number[] = [];
  for (let y0 = 1; y0 + side < height; y0 += side) {
    for (let x0 = 1; x0 + side < width; x0 += side) {
      let sum = 0;
      for (let y = y0; y < y0 + side; y++) {
        for (let at = y * width + x0; at < y * width + x0 + side; at++) {
          const l = data[at - 1]! + data[at + 1]! + data[at - width]! + data[at + width]! - 4 * data[at]!;
          sum += l * l;
        }
      }
      out.push(sum / side ** 2);
    }
  }
  return out.sort((a, b) => a - b);
}

/**
 * White-noise sigma from the quietest tenth of a crop's blocks [code]. An upper bound where everything has texture.
 *
 * @source OI 5.2: Laplacian variance 20 s²
 */
export function noiseOf(image: FloatImage): number {
  const blocks = blockLaplacians(image);
  return Math.sqrt((blocks[Math.floor(blocks.length / 10)] ?? 0) / 20);
}

/** Fine detail of a crop's textured half beyond its noise [code²]: what the sharpest frame of a series has most of. */
export function fineEnergy(image: FloatImage): number {
  const blocks = blockLaplacians(image);
  const half = blocks.slice(Math.floor(blocks.length / 2));
  const quiet = blocks[Math.floor(blocks.length / 10)] ?? 0;
  return half.reduce((sum, value) => sum + value - quiet, 0) / Math.max(1, half.length);
}

/**
 * Mean transfer of Catmull-Rom sampling over all sub-pixel phases: the Fourier transform of its kernel along each axis.
 *
 * @param uu, vv squared frequencies along x and y [cycles²/px²]
 */
export function cubicTransfer(uu: number, vv: number): number {
  return axisTransfer(Math.sqrt(uu)) * axisTransfer(Math.sqrt(vv));
}

const TABLE = Float64Array.from({ length: 129 }, (_, i) => {
  const f = i / 256;
  const n = 400;
  let sum = 0;
  for (let k = 0; k < n; k++) {
    const x = ((k + 0.5) * 2) / n;
    const value = x < 1 ? (3 * x ** 3 - 5 * x ** 2 + 2) / 2 : (-(x ** 3) + 5 * x ** 2 - 8 * x + 4) / 2;
    sum += (2 * value * Math.cos(2 * Math.PI * f * x) * 2) / n;
  }
  return sum;
});

function axisTransfer(f: number): number {
  const at = Math.min(f, 0.499) * 256;
  const i = Math.floor(at);
  return TABLE[i]! + (at - i) * (TABLE[i + 1]! - TABLE[i]!);
}
