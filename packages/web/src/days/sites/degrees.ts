/** Degrees as they are typed. */

export type TypedDegrees =
  { readonly ok: true; readonly degrees: number } | { readonly ok: false; readonly message: string };

/**
 * Reads degrees that were typed: "51.7", "-1,3", "51.7° N", "1.3 W".
 *
 * @param typed what was typed
 * @param name "latitude" or "longitude", for the sentence
 * @param limit largest size [deg]
 * @returns the degrees, south and west negative, or what would be accepted
 */
export function readDegrees(typed: string, name: string, limit: number): TypedDegrees {
  const match = /^\s*([+-−]?\d+(?:[.,]\d+)?)\s*°?\s*([NSEW])?\s*$/i.exec(typed);
  const wrong = {
    ok: false as const,
    message: `Expected degrees from −${limit} to ${limit} for ${name}, as 51.75 or −1.3, but found “${typed.trim()}”.`,
  };
  if (match === null) return wrong;
  const size = Number((match[1] ?? '').replace(',', '.').replace('−', '-'));
  const degrees = /[SW]/i.test(match[2] ?? '') ? -Math.abs(size) : size;
  return Number.isFinite(degrees) && Math.abs(degrees) <= limit ? { ok: true, degrees } : wrong;
}
