/** Which cell of direction and frequency each sample of a plane's spectrum belongs to; made once a size. */

/** Directions of frequency are counted in image coordinates, x towards y, over 180°. */
export const SECTORS = 12;

/** Cells sector by sector, ring by ring. Half of the spectrum suffices: the other mirrors it. */
export interface SpectrumBins {
  readonly side: number;
  readonly rings: number;
  /** Cell of sample (u, v), row by row for v = 0 .. side/2 - 1; -1 where it lies in none. */
  readonly cellOf: Int16Array;
  /** Samples in each cell, and sums of u², u v, v² [cycles²/px²] over them. */
  readonly count: Float64Array;
  readonly uu: Float64Array;
  readonly uv: Float64Array;
  readonly vv: Float64Array;
}

/** Few sizes and two sets of rings are ever asked for. */
const made = new Map<string, SpectrumBins>();

/**
 * @param side of the plane [px], a power of two
 * @param edges frequencies that bound the rings, ascending [cycles/px]
 */
export function spectrumBins(side: number, edges: readonly number[]): SpectrumBins {
  const key = `${String(side)} ${edges.join(' ')}`;
  const known = made.get(key);
  if (known !== undefined) return known;
  const rings = edges.length - 1;
  const cells = SECTORS * rings;
  const bins: SpectrumBins = {
    side,
    rings,
    cellOf: new Int16Array((side * side) / 2).fill(-1),
    count: new Float64Array(cells),
    uu: new Float64Array(cells),
    uv: new Float64Array(cells),
    vv: new Float64Array(cells),
  };
  for (let v = 0; v < side / 2; v++) {
    for (let su = -side / 2 + 1; su < side / 2; su++) {
      if (v === 0 && su <= 0) continue;
      const [fu, fv] = [su / side, v / side];
      const ring = ringOf(Math.hypot(fu, fv), edges);
      if (ring < 0) continue;
      const sector = Math.floor((Math.atan2(fv, fu) * SECTORS) / Math.PI + 0.5) % SECTORS;
      const cell = sector * rings + ring;
      bins.cellOf[v * side + ((su + side) & (side - 1))] = cell;
      bins.count[cell]!++;
      bins.uu[cell]! += fu * fu;
      bins.uv[cell]! += fu * fv;
      bins.vv[cell]! += fv * fv;
    }
  }
  made.set(key, bins);
  return bins;
}

function ringOf(f: number, edges: readonly number[]): number {
  if (f < edges[0]! || f >= edges.at(-1)!) return -1;
  let ring = 0;
  while (f >= edges[ring + 1]!) ring++;
  return ring;
}
