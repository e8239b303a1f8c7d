/** Wind at the plant as a line whose roughness is its gusts. */

export interface WindAt {
  /** Mean at the plant [m/s]. */
  readonly meanMs: number;
  /** Gust at the plant [m/s], not below the mean. */
  readonly gustMs: number;
}

/** Distance between two points of the line [px]. */
const step = 2.4;

/** A number from -1 to 1 that belongs to a whole number, always the same: the same day is always the same drawing. */
function roughness(at: number): number {
  let bits = Math.imul(at ^ 0x9e3779b9, 0x85ebca6b);
  bits = Math.imul(bits ^ (bits >>> 13), 0xc2b2ae35);
  return ((bits ^ (bits >>> 16)) >>> 0) / 0x7fffffff - 1;
}

/**
 * The line, as the path of an SVG. It breaks where the wind is not known.
 *
 * @param area.from left end [px]
 * @param area.to right end [px]
 * @param area.seed whole number that tells one day's roughness from another's
 * @param windAt the wind at a place along the line; null where it is not known
 * @param yOf where a speed is drawn [px]
 */
export function windLine(
  area: { readonly from: number; readonly to: number; readonly seed: number },
  windAt: (x: number) => WindAt | null,
  yOf: (speedMs: number) => number,
): string {
  let path = '';
  let broken = true;
  const count = Math.floor((area.to - area.from) / step);
  for (let i = 0; i <= count; i++) {
    const x = area.from + i * step;
    const wind = windAt(x);
    if (wind === null) {
      broken = true;
      continue;
    }
    const gusts = Math.max(0, wind.gustMs - wind.meanMs);
    // Quick flutter on a slower swell, so that the line looks like wind and not like a comb.
    const flutter = 0.7 * roughness(i + area.seed * 4099) + 0.3 * roughness((i >> 2) + area.seed * 7919);
    // Gusts rise farther above the mean than lulls fall below it.
    const speed = Math.max(0, wind.meanMs + (flutter > 0 ? 0.85 : 0.35) * gusts * flutter);
    path += `${broken ? 'M' : 'L'}${x.toFixed(1)} ${yOf(speed).toFixed(1)}`;
    broken = false;
  }
  return path;
}
