/** Numbers as a page writes them: with their unit, and no more digits than mean something. */

/** A number with at most so many digits that count: 0.123 → "0.12", 1.96 → "2", 123.4 → "123". */
export function digits(value: number, significant = 2): string {
  if (value === 0) return '0';
  const places = significant - 1 - Math.floor(Math.log10(Math.abs(value)));
  const rounded = places > 0 ? value.toFixed(Math.min(places, 8)) : String(Math.round(value));
  return rounded.includes('.') ? rounded.replace(/\.?0+$/, '') : rounded;
}

/** One decimal below ten, whole above: for metres a second, pixels, millimetres. */
export const oneDecimal = (value: number): string =>
  Math.abs(value) < 9.95 ? String(Number(value.toFixed(1))) : String(Math.round(value));

/** "0.2 to 0.5 m/s", or "0.4 m/s" where both ends read the same. */
export function rangeWords(low: number, high: number, unit: string): string {
  const from = oneDecimal(low);
  const to = oneDecimal(high);
  return from === to ? `${from} ${unit}` : `${from} to ${to} ${unit}`;
}

/**
 * An exposure time as it stands on the dial.
 *
 * @param seconds nominal time [s], > 0
 * @returns "1/200", "0.6 s", "2 s"
 */
export function shutterWords(seconds: number): string {
  if (seconds >= 0.35) return `${digits(seconds)} s`;
  return `1/${Math.round(1 / seconds)}`;
}

/** "f/5.6". */
export const apertureWords = (fNumber: number): string => `f/${Number(fNumber.toFixed(1))}`;

/** A length as one says it: "8 mm", "40 cm", "2 m". */
export function lengthWords(mm: number): string {
  if (mm >= 1000) return `${digits(mm / 1000, 3)} m`;
  return mm >= 100 ? `${digits(mm / 10, 3)} cm` : `${digits(mm, 2)} mm`;
}

/** Magnification as photographers say it: "1 : 3", "2 : 1". */
export function ratioWords(magnification: number): string {
  return magnification >= 1
    ? `${Number(magnification.toFixed(1))} : 1`
    : `1 : ${Number((1 / magnification).toFixed(1))}`;
}

/**
 * A chance as it is said: "about 1 in 4", and near certainty "nearly all".
 *
 * @param chance [0..1]
 */
export function chanceWords(chance: number): string {
  if (chance >= 0.95) return 'nearly all';
  if (chance >= 0.7) return chance >= 0.85 ? '9 in 10' : '3 in 4';
  if (chance >= 0.58) return '2 in 3';
  if (chance < 0.003) return 'none to count on';
  return `1 in ${Math.round(1 / chance)}`;
}

/** "1 frame", "12 frames". */
export const counted = (count: number, one: string, many = `${one}s`): string =>
  `${count.toLocaleString('en-GB')} ${count === 1 ? one : many}`;

/** A share as a whole per cent: "40 %". */
export const percent = (share: number): string => `${Math.round(share * 100)} %`;

/** The size of a file: "840 kB", "12 MB". */
export const bytesWords = (bytes: number): string =>
  bytes < 1e6 ? `${Math.max(1, Math.round(bytes / 1e3))} kB` : `${digits(bytes / 1e6, 2)} MB`;
