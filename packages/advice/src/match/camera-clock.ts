/** How far a camera's clock is off: from one photograph of a clock, or from a track. */
import { requireFinite } from '@tepal/science';
import type { GpxPoint } from '@tepal/formats';

/**
 * What to add to the camera's time to get the true one, from one photograph of a clock.
 *
 * @param cameraMs the photograph's time by the camera [ms since 1970, its digits as if UTC]
 * @param shownMs what the photographed clock shows [ms since 1970, true]
 * @returns [s]
 * @throws DomainError where a time is not finite
 */
export function offsetFromPhotographedClock(cameraMs: number, shownMs: number): number {
  return (requireFinite('shownMs', shownMs, 'ms') - requireFinite('cameraMs', cameraMs, 'ms')) / 1000;
}

/** What a track says of a camera's clock. */
export type TrackOffset =
  | {
      readonly kind: 'found';
      readonly offsetS: number;
      /** Mean speed on the track at the frames' times, with this offset and as usual on the track [m/s]. */
      readonly speedAtFramesMs: number;
      readonly speedUsualMs: number;
    }
  /** The frames fit the track nowhere, or at several places about as well. */
  | { readonly kind: 'unclear'; readonly why: string };

export interface TrackSearch {
  /** Searched evenly from - to + this [s]; 900 unless said. Whole hours of a wrong zone go in as `hours`. */
  readonly withinS?: number;
  readonly stepS?: number;
  /** Whole hours that the clock may be off as well; 0 alone unless said. */
  readonly hours?: readonly number[];
}

/** Photographs are taken standing: their speed must be below this share of the usual one. Ours. */
const STANDING_SHARE = 0.5;
/** Another offset this far away must be this much worse. Ours. */
const APART_S = 120;
const WORSE_BY = 1.25;
/** So many frames are needed, at so many different minutes. */
const FEWEST_MINUTES = 4;
/** Points farther apart in time than this are no track between them [s]. */
const LONGEST_GAP_S = 300;

/**
 * The offset at which the frames fall where the track stands still: one lies down to photograph.
 *
 * @param framesMs times by the camera [ms since 1970, digits as if UTC]
 * @param points of the track, with times
 */
export function offsetFromTrack(
  framesMs: readonly number[],
  points: readonly GpxPoint[],
  search: TrackSearch = {},
): TrackOffset {
  const { withinS = 900, stepS = 5, hours = [0] } = search;
  const moments = [...new Set(framesMs.map((ms) => Math.round(ms / 60_000)))];
  if (moments.length < FEWEST_MINUTES) {
    return { kind: 'unclear', why: 'There are too few photographs, or all within a few minutes.' };
  }
  const legs = legsOf(points);
  if (legs.length === 0) return { kind: 'unclear', why: 'The track has no times.' };
  const time = legs.reduce((sum, leg) => sum + leg.endMs - leg.startMs, 0);
  const usual = legs.reduce((sum, leg) => sum + leg.speedMs * (leg.endMs - leg.startMs), 0) / time;
  const tried: { readonly offsetS: number; readonly speedMs: number }[] = [];
  for (const hour of hours) {
    for (let s = -withinS; s <= withinS; s += stepS) {
      const offsetS = hour * 3600 + s;
      const speeds = framesMs.map((ms) => speedAt(legs, ms + offsetS * 1000));
      // Where the frames lie beside the track's times nothing is known: it counts as the usual speed.
      const mean = speeds.reduce<number>((sum, speed) => sum + (speed ?? usual), 0) / speeds.length;
      tried.push({ offsetS, speedMs: mean });
    }
  }
  const least = Math.min(...tried.map(({ speedMs }) => speedMs));
  // Standing lasts a while, so a stretch of offsets fits alike: its middle is taken.
  const best = tried.filter(({ speedMs }) => speedMs <= least * 1.02 + 1e-6);
  const first = best[0]!;
  const last = best.at(-1)!;
  const offsetS = (first.offsetS + last.offsetS) / 2;
  const rival = tried.some(
    (one) => Math.abs(one.offsetS - offsetS) > APART_S && one.speedMs < least * WORSE_BY + 1e-6,
  );
  if (!(least < STANDING_SHARE * usual) || rival || last.offsetS - first.offsetS > 2 * APART_S) {
    return { kind: 'unclear', why: 'The photographs fit the track at several places about as well.' };
  }
  return { kind: 'found', offsetS, speedAtFramesMs: least, speedUsualMs: usual };
}

interface Leg {
  readonly startMs: number;
  readonly endMs: number;
  readonly speedMs: number;
}

function legsOf(points: readonly GpxPoint[]): readonly Leg[] {
  const timed = points.filter((point): point is GpxPoint & { timeMs: number } => point.timeMs !== null);
  return timed.slice(1).flatMap((to, i) => {
    const from = timed[i]!;
    const seconds = (to.timeMs - from.timeMs) / 1000;
    if (!(seconds > 0 && seconds <= LONGEST_GAP_S)) return [];
    return [{ startMs: from.timeMs, endMs: to.timeMs, speedMs: metresBetween(from, to) / seconds }];
  });
}

function speedAt(legs: readonly Leg[], ms: number): number | null {
  let low = 0;
  let high = legs.length - 1;
  while (low <= high) {
    const middle = (low + high) >> 1;
    const leg = legs[middle]!;
    if (ms < leg.startMs) high = middle - 1;
    else if (ms > leg.endMs) low = middle + 1;
    else return leg.speedMs;
  }
  return null;
}

/** Over a few hundred metres, on a sphere of 6371 km. */
function metresBetween(a: GpxPoint, b: GpxPoint): number {
  const rad = Math.PI / 180;
  const north = (b.latitudeDeg - a.latitudeDeg) * rad;
  const east =
    (b.longitudeDeg - a.longitudeDeg) * rad * Math.cos(((a.latitudeDeg + b.latitudeDeg) / 2) * rad);
  return 6_371_000 * Math.hypot(north, east);
}
