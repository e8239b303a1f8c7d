/** The order in which a series is shown: the best first, what could not be ranked last. */
import type { LibraryFrame, LibrarySeries } from '@tepal/formats';
import { counted } from '../words/amounts.ts';
import { cameraClockWords } from '../words/clock.ts';

/**
 * @param series the series
 * @param byId the library's frames by their id
 * @returns its frames by rank; those without one after them, in the order of their taking
 */
export function bestFirst(
  series: LibrarySeries,
  byId: ReadonlyMap<string, LibraryFrame>,
): readonly LibraryFrame[] {
  const rank = (frame: LibraryFrame) => frame.rank ?? Number.POSITIVE_INFINITY;
  return series.frameIds
    .map((id) => byId.get(id))
    .filter((frame) => frame !== undefined)
    .toSorted((a, b) => (rank(a) === rank(b) ? 0 : rank(a) - rank(b)));
}

/** "6:02 to 6:09 · 38 frames · not a focus series". */
export function seriesFacts(series: LibrarySeries): string {
  const from = cameraClockWords(series.startedAt);
  const to = cameraClockWords(series.endedAt);
  const when = from === '' ? '' : from === to || to === '' ? from : `${from} to ${to}`;
  return [when, counted(series.frameIds.length, 'frame'), series.saying].filter(Boolean).join(' · ');
}

/** What stands in the second line under a crop: "A3 · keep". */
export function worthWords(frame: LibraryFrame): string {
  return [frame.largestDelivery ?? 'no size', frame.decision].filter(Boolean).join(' · ');
}
