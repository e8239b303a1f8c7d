/** What every source's series of instants goes through: order, doubles, gaps. */
import { formatFault, type FormatFault } from '../result.ts';
import { formatInstant } from '../time.ts';
import type { ForecastInstant } from './forecast.ts';

const TOLD_FAULTS = 40;

/** Sorted by time, the first of equal times kept. */
export function inOrder(
  instants: readonly ForecastInstant[],
  where: string,
  faults: FormatFault[],
): ForecastInstant[] {
  const sorted = [...instants].sort((a, b) => a.timeMs - b.timeMs);
  if (sorted.some((instant, i) => instant !== instants[i])) {
    faults.push(
      formatFault({ where, found: 'times out of order', accepted: 'rising times; they were sorted' }),
    );
  }
  const once = sorted.filter((instant, i) => i === 0 || instant.timeMs !== sorted[i - 1]?.timeMs);
  if (once.length < sorted.length) {
    const found = `${sorted.length - once.length} times given twice`;
    faults.push(formatFault({ where, found, accepted: 'each time once; the first was kept' }));
  }
  return once;
}

/**
 * Says where hours are missing.
 *
 * A gap is a step longer than `stepMs`, or than the interval that the earlier instant speaks of where none is given.
 */
export function reportGaps(
  instants: readonly ForecastInstant[],
  where: string,
  faults: FormatFault[],
  stepMs?: number,
): void {
  for (let i = 1; i < instants.length; i += 1) {
    const before = instants[i - 1];
    const after = instants[i];
    if (!before || !after) continue;
    const usual =
      stepMs ?? (before.precipitationToMs === null ? null : before.precipitationToMs - before.timeMs);
    if (usual === null || after.timeMs - before.timeMs <= usual) continue;
    const found = `nothing between ${formatInstant(before.timeMs)} and ${formatInstant(after.timeMs)}`;
    const accepted = `a time every ${usual / 3_600_000} h; the hours between are missing`;
    faults.push(formatFault({ where, found, accepted }));
  }
}

/** At most forty faults, and how many more there were. */
export function shortened(faults: readonly FormatFault[]): FormatFault[] {
  if (faults.length <= TOLD_FAULTS) return [...faults];
  const more = formatFault({
    where: 'document',
    found: `${faults.length - TOLD_FAULTS} further faults`,
    accepted: 'a document without them',
  });
  return [...faults.slice(0, TOLD_FAULTS), more];
}
