/** Degrees to map grids and back: Britain's national grid, UTM, MGRS, Europe's equal-area grid, geohash. */
import mgrs from 'mgrs';
import proj4 from 'proj4';
import { DomainError, requireInRange, requireInteger } from '../../domain-error.ts';
import { requireCoordinates } from '../place-on-earth.ts';

/** WGS84 degrees. */
export interface Degrees {
  readonly latitudeDeg: number;
  readonly longitudeDeg: number;
}

/** Metres on a plane grid. */
export interface GridPoint {
  readonly eastingM: number;
  readonly northingM: number;
}

/** A place on a grid, or that the grid does not reach it. */
export type OnGrid<T> = ({ readonly kind: 'onGrid' } & T) | { readonly kind: 'outside' };

const airyGrid =
  '+proj=tmerc +lat_0=49 +lon_0=-2 +k=0.9996012717 +x_0=400000 +y_0=-100000 +ellps=airy +units=m +no_defs';
/** Seven parameters OSGB36 to WGS84, Ordnance Survey 2020, section 6.6. */
const osgbHelmert = '+towgs84=446.448,-125.157,542.06,0.15,0.247,0.842,-20.489';
const laeaEurope = '+proj=laea +lat_0=52 +lon_0=10 +x_0=4321000 +y_0=3210000 +ellps=GRS80 +units=m +no_defs';

const nationalGrid = proj4('EPSG:4326', `${airyGrid} ${osgbHelmert}`);
const nationalGridOfAiry = proj4('+proj=longlat +ellps=airy +no_defs', airyGrid);
const equalArea = proj4('+proj=longlat +ellps=GRS80 +no_defs', laeaEurope);

type Converter = typeof nationalGrid;

function forward(converter: Converter, place: Degrees): GridPoint {
  requireCoordinates(place);
  const [eastingM, northingM] = converter.forward([place.longitudeDeg, place.latitudeDeg]) as [
    number,
    number,
  ];
  return { eastingM, northingM };
}

function inverse(converter: Converter, point: GridPoint): Degrees {
  const [longitudeDeg, latitudeDeg] = converter.inverse([point.eastingM, point.northingM]) as [
    number,
    number,
  ];
  return { latitudeDeg, longitudeDeg };
}

/** The shift by seven parameters is good to 2 to 5 m in Britain; say at least this [m]. */
export const nationalGridUncertaintyM = 5;

const onNationalGrid = ({ eastingM, northingM }: GridPoint): boolean =>
  eastingM >= 0 && eastingM < 700_000 && northingM >= 0 && northingM < 1_300_000;

/**
 * British national grid (OSGB36) from WGS84 degrees.
 *
 * @param place WGS84 [°]
 * @returns metres, good to `nationalGridUncertaintyM`; `outside` beyond the grid's 700 by 1300 km
 * @throws DomainError if a coordinate is out of range
 * @source Ordnance Survey 2020, A guide to coordinate systems in Great Britain, section 6.6 and annexe C
 */
export function nationalGridOfDegrees(place: Degrees): OnGrid<GridPoint> {
  requireCoordinates(place);
  // Far from Britain the projection has no value to give.
  if (Math.abs(place.longitudeDeg + 2) > 10 || Math.abs(place.latitudeDeg - 55) > 10)
    return { kind: 'outside' };
  const point = forward(nationalGrid, place);
  return onNationalGrid(point) ? { kind: 'onGrid', ...point } : { kind: 'outside' };
}

/** WGS84 degrees from the British national grid. @throws DomainError beyond the grid */
export function degreesOfNationalGrid(point: GridPoint): Degrees {
  return inverse(nationalGrid, requireNationalGrid(point));
}

/** National grid from OSGB36 degrees (Airy 1830), no change of datum. @source Ordnance Survey 2020, annexe C.1 */
export function nationalGridOfAiryDegrees(place: Degrees): GridPoint {
  return forward(nationalGridOfAiry, place);
}

/** OSGB36 degrees (Airy 1830) from the national grid. @source Ordnance Survey 2020, annexe C.2 */
export function airyDegreesOfNationalGrid(point: GridPoint): Degrees {
  return inverse(nationalGridOfAiry, requireNationalGrid(point));
}

function requireNationalGrid(point: GridPoint): GridPoint {
  const bound = { what: 'a national grid coordinate', unit: 'm', min: 0, maxExclusive: true };
  requireInRange('eastingM', point.eastingM, { ...bound, max: 700_000 });
  requireInRange('northingM', point.northingM, { ...bound, max: 1_300_000 });
  return point;
}

/**
 * Grid reference in letters and figures, cut off, never rounded: a reference names a square.
 *
 * @param point national grid [m]
 * @param figures 2 (10 km), 4, 6, 8 or 10 (1 m)
 * @returns "TG 5140 1317"
 * @throws DomainError beyond the grid, or another number of figures
 */
