/** A position as somebody types it: degrees in any usual notation, UTM, MGRS, or the British national grid. */
import {
  degreesOfMgrs,
  degreesOfNationalGridReference,
  degreesOfUtm,
  DomainError,
  nationalGridUncertaintyM,
  squareUncertaintyM,
  stepOnGround,
} from '@tepal/science';
import { refused, told, understood, type Result } from '../result.ts';
import { readAngles, type WrittenAngle } from './read-angle.ts';

export const POSITION_NOTATIONS = ['degrees', 'utm', 'mgrs', 'nationalGrid'] as const;
export type PositionNotation = (typeof POSITION_NOTATIONS)[number];

export interface ReadPosition {
  /** WGS84 [°]; of a grid reference, the middle of its square. */
  readonly latitudeDeg: number;
  readonly longitudeDeg: number;
  readonly notation: PositionNotation;
  /**
   * Radius within which the place lies by the writing alone [m], never 0: half of the last written place, half the
   * diagonal of a square. How well it was measured is not in it.
   */
  readonly uncertaintyM: number;
}

const ACCEPTED =
  'degrees (52.34567, -1.23456 or 52° 20.740′ N 1° 14.074′ W or 52° 20′ 44″ N 1° 14′ 04″ W), UTM (30U 620000 5800000), MGRS (30U XC 20000 00000) or a British grid reference (SP 12345 67890)';
const LONGEST = 200;

/**
 * A position from a typed or pasted text.
 *
 * Without hemisphere letters latitude comes first. A warning says what was taken for granted.
 *
 * @returns refused with a sentence that says what was not understood
 */
export function readPosition(text: string): Result<ReadPosition> {
  const typed = withoutScheme(text.trim());
  const where = 'position';
  if (typed === '') return refused({ where, found: 'nothing', accepted: ACCEPTED });
  if (typed.length > LONGEST) {
    return refused({ where, found: `${typed.length} characters`, accepted: `one position; ${ACCEPTED}` });
  }
  return readUtm(typed) ?? readMgrs(typed) ?? readNationalGrid(typed) ?? readDegrees(typed);
}

/** "geo:52.34567,-1.23456,120;u=35?z=12", as telephones share it: the altitude and what follows are left off. */
function withoutScheme(text: string): string {
  return /^geo:([-+\d.]+,[-+\d.]+)/i.exec(text)?.[1] ?? text;
}

const BANDS = 'CDEFGHJKLMNPQRSTUVWX';
const UTM =
  /^(?:UTM\s*)?(?:zone\s*)?(\d{1,2})\s*([A-HJ-NP-Z])\s+(?:E\s*)?(\d{6}(?:\.\d+)?)\s*m?\s*E?[\s,;]+(?:N\s*)?(\d{1,8}(?:\.\d+)?)\s*m?\s*N?$/i;

/**
 * Zone, then a band letter or a hemisphere, then easting and northing. The letter S is a band in the north of the
 * world and "south" to many: the northing decides nothing, so it is asked about.
 */
function readUtm(text: string): Result<ReadPosition> | null {
  const [, zone = '', letter = '', easting = '', northing = ''] = UTM.exec(text) ?? [];
  if (zone === '') return null;
  const band = letter.toUpperCase();
  const accepted = 'zone 1 to 60, a band C to X, an easting and a northing in m: 30U 620000 5800000';
  if (!BANDS.includes(band)) return refused({ where: 'position', found: `the UTM band ${band}`, accepted });
  const point = { zone: Number(zone), eastingM: Number(easting), northingM: Number(northing) };
  const both = (['N', 'S'] as const).map((hemisphere) =>
    attempt(() => degreesOfUtm({ ...point, hemisphere })),
  );
  const [north, south] = both;
  const byBand = band >= 'N' ? north : south;
  const held = byBand !== null && byBand !== undefined && bandOf(byBand.latitudeDeg) === band;
  // "30N" and "30S" are written for north and south where the place does not lie in the band of that letter.
  const byHemisphere = band === 'N' ? north : band === 'S' ? south : null;
  const found = held ? byBand : byHemisphere;
  if (found === null || found === undefined) {
    const told = `UTM ${zone}${band} ${easting} ${northing}, which is not in that band`;
    return refused({ where: 'position', found: told, accepted });
  }
  const warnings =
    band === 'S'
      ? [`"${zone}${band}" was taken for ${held ? 'the band S, north of the equator' : 'the southern half'}.`]
      : [];
  return understood(position(found, 'utm', squareUncertaintyM(lastPlaceM(easting, northing))), warnings);
}

const lastPlaceM = (...numbers: readonly string[]): number =>
  Math.max(...numbers.map((number) => 10 ** -(number.split('.')[1]?.length ?? 0)));

/** The letter of the band of 8° that a latitude lies in; X is 12° high. */
function bandOf(latitudeDeg: number): string {
  return BANDS.charAt(Math.min(19, Math.floor((latitudeDeg + 80) / 8)));
}

