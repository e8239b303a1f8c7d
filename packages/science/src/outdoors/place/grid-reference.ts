/** Grid references of Britain read back: letters and figures name a square. */
import { degreesOfNationalGrid, type Degrees } from './map-grid.ts';
import { squareUncertaintyM } from './coordinate-uncertainty.ts';

/** The square that a reference names, by its middle. */
export interface GridSquare {
  /** WGS84 [deg]. */
  readonly centre: Degrees;
  /** [m] */
  readonly sideM: number;
  /** Radius about the middle that holds the square [m]. */
  readonly uncertaintyM: number;
}

const LETTERS = 'ABCDEFGHJKLMNOPQRSTUVWXYZ';

/**
 * The square of a national grid reference: two letters and none, 2, 4, 6, 8 or 10 figures, spaces as one likes.
 *
 * @returns null where the text is no such reference, or names a square off the grid
 * @source Ordnance Survey 2020, A guide to coordinate systems in Great Britain, section 7; inverse of `nationalGridReference`
 */
export function squareOfGridReference(reference: string): GridSquare | null {
  const found = /^([A-HJ-Z]{2})(\d{0,10})$/.exec(reference.toUpperCase().replace(/\s+/g, ''));
  const [, letters = '', figures = ''] = found ?? [];
  if (found === null || figures.length % 2 !== 0) return null;
  const [first, second] = [LETTERS.indexOf(letters[0]!), LETTERS.indexOf(letters[1]!)];
  // Squares of 500 km from the false origin, rows counted from the north; then squares of 100 km in them.
  const e100 = ((first % 5) - 2) * 5 + (second % 5);
  const n100 = 19 - Math.floor(first / 5) * 5 - Math.floor(second / 5);
  const each = figures.length / 2;
  const sideM = 10 ** (5 - each);
  const metres = (text: string): number => (text === '' ? 0 : Number(text) * sideM);
  const eastingM = e100 * 100_000 + metres(figures.slice(0, each)) + sideM / 2;
  const northingM = n100 * 100_000 + metres(figures.slice(each)) + sideM / 2;
  if (!(eastingM >= 0 && eastingM < 700_000 && northingM >= 0 && northingM < 1_300_000)) return null;
  return {
    centre: degreesOfNationalGrid({ eastingM, northingM }),
    sideM,
    uncertaintyM: squareUncertaintyM(sideM),
  };
}
