/** Where a moment lies in its year. */

/** @returns 0 at the beginning of the year to 1 at its end, in UTC */
export function dayOfYearShare(timeMs: number): number {
  const year = new Date(timeMs).getUTCFullYear();
  const [from, to] = [Date.UTC(year, 0, 1), Date.UTC(year + 1, 0, 1)];
  return (timeMs - from) / (to - from);
}