export function nationalGridReference(point: GridPoint, figures: number): string {
  requireNationalGrid(point);
  requireInteger('figures', figures, { min: 2, max: 10 });
  if (figures % 2 !== 0) throw new DomainError('outOfRange', '2, 4, 6, 8 or 10', 'figures', figures);
  const e100 = Math.floor(point.eastingM / 100_000);
  const n100 = Math.floor(point.northingM / 100_000);
  const letter = (index: number) => 'ABCDEFGHJKLMNOPQRSTUVWXYZ'.charAt(index);
  const first = letter(19 - n100 - ((19 - n100) % 5) + Math.floor((e100 + 10) / 5));
  const second = letter((((19 - n100) * 5) % 25) + (e100 % 5));
  const each = figures / 2;
  const cut = (metres: number) =>
    String(Math.floor(metres % 100_000))
      .padStart(5, '0')
      .slice(0, each);
  return `${first}${second} ${cut(point.eastingM)} ${cut(point.northingM)}`;
}

/**
 * UTM zone, with the exceptions of south-west Norway and Svalbard.
 *
 * @returns 1 to 60
 * @throws DomainError if a coordinate is out of range
 */
export function utmZone(place: Degrees): number {
  requireCoordinates(place);
  const { latitudeDeg: lat, longitudeDeg: lon } = place;
  if (lat >= 56 && lat < 64 && lon >= 3 && lon < 12) return 32;
  if (lat >= 72 && lat <= 84 && lon >= 0 && lon < 42) {
    if (lon < 9) return 31;
    if (lon < 21) return 33;
    return lon < 33 ? 35 : 37;
  }
  return Math.min(60, Math.floor((lon + 180) / 6) + 1);
}

const utmConverters = new Map<number, Converter>();

function utmConverter(zone: number): Converter {
  const known = utmConverters.get(zone);
  if (known !== undefined) return known;
  const made = proj4('EPSG:4326', `+proj=utm +zone=${zone} +datum=WGS84 +units=m +no_defs`);
  utmConverters.set(zone, made);
  return made;
}

/**
 * UTM from WGS84 degrees.
 *
 * @returns zone, hemisphere and metres; `outside` south of 80° S and north of 84° N
 * @throws DomainError if a coordinate is out of range
 */
export function utmOfDegrees(
  place: Degrees,
): OnGrid<GridPoint & { readonly zone: number; readonly hemisphere: 'N' | 'S' }> {
  const zone = utmZone(place);
  if (place.latitudeDeg < -80 || place.latitudeDeg > 84) return { kind: 'outside' };
  const point = forward(utmConverter(zone), place);
  const south = place.latitudeDeg < 0;
  return {
    kind: 'onGrid',
    zone,
    hemisphere: south ? 'S' : 'N',
    eastingM: point.eastingM,
    northingM: point.northingM + (south ? 10_000_000 : 0),
  };
}

/**
 * MGRS reference, cut off, never rounded.
 *
 * @param digits figures of easting and of northing, 0 (100 km) to 5 (1 m)
 * @returns the reference without spaces, or `outside` as for UTM
 * @throws DomainError if an argument is out of range
 */
export function mgrsOfDegrees(place: Degrees, digits: number): OnGrid<{ readonly reference: string }> {
  requireCoordinates(place);
  requireInteger('digits', digits, { min: 0, max: 5 });
  if (place.latitudeDeg < -80 || place.latitudeDeg > 84) return { kind: 'outside' };
  return { kind: 'onGrid', reference: mgrs.forward([place.longitudeDeg, place.latitudeDeg], digits) };
}

/** Europe's equal-area grid (ETRS89-LAEA, EPSG:3035) from degrees. @throws DomainError if out of range */
export function equalAreaEuropeOfDegrees(place: Degrees): GridPoint {
  return forward(equalArea, place);
}

/**
 * Geohash: bits of longitude and latitude in turn, in base 32.
 *
 * @param length characters, 1 to 12
 * @throws DomainError if an argument is out of range
 * @source Niemeyer 2008, geohash.org (from memory)
 */
export function geohashOfDegrees(place: Degrees, length: number): string {
  requireCoordinates(place);
  requireInteger('length', length, { min: 1, max: 12 });
  const longitude = { low: -180, high: 180, value: place.longitudeDeg };
  const latitude = { low: -90, high: 90, value: place.latitudeDeg };
  let text = '';
  let index = 0;
  for (let bit = 0; bit < length * 5; bit++) {
    const axis = bit % 2 === 0 ? longitude : latitude;
    const middle = (axis.low + axis.high) / 2;
    const upper = axis.value >= middle;
    if (upper) axis.low = middle;
    else axis.high = middle;
    index = index * 2 + (upper ? 1 : 0);
    if (bit % 5 === 4) {
      text += '0123456789bcdefghjkmnpqrstuvwxyz'.charAt(index);
      index = 0;
    }
  }
  return text;
}
