/**
 * Light as hatching. Close and upright strokes are soft light, slanted and wide ones hard; the brighter, the closer
 * and the darker the ink; no strokes where it is dark. The strokes are a drawing of two numbers, not a computation.
 */

export interface LightAt {
  /** On the level [lx]. */
  readonly illuminanceLux: number;
  /** Share that comes from the sky [0..1]. */
  readonly diffuseShare: number;
}

/** Strokes of one ink, as the path of an SVG. */
export interface Strokes {
  /** Opacity of the ink [0..1]. */
  readonly ink: number;
  readonly path: string;
}

/** Dark below, full sun above [lx]: where the hatch begins, and where it is closest. */
const darkLux = 5;
const brightLux = 60_000;
/** So many inks that no step is seen between them. */
const inks = 8;

const mix = (a: number, b: number, share: number) => a + (b - a) * share;
const clamp = (value: number) => Math.min(1, Math.max(0, value));

/** How bright, on the eye's scale from dark (0) to full sun (1). */
export const brightness = (lux: number): number =>
  lux <= darkLux ? 0 : clamp(Math.log(lux / darkLux) / Math.log(brightLux / darkLux));

/** How hard, from all sky (0) to a bare sun (1). */
export const hardness = (diffuseShare: number): number => clamp((1 - diffuseShare) / 0.75);

/**
 * The strokes of a stretch of time.
 *
 * @param area.from left end [px]
 * @param area.to right end [px]
 * @param area.top upper edge [px]
 * @param area.bottom lower edge [px]
 * @param lightAt the light at a place along the stretch; null where it is not known
 * @returns strokes grouped by their ink, the lightest first
 */
export function hatch(
  area: { readonly from: number; readonly to: number; readonly top: number; readonly bottom: number },
  lightAt: (x: number) => LightAt | null,
): readonly Strokes[] {
  const paths = new Map<number, string>();
  let x = area.from;
  while (x <= area.to) {
    const light = lightAt(x);
    const bright = light === null ? 0 : brightness(light.illuminanceLux);
    if (light === null || bright < 0.04) {
      x += 4;
      continue;
    }
    const hard = hardness(light.diffuseShare);
    const lean = mix(1.5, 25, hard);
    const end = Math.min(x + lean, area.to + 2);
    const reach = (end - x) / lean;
    const top = area.bottom - (area.bottom - area.top) * reach;
    const ink = Math.min(inks - 1, Math.floor(bright * inks));
    const stroke = `M${x.toFixed(1)} ${area.bottom}L${end.toFixed(1)} ${top.toFixed(1)}`;
    paths.set(ink, (paths.get(ink) ?? '') + stroke);
    x += mix(5.8, 11.5, hard) * mix(1.5, 0.95, bright);
  }
  return [...paths.entries()]
    .toSorted(([a], [b]) => a - b)
    .map(([ink, path]) => ({ ink: mix(0.3, 0.86, ink / (inks - 1)), path }));
}
