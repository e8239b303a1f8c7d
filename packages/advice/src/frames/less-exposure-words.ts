/** How much less exposure would have kept a colour, in words. */

/** Thirds of a stop, as the measure of the crop gives them; `more` where more may have been needed. */
export interface ThirdsLess {
  readonly thirds: number;
  readonly more: boolean;
}

/**
 * "2/3 of a stop less would have kept the red round the point."
 *
 * Of the colour that needs most; where several need as much, the first of them as red, green, blue.
 *
 * @returns null where nothing is lost
 */
export function lessExposureWords(
  less: Readonly<Record<'red' | 'green' | 'blue', ThirdsLess>>,
): string | null {
  const colours = ['red', 'green', 'blue'] as const;
  const [worst] = [...colours].sort((a, b) => less[b].thirds - less[a].thirds);
  if (worst === undefined || less[worst].thirds <= 0) return null;
  const { thirds, more } = less[worst];
  const stops = stopsInWords(thirds);
  return more
    ? `More than ${stops} less would have been needed to keep the ${worst} round the point.`
    : `${stops} less would have kept the ${worst} round the point.`;
}

function stopsInWords(thirds: number): string {
  const whole = Math.floor(thirds / 3);
  const rest = thirds % 3;
  if (whole === 0) return `${String(rest)}/3 of a stop`;
  if (rest === 0) return whole === 1 ? '1 stop' : `${String(whole)} stops`;
  return `${String(whole)} ${String(rest)}/3 stops`;
}
