/** The order in which a camera numbers its files. */

/**
 * Compares two file names as a reader would: digits by their number, letters without regard to case, so that
 * `IMG_9.JPG` comes before `IMG_10.JPG`. Names that differ only in case or leading zeros are told apart by their
 * characters, so that the order is total.
 *
 * @returns below 0 when `a` comes first, above 0 when `b` does, 0 only for the same text
 */
export function compareFileNames(a: string, b: string): number {
  const partsA = a.toLowerCase().match(/\d+|\D+/g) ?? [];
  const partsB = b.toLowerCase().match(/\d+|\D+/g) ?? [];
  for (let i = 0; i < Math.min(partsA.length, partsB.length); i++) {
    const order = compareParts(partsA[i] ?? '', partsB[i] ?? '');
    if (order !== 0) return order;
  }
  return partsA.length - partsB.length || compareText(a, b);
}

function compareParts(a: string, b: string): number {
  if (!/^\d/.test(a) || !/^\d/.test(b)) return compareText(a, b);
  const digitsA = a.replace(/^0+(?=\d)/, '');
  const digitsB = b.replace(/^0+(?=\d)/, '');
  return digitsA.length - digitsB.length || compareText(digitsA, digitsB);
}

function compareText(a: string, b: string): number {
  if (a === b) return 0;
  return a < b ? -1 : 1;
}
