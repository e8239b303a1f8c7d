/** Map grids back to degrees: what somebody reads off a map or a receiver. */
import mgrs from 'mgrs';
import proj4 from 'proj4';
import { DomainError, requireInRange, requireInteger, requireOneOf } from '../../domain-error.ts';
import { degreesOfNationalGrid, type Degrees, type GridPoint } from './map-grid.ts';

/** A place read from a grid reference: the middle of the square that it names. */
export interface ReadSquare extends Degrees {
  /** Side of the square [m]. */
  readonly squareM: number;
}

/**
 * WGS84 degrees from UTM.
 *
 * @param utm.zone 1 to 60
 * @param utm.hemisphere N or S
 * @param utm.eastingM 100,000 to 900,000 [m], false easting 500,000
 * @param utm.northingM 0 to 10,000,000 [m], from the equator, or from 10,000 km south of it
 * @throws DomainError if a number is out of range
 */
export function degreesOfUtm(
  utm: GridPoint & { readonly zone: number; readonly hemisphere: 'N' | 'S' },
): Degrees {
  const { zone, hemisphere, eastingM, northingM } = utm;
  requireInteger('zone', zone, { min: 1, max: 60 });
  requireOneOf('hemisphere', hemisphere, ['N', 'S']);
  requireInRange('eastingM', eastingM, { what: 'a UTM easting', unit: 'm', min: 100_000, max: 900_000 });
  requireInRange('northingM', northingM, { what: 'a UTM northing', unit: 'm', min: 0, max: 10_000_000 });
  const south = hemisphere === 'S' ? ' +south' : '';
  const grid = proj4('EPSG:4326', `+proj=utm +zone=${zone}${south} +datum=WGS84 +units=m +no_defs`);
  const [longitudeDeg, latitudeDeg] = grid.inverse([eastingM, northingM]) as [number, number];
  return { latitudeDeg, longitudeDeg };
}

const MGRS = /^([1-9]|[1-5]\d|60)([C-HJ-NP-X])([A-HJ-NP-Z])([A-HJ-NP-V])((?:\d\d){0,5})$/;

/**
 * WGS84 degrees of the middle of the square that an MGRS reference names.
 *
 * @param reference with or without spaces: "31U DQ 48251 11932"
 * @throws DomainError if it is no MGRS reference
 */
export function degreesOfMgrs(reference: string): ReadSquare {
  const plain = reference.replace(/\s+/g, '').toUpperCase();
  const digits = MGRS.exec(plain)?.[5];
  if (digits === undefined) throw notMgrs(reference);
  try {
    const [longitudeDeg, latitudeDeg] = mgrs.toPoint(plain) as [number, number];
    if (!Number.isFinite(longitudeDeg) || !Number.isFinite(latitudeDeg)) throw notMgrs(reference);
    return { latitudeDeg, longitudeDeg, squareM: 10 ** (5 - digits.length / 2) };
  } catch {
    throw notMgrs(reference);
  }
}

const notMgrs = (reference: string) =>
  new DomainError('notOneOf', 'an MGRS reference, "31U DQ 48251 11932"', 'reference', reference);

const LETTERS = 'ABCDEFGHJKLMNOPQRSTUVWXYZ';
const NATIONAL = /^([HJNOST])([A-HJ-Z])((?:\d\d){0,5})$/;

/**
 * British national grid of the middle of the square that a reference in letters and figures names.
 *
 * @param reference with or without spaces: "TG 51409 13177", "TG5113"
 * @returns metres, and the side of the square [m]
 * @throws DomainError if it is no reference of that grid
 * @source Ordnance Survey 2020, A guide to coordinate systems in Great Britain, section 5.2
 */
export function nationalGridOfReference(reference: string): GridPoint & { readonly squareM: number } {
  const plain = reference.replace(/\s+/g, '').toUpperCase();
  const [, first = '', second = '', digits = ''] = NATIONAL.exec(plain) ?? [];
  const [a, b] = [LETTERS.indexOf(first), LETTERS.indexOf(second)];
  // Letters count squares of 500 km and of 100 km from a corner 1000 km west and 500 km south of the grid's.
  const east = (a % 5) * 5 - 10 + (b % 5);
  const north = (4 - Math.floor(a / 5)) * 5 - 5 + (4 - Math.floor(b / 5));
  if (first === '' || east < 0 || east >= 7 || north < 0 || north >= 13) {
    throw new DomainError('notOneOf', 'a national grid reference, "TG 51409 13177"', 'reference', reference);
  }
  const each = digits.length / 2;
  const squareM = 10 ** (5 - each);
  const within = (text: string) => Number(text === '' ? 0 : text) * squareM + squareM / 2;
  return {
    eastingM: east * 100_000 + within(digits.slice(0, each)),
    northingM: north * 100_000 + within(digits.slice(each)),
    squareM,
  };
}

/** WGS84 degrees of the middle of the square that a national grid reference names. @throws DomainError if it is none */
export function degreesOfNationalGridReference(reference: string): ReadSquare {
  const { squareM, ...point } = nationalGridOfReference(reference);
  return { ...degreesOfNationalGrid(point), squareM };
}
