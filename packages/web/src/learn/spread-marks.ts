/** Where a factor and its range stand on a line from a quarter to four times typical. */

/** Width of the line [drawing units]. */
const wide = 200;
const most = 4;

const place = (factor: number): number =>
  (wide / 2) * (1 + Math.log(Math.min(most, Math.max(1 / most, factor))) / Math.log(most));

/** @returns ends of the bar and its middle [drawing units], 0 to 200; what is beyond stands at the end */
export function spreadMarks(law: {
  readonly median: number;
  readonly interval90: readonly [number, number];
}): { readonly from: number; readonly at: number; readonly to: number } {
  const [low, high] = law.interval90;
  return { from: place(low), at: place(law.median), to: place(high) };
}
