/** Blur of one frame at a place, with nothing to compare it with. */
import { requirePositive } from '@tepal/science';
import { checkImage, type FloatImage } from '../image.ts';
import { solveSymmetric } from '../register/solve.ts';
import { edgeSpreads, type EdgeSpread } from './edge-spread.ts';
import { causeOf, unclearBlur, type MeasuredBlur } from './measured-blur.ts';
import { noiseOf } from './noise.ts';
import { axesOf } from './spread-fit.ts';

/** Pairs of smoothings and the sigma up to which each is used: smoothing at about half the blur and at all of it. */
const PAIRS = [
  { s1: 0.8, s2: 1.6, upTo: 2 },
  { s1: 1.2, s2: 2.4, upTo: 3 },
  { s1: 1.8, s2: 3.4, upTo: 5 },
  { s1: 3, s2: 5, upTo: Infinity },
] as const;
const SECTORS = 12;
/** Thin lines read too small and soft shadows too large; this quantile of the edges agreed best with rendered truth. */
const QUANTILE = 0.5;
const FEWEST_EDGES = 60;
/** Spread of a sharp photograph's own edges [px²]: about half a pixel of lens, filter and sampling. */
const SCENE_VARIANCE = 0.25;

/**
 * Measures the blur at a place from its edges alone.
 *
 * Each clear edge tells its spread across itself; the spreads are gathered by direction and an ellipse is fitted to
 * them. It assumes that most clear edges were sharp in the scene: a petal's soft shading, seed heads thinner than the
 * blur and out-of-focus surroundings within the crop mislead it, hence the wide interval. Measured on encoded luma:
 * the tone curve moves an edge's half-way point and sharpens its dark side, a few per cent of sigma at the contrasts
 * met on plants.
 *
 * @param crop encoded luma 0..255 round the place, 64 px each way at least, 256 to 448 px better
 * @param options.limitPx largest sigma that counts as sharp [px]
 * @returns sigma on the worst axis with its interval; `unclear` where there are too few edges
 * @throws DomainError if the crop is malformed or the limit is not positive
 * @source Zhuo & Sim 2011 [from memory] for the spread of an edge
 */
export function measureBlurAlone(crop: FloatImage, options: { readonly limitPx: number }): MeasuredBlur {
  checkImage('crop', crop, 1, 64);
  requirePositive('options.limitPx', options.limitPx, 'px');
  const noise = noiseOf(crop);
  let found: {
    readonly axes: ReturnType<typeof axesOf>;
    readonly edges: number;
    readonly spread: number;
  } | null = null;
  for (const { s1, s2, upTo } of PAIRS) {
    const next = spreadOf(edgeSpreads(crop, s1, s2, noise));
    if (next === null) break;
    found = next;
    if (Math.sqrt(found.axes.worst) <= upTo) break;
  }
  if (found === null) return unclearBlur;
  const { worst, least, directionDeg } = found.axes;
  const sigma = Math.sqrt(worst);
  // Scenes differ more than edges scatter: the floor of the error is the scene's.
  const relative = 0.14 + found.spread + 1 / Math.sqrt(found.edges);
  const { cause, confidence, motion } = causeOf(
    {
      worst: Math.max(0, worst - SCENE_VARIANCE),
      least: Math.max(0, least - SCENE_VARIANCE),
      directionDeg,
      baseVariance: SCENE_VARIANCE,
    },
    options.limitPx,
    relative,
    0.15,
    { bothFrom: 0.5, motionFrom: 0.68 },
  );
  return {
    sigmaPx: sigma,
    sigmaLowPx: Math.max(0, sigma * (1 - 1.3 * relative) - 0.1),
    sigmaHighPx: sigma * (1 + 1.3 * relative) + 0.15,
    cause,
    confidence,
    motion,
    moved: null,
  };
}

function spreadOf(edges: readonly EdgeSpread[]) {
  if (edges.length < FEWEST_EDGES) return null;
  const sectors: EdgeSpread[][] = Array.from({ length: SECTORS }, () => []);
  for (const edge of edges) {
    const angle = (Math.atan2(edge.ny, edge.nx) * SECTORS) / Math.PI;
    sectors[(Math.floor(angle + 0.5) + 2 * SECTORS) % SECTORS]!.push(edge);
  }
  const told = sectors.flatMap((list, i) => {
    if (list.length < 8) return [];
    const sorted = list.map((edge) => edge.variance).sort((a, b) => a - b);
    const variance = Math.max(0.05, sorted[Math.floor(sorted.length * QUANTILE)]!);
    const angle = (i * Math.PI) / SECTORS;
    return [{ variance, nx: Math.cos(angle), ny: Math.sin(angle), weight: Math.min(list.length, 150) }];
  });
  if (told.length < 4) return null;
  const normal = new Float64Array(9);
  const right = new Float64Array(3);
  for (const { variance, nx, ny, weight } of told) {
    const j = [nx * nx, 2 * nx * ny, ny * ny];
    for (let row = 0; row < 3; row++) {
      right[row]! += weight * j[row]! * variance;
      for (let column = 0; column <= row; column++)
        normal[row * 3 + column]! += weight * j[row]! * j[column]!;
    }
  }
  const terms = solveSymmetric(normal, right, 3);
  if (terms === null) return null;
  const [xx, xy, yy] = terms as [number, number, number];
  const axes = axesOf({ xx, xy, yy });
  let left = 0;
  let weights = 0;
  for (const { variance, nx, ny, weight } of told) {
    const modelled = xx * nx * nx + 2 * xy * nx * ny + yy * ny * ny;
    left += weight * (variance - modelled) ** 2;
    weights += weight;
  }
  const spread = axes.worst > 0 ? Math.sqrt(left / weights) / axes.worst / 4 : 1;
  return {
    axes: { ...axes, worst: Math.max(axes.worst, 0.05) },
    edges: edges.length,
    spread: Math.min(0.5, spread),
  };
}
