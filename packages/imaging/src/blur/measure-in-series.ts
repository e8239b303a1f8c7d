/** Blur of each frame of a series at one place, the sharpest frame being the measure. */
import { requireInteger, requirePositive } from '@tepal/science';
import { checkImage, type FloatImage } from '../image.ts';
import type { Kernel } from '../kernel.ts';
import { gridOfTerms, layGrid } from '../register/displacement.ts';
import { layPicture } from '../register/laid-picture.ts';
import { alignLaid } from '../register/register-similarity.ts';
import { fromTopLeft, invertTerms, toTerms, type Similarity } from '../register/similarity.ts';
import { measureBlurAlone } from './measure-alone.ts';
import { causeOf, type MeasuredBlur } from './measured-blur.ts';
import { cubicTransfer, fineEnergy, noiseOf } from './noise.ts';
import { crossSpectrum, type LaidImage, type SpectrumCell } from './power.ts';
import { axesOf, fitSpread, type LogTransfer, type Spread } from './spread-fit.ts';

/** Blur of every crop, in their order, and which of them was the measure. */
export interface SeriesBlur {
  readonly reference: number;
  readonly blurs: readonly MeasuredBlur[];
  /** How each crop lies on the reference's; null where it could not be registered. */
  readonly motions: readonly (Similarity | null)[];
}

const RINGS = 48;
const HIGHEST = 0.4;
const LEAST_TRANSFER = 0.4;
const LEAST_CORRELATION = 0.5;
/** Pixels compared to align two crops: what is left of a shift the spectra take out, and 40,000 measured no better. */
const ALIGNED_BY = 6_000;
/** Below this coherence the two crops do not show the same thing, however alike from afar. */
const LEAST_COHERENCE = 0.8;

/**
 * Measures the blur that each crop has beyond the sharpest of them, and adds what the sharpest has itself.
 *
 *   sigma² = base² + extra²       base: the sharpest crop measured alone
 *
 * The ratio of the cross-spectrum with the sharpest crop to that crop's noise-corrected power is the transfer function
 * of the extra blur, whatever the texture; its logarithm is fitted where it is above 0.4. Measured on encoded luma:
 * the tone curve is nearly straight over the spread of one edge of moderate contrast, and all frames of a series share
 * it; at edges from black to white, and beside burnt spots, sigma reads up to a few per cent wrong.
 *
 * A window that holds several depths gives their mean, weighted by texture; a smaller window helps. A crop that does
 * not show what the sharpest does (it cannot be registered, or its spectrum does not cohere) is measured alone.
 *
 * On rendered truth (13 scenes of 19 frames, drifted by up to 20 px, 0.5° and 10 % of brightness, noise, JPEG) the median
 * error of sigma was 2 to 3 %, streaks came within 1° and 2 % of their length, causes were all right, and the intervals
 * meant to hold the truth nine times in ten held it in 92 %.
 *
 * @param crops encoded luma of the same place, 128 px each way at least, 448 px better; any sizes
 * @param options.limitPx largest sigma that counts as sharp [px]
 * @param options.windowPx side of the window [px]; 384 or what the crops allow unless given
 * @param options.reference which crop is the measure; the one with most fine detail unless given
 * @throws DomainError if there is no crop, a crop is malformed, or an option is out of range
 * @source OI 4.4, 4.5, 5.3; Tepal's own trial on rendered flowers
 */
export function measureBlurInSeries(
  kernel: Kernel,
  crops: readonly FloatImage[],
  options: {
    readonly limitPx: number;
    readonly windowPx?: number;
    readonly reference?: number;
  },
): SeriesBlur {
  requirePositive('options.limitPx', options.limitPx, 'px');
  requireInteger('crops.length', crops.length, { min: 1 });
  crops.forEach((crop, i) => {
    checkImage(`crops[${String(i)}]`, crop, 1, 128);
  });
  const smallest = Math.min(...crops.flatMap(({ width, height }) => [width, height]));
  const windowPx = Math.min(options.windowPx ?? 384, smallest, 512);
  const energies = crops.map((crop) => fineEnergy(crop));
  const reference = options.reference ?? energies.indexOf(Math.max(...energies));
  const measure = crops[reference]!;
  // Only the window is brought over; of the reference's parity, so that the centres fall together.
  const window = {
    width: windowPx + ((measure.width - windowPx) & 1),
    height: windowPx + ((measure.height - windowPx) & 1),
  };
  const alone = measureBlurAlone(kernel, measure, { limitPx: options.limitPx });
  const base = alone.sigmaPx ?? 0;
  const noise = noiseOf(measure);
  const mark = kernel.mark();
  const laidMeasure = layPicture(kernel, measure);
  const motions: (Similarity | null)[] = [];
  const inItself = (crop: FloatImage) => measureBlurAlone(kernel, crop, { limitPx: options.limitPx });
  const blurs = crops.map((crop, i): MeasuredBlur => {
    if (i === reference) {
      motions.push({ shiftPx: { x: 0, y: 0 }, rotationDeg: 0, scale: 1 });
      return alone;
    }
    const here = kernel.mark();
    const laid = layPicture(kernel, crop);
    const motion = alignLaid(kernel, laidMeasure, laid, { samples: ALIGNED_BY });
    if (motion.correlation < LEAST_CORRELATION) {
      motions.push(null);
      kernel.release(here);
      return inItself(crop);
    }
    motions.push(motion);
    // The blurred crop is brought onto the sharp one: its noise then stays independent of the reference's.
    const moved = brought(kernel, laid[0], motion, window);
    const pair = { first: laidMeasure[0], second: moved };
    const { cells, windowPower } = crossSpectrum(kernel, pair, windowPx, RINGS, HIGHEST);
    kernel.release(here);
    const extra = extraSpread(cells, windowPower * noise ** 2);
    if (extra === null || coherence(cells, extra) < LEAST_COHERENCE) return inItself(crop);
    return describe(extra, motion, { base, alone, limitPx: options.limitPx });
  });
  kernel.release(mark);
  return { reference, blurs, motions };
}

