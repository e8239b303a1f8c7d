/** A focus series with known truth, from one sharp picture and the depth of each of its pixels. */
import { requireInteger, requireNotNegative } from '@tepal/science';
import { checkImage, type FloatImage, type Rgb16Image } from '../image.ts';
import type { Kernel } from '../kernel.ts';
import type { Similarity } from '../register/similarity.ts';
import { renderBlur, renderDrift, renderNoise } from './render-blur.ts';

/** One frame: where it is focused [0..1 of the depth], and what was done to it. */
export interface RenderedFocusFrame {
  readonly focus: number;
  /** The frame onto the truth; none unless given. */
  readonly motion?: Similarity;
  /** Multiplies all codes; 1 unless given. */
  readonly gain?: number;
}

/**
 * Renders the frames of a focus series. Depth is cut into slices; each slice is blurred by a disc proportional to its
 * distance from the focus, with its coverage, and the slices are laid over one another from far to near.
 *
 * @param scene.planes red, green and blue, 0..65535, the truth
 * @param scene.depth 0 (nearest) .. 1 (farthest), the same size
 * @param optics.discPx diameter of the blur disc at a distance of 1 from the focus [px], >= 0
 * @param optics.slices number of depth slices, 2..64
 * @param optics.noiseSigma white noise [16-bit codes]; @param optics.seed of the noise
 * @returns frames as 16-bit RGB, in the order given
 * @throws DomainError if a plane is malformed or an option out of range
 */
export function renderFocusSeries(
  kernel: Kernel,
  scene: { readonly planes: readonly [FloatImage, FloatImage, FloatImage]; readonly depth: FloatImage },
  frames: readonly RenderedFocusFrame[],
  optics: {
    readonly discPx: number;
    readonly slices: number;
    readonly noiseSigma: number;
    readonly seed: number;
  },
): Rgb16Image[] {
  requireNotNegative('optics.discPx', optics.discPx, 'px');
  requireInteger('optics.slices', optics.slices, { min: 2, max: 64 });
  for (const plane of [...scene.planes, scene.depth]) checkImage('scene', plane, 1);
  const { width, height } = scene.depth;
  const { slices } = optics;
  const sliceOf = scene.depth.data.map((d) => Math.min(slices - 1, Math.max(0, Math.floor(d * slices))));
  return frames.map(({ focus, motion, gain = 1 }, index) => {
    const sums = [0, 1, 2].map(() => new Float32Array(width * height));
    const covered = new Float32Array(width * height);
    for (let slice = slices - 1; slice >= 0; slice--) {
      const discDiameterPx = Math.abs((slice + 0.5) / slices - focus) * optics.discPx;
      const cut = (plane: FloatImage | null): FloatImage => {
        const data = new Float32Array(width * height);
        for (let i = 0; i < data.length; i++) {
          if (sliceOf[i] === slice) data[i] = plane === null ? 1 : plane.data[i]!;
        }
        return renderBlur(kernel, { width, height, data }, { discDiameterPx });
      };
      if (!sliceOf.includes(slice)) continue;
      const cover = cut(null).data;
      for (let i = 0; i < covered.length; i++) {
        const near = Math.min(1, Math.max(0, cover[i]!));
        covered[i] = near + covered[i]! * (1 - near);
      }
      scene.planes.forEach((plane, channel) => {
        const layer = cut(plane).data;
        const sum = sums[channel]!;
        for (let i = 0; i < sum.length; i++) {
          sum[i] = layer[i]! + sum[i]! * (1 - Math.min(1, Math.max(0, cover[i]!)));
        }
      });
    }
    const data = new Uint16Array(width * height * 3);
    sums.forEach((sum, channel) => {
      // What lies behind a nearer slice was not photographed: the slices share the light that is there.
      const shared = sum.map((value, i) => value / Math.max(1e-3, covered[i]!));
      let plane: FloatImage = { width, height, data: shared };
      if (motion !== undefined) plane = renderDrift(plane, motion);
      plane = renderNoise(plane, optics.noiseSigma, optics.seed + index * 3 + channel);
      for (let i = 0; i < sum.length; i++) {
        data[i * 3 + channel] = Math.min(65535, Math.max(0, Math.round(plane.data[i]! * gain)));
      }
    });
    return { width, height, data };
  });
}