function readMgrs(text: string): Result<ReadPosition> | null {
  if (!/^(?:MGRS[\s:]*)?\d{1,2}\s*[A-Z]\s*[A-Z]{2}[\s\d]*$/i.test(text)) return null;
  const plain = text.replace(/^MGRS[\s:]*/i, '').replace(/^0/, '');
  const square = attempt(() => degreesOfMgrs(plain));
  if (square !== null) {
    return understood(position(square, 'mgrs', squareUncertaintyM(square.squareM)));
  }
  const accepted =
    'zone, band, two letters and as many figures of easting as of northing: 31U DQ 48251 11932';
  return refused({ where: 'position', found: `the MGRS reference ${told(text)}`, accepted });
}

function readNationalGrid(text: string): Result<ReadPosition> | null {
  if (!/^[A-Z]{1,2}\s*\d[\d\s]*$/i.test(text)) return null;
  const [letters = '', figures = ''] = /^([A-Z]+)\s*(.*)$/i.exec(text)?.slice(1) ?? [];
  const where = 'position';
  if (letters.length === 1) {
    // One letter is the Irish grid, or a hemisphere before an angle.
    if (/^[NSEW]$/i.test(letters) && readAngles(text).kind !== 'none') return null;
    const found = `one letter and figures, as the Irish grid has them`;
    return refused({
      where,
      found,
      accepted: `British references of two letters (SP 12345 67890), or degrees`,
    });
  }
  const square = attempt(() => degreesOfNationalGridReference(text));
  if (square !== null) {
    const uncertaintyM = squareUncertaintyM(square.squareM) + nationalGridUncertaintyM;
    return understood(position(square, 'nationalGrid', uncertaintyM));
  }
  const count = figures.replace(/\s/g, '').length;
  const found =
    count % 2 === 1 ? `${count} figures after ${letters.toUpperCase()}` : `the grid reference ${told(text)}`;
  return refused({ where, found, accepted: 'two letters and 2, 4, 6, 8 or 10 figures: SP 12345 67890' });
}

function readDegrees(text: string): Result<ReadPosition> {
  const where = 'position';
  const read = readAngles(text);
  if (read.kind === 'none') return refused({ where, found: told(text), accepted: ACCEPTED });
  if (read.kind === 'wrong') {
    return refused({ where, found: `${told(text)}. ${read.why}`, accepted: ACCEPTED });
  }
  const [first, second] = read.angles;
  const axes = [first.axis, second.axis];
  if (axes[0] !== null && axes[0] === axes[1]) {
    return refused({
      where,
      found: `two angles of ${axes[0]}`,
      accepted: 'one of latitude and one of longitude',
    });
  }
  const turned = axes[0] === 'longitude' || axes[1] === 'latitude';
  const [latitude, longitude] = turned ? [second, first] : [first, second];
  const outside = outOfRange(latitude, 'latitude', 90) ?? outOfRange(longitude, 'longitude', 180);
  if (outside !== null) {
    const swapped = axes.every((axis) => axis === null) && Math.abs(longitude.degrees) <= 90;
    const accepted = swapped
      ? 'latitude first, from -90 to 90, then longitude; these may be the wrong way round'
      : 'a latitude from -90 to 90 and a longitude from -180 to 180';
    return refused({ where, found: outside, accepted });
  }
  const at = { latitudeDeg: latitude.degrees, longitudeDeg: longitude.degrees };
  const step = Math.max(latitude.lastPlaceDeg, longitude.lastPlaceDeg);
  const warnings = axes.every((axis) => axis === null)
    ? [`Latitude was taken to come first: ${inWords(latitude, 'N', 'S')}, ${inWords(longitude, 'E', 'W')}.`]
    : [];
  return understood(position(at, 'degrees', stepOnGround(step, at.latitudeDeg).diagonalM / 2), warnings);
}

function outOfRange(angle: WrittenAngle, name: string, limit: number): string | null {
  return Math.abs(angle.degrees) > limit ? `a ${name} of ${angle.degrees}°` : null;
}

function inWords({ degrees }: WrittenAngle, positive: string, negative: string): string {
  return `${Number(Math.abs(degrees).toFixed(6))}° ${degrees < 0 ? negative : positive}`;
}

function position(
  { latitudeDeg, longitudeDeg }: { readonly latitudeDeg: number; readonly longitudeDeg: number },
  notation: PositionNotation,
  uncertaintyM: number,
): ReadPosition {
  return { latitudeDeg: latitudeDeg + 0, longitudeDeg: longitudeDeg + 0, notation, uncertaintyM };
}

/** What science refuses is a fault of the text here. */
function attempt<T>(read: () => T): T | null {
  try {
    return read();
  } catch (error) {
    if (error instanceof DomainError) return null;
    throw error;
  }
}
