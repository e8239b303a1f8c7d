/** The honest fallback: what to do when a series did not become one picture. */

/** How a frame took part, as far as the advice needs it. */
export interface FallbackFrame {
  readonly index: number;
  readonly used: boolean;
  /** Motion left after alignment [px of the frame]; null where it was not used. */
  readonly rmsPx: number | null;
  /** Its share of the blended picture's detail [0..1]. */
  readonly share: number;
}

/** Which frames to use instead, in the series' order, and why. */
export interface BlendFallback {
  readonly use: 'theseFrames' | 'bestSingleFrame';
  readonly indices: readonly number[];
  readonly why: string;
}

/** One frame holds nearly all detail: merging adds noise and risk, not depth. */
const NEARLY_ALL = 0.95;
/** Of the diagonal: motion left of this size shows as doubled edges. */
const VISIBLE_SHARE = 0.0006;

/**
 * Says when fewer frames, or a single one, make the better picture.
 *
 * - a single frame, when only one could be used, or when one holds nearly all the detail
 * - the frames that lie well, when others are used that were aligned badly: the longest run of the series without them
 *
 * @param diagonalPx of the frames
 * @returns null when the blend stands as it is
 */
export function adviseFallback(frames: readonly FallbackFrame[], diagonalPx: number): BlendFallback | null {
  const used = frames.filter((frame) => frame.used);
  const best = used.reduce<FallbackFrame | null>((a, b) => (a === null || b.share > a.share ? b : a), null);
  if (best === null || frames.length < 2) return null;
  if (used.length === 1) {
    return { use: 'bestSingleFrame', indices: [best.index], why: 'no other frame could be laid upon it' };
  }
  if (best.share >= NEARLY_ALL) {
    const percent = Math.round(best.share * 100);
    const why = `it holds ${percent} % of the detail; merging adds no depth`;
    return { use: 'bestSingleFrame', indices: [best.index], why };
  }
  const mostPx = Math.max(1.5, VISIBLE_SHARE * diagonalPx);
  const bad = used.filter(({ rmsPx }) => (rmsPx ?? 0) > mostPx);
  if (bad.length === 0) return null;
  const why = `${bad.length} of ${used.length} frames are up to ${Math.max(...bad.map(({ rmsPx }) => rmsPx ?? 0)).toFixed(1)} px off after alignment`;
  let run: number[] = [];
  let longest: number[] = [];
  for (const frame of [...frames].sort((a, b) => a.index - b.index)) {
    run = frame.used && !bad.includes(frame) ? [...run, frame.index] : [];
    if (run.length > longest.length) longest = run;
  }
  return longest.length >= 2
    ? { use: 'theseFrames', indices: longest, why }
    : { use: 'bestSingleFrame', indices: [best.index], why };
}