const CELL_PX = 64;

/** The middle of a crop as it lies on the reference, read by Catmull-Rom, in the kernel. */
function brought(
  kernel: Kernel,
  crop: LaidImage,
  motion: Similarity,
  size: { readonly width: number; readonly height: number },
): LaidImage {
  const grid = gridOfTerms(fromTopLeft(invertTerms(toTerms(motion)), size, crop), size, CELL_PX);
  const pointer = kernel.reserve(size.width * size.height * 4 + 32);
  const nodes = layGrid(kernel, grid);
  const { columns, rows } = grid;
  kernel.run.warpPlane(
    ...([crop.pointer, crop.width, crop.height, nodes, CELL_PX, columns, rows, 1] as const),
    ...([pointer, size.width, size.height] as const),
  );
  return { ...size, pointer };
}

/** The spread that the second picture has beyond the first. */
export function extraSpread(cells: readonly SpectrumCell[], noisePower: number): Spread | null {
  const logs = cells.map((cell) => {
    const power = cell.first - noisePower;
    const ratio = power > noisePower / 2 ? cell.cross / power / cubicTransfer(cell.uu, cell.vv) : 0;
    return { cell, power, logTransfer: ratio > 0 ? Math.log(ratio) : -Infinity };
  });
  let logGain = 0;
  let fit: Spread | null = null;
  for (let pass = 0; pass < 4; pass++) {
    const samples: LogTransfer[] = [];
    const perSector = new Map<number, boolean>();
    for (const { cell, logTransfer } of logs) {
      // Outwards in each sector until the transfer first falls below 0.4.
      if (perSector.get(cell.sector) === true) continue;
      const expected = fit === null ? logTransfer - logGain : expectedLog(fit, cell);
      if (!(expected > Math.log(LEAST_TRANSFER)) || !(logTransfer > logGain - 2.5)) {
        perSector.set(cell.sector, true);
        continue;
      }
      const { uu, uv, vv, count } = cell;
      samples.push({ uu, uv, vv, logTransfer, weight: count * Math.exp(2 * Math.min(0, expected)) });
    }
    const next = fitSpread(samples);
    if (next === null) return fit;
    fit = next;
    logGain = next.logGain;
  }
  return fit;
}

/** How much of two crops is the same, where the blur leaves enough of it to be compared [0..1]. */
export function coherence(cells: readonly SpectrumCell[], extra: Spread): number {
  let shared = 0;
  let all = 0;
  for (const cell of cells) {
    if (!(expectedLog(extra, cell) > Math.log(LEAST_TRANSFER))) continue;
    const weight = cell.count / Math.max(cell.first, 1e-12);
    shared += weight * cell.cross;
    all += weight * Math.sqrt(cell.first * cell.second);
  }
  return all > 0 ? shared / all : 0;
}

function expectedLog(fit: Spread, cell: SpectrumCell): number {
  const u = 2 * Math.PI ** 2 * (fit.xx * cell.uu + 2 * fit.xy * cell.uv + fit.yy * cell.vv);
  return -u - fit.shape * u * Math.max(0, u);
}

function describe(
  extra: Spread,
  motion: Similarity,
  { base, alone, limitPx }: { base: number; alone: MeasuredBlur; limitPx: number },
): MeasuredBlur {
  const axes = axesOf(extra);
  // From px and directions of the reference to those of the crop itself.
  const scale = 1 / motion.scale ** 2;
  const worst = axes.worst * scale;
  const least = axes.least * scale;
  const directionDeg = (((axes.directionDeg + motion.rotationDeg) % 180) + 180) % 180;
  const sigma = Math.sqrt(base ** 2 + worst);
  const errorOfExtra = 0.02 * worst + 2.5 * extra.errorOfVariance * scale;
  const baseLow = alone.sigmaLowPx ?? 0;
  const baseHigh = alone.sigmaHighPx ?? base;
  const low = Math.sqrt(Math.max(0, baseLow ** 2 + worst - errorOfExtra)) * 0.98;
  const high = Math.sqrt(baseHigh ** 2 + worst + errorOfExtra) * 1.02;
  const relativeError = (high - low) / (4 * sigma);
  const axesOfCrop = { worst, least, directionDeg, baseVariance: base ** 2 };
  const { cause, confidence, motion: streak } = causeOf(axesOfCrop, limitPx, relativeError);
  return {
    sigmaPx: sigma,
    sigmaLowPx: Math.min(low, sigma),
    sigmaHighPx: Math.max(high, sigma),
    cause,
    confidence,
    motion: streak,
    moved: null,
  };
}
