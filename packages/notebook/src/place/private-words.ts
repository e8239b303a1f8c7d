/** The strings that must not be found in anything that leaves the house, so that tests and writers can look for them. */
import {
  geohashOfDegrees,
  mgrsOfDegrees,
  nationalGridOfDegrees,
  nationalGridReference,
  utmOfDegrees,
} from '@tepal/science';
import { list } from '../document/look-up.ts';
import type { Notebook } from '../document/notebook.ts';
import type { Position } from '../kept/position.ts';

/**
 * Every secret of a notebook as it could stand in a text: names of sites, notes on access, and each exact coordinate
 * in decimal degrees, degrees and minutes, degrees, minutes and seconds, UTM, MGRS, the British national grid, and
 * geohash of 7 letters.
 *
 * A coordinate that cannot be told from a published cell's middle (up to four decimals, the last a 5) gives no
 * decimal word. Words of fewer than three letters are left out.
 */
export function privateWords(notebook: Notebook): readonly string[] {
  const sites = list(notebook, 'site');
  const texts = [
    ...sites.flatMap((site) => [site.name, ...lines(site.access), ...lines(site.notes)]),
    ...list(notebook, 'record').flatMap(({ extraTerms }) =>
      PLACE_TEXTS.map((term) => extraTerms[term] ?? ''),
    ),
  ];
  const positions = [
    ...sites.map((site) => site.position),
    ...list(notebook, 'record').map((record) => record.position),
    ...list(notebook, 'setUp').map((setUp) => setUp.position),
  ];
  const coordinates = positions.flatMap((position) => (position === null ? [] : coordinateWords(position)));
  return [...new Set([...texts.map((text) => text.trim()), ...coordinates])].filter(
    (word) => word.length >= 3,
  );
}

/** Terms of imported records that name a place, not a country or a county. */
const PLACE_TEXTS = [
  'locality',
  'verbatimLocality',
  'locationID',
  'locationRemarks',
  'verbatimCoordinates',
  'verbatimLatitude',
  'verbatimLongitude',
  'footprintWKT',
  'georeferenceRemarks',
] as const;

/** A text as secrets are looked for in it: small letters, one kind of quote, one space between words. */
export function foldedText(text: string): string {
  return text
    .normalize('NFKC')
    .toLowerCase()
    .replace(/[‘’ʼ]/g, "'")
    .replace(/[“”]/g, '"')
    .replace(/\s+/g, ' ')
    .trim();
}

function lines(text: string): readonly string[] {
  return text.split(/\r?\n/);
}

/** One position in the notations that a text could hold it in; signs and hemisphere letters left off. */
export function coordinateWords(position: Position): readonly string[] {
  const angles = [position.latitudeDeg, position.longitudeDeg].flatMap((degrees) => {
    const x = Math.abs(degrees);
    return [...decimalWords(x), ...minuteWords(x), ...secondWords(x)];
  });
  return [...angles, ...gridWords(position)];
}

/** Grid references to 100 m and finer. A reference begins with the letters of the coarser one, so few are needed. */
function gridWords(position: Position): readonly string[] {
  const words: string[] = [geohashOfDegrees(position, 7)];
  const utm = utmOfDegrees(position);
  if (utm.kind === 'onGrid') {
    const [easting, northing] = [Math.floor(utm.eastingM), Math.floor(utm.northingM)];
    words.push(`${easting} ${northing}`, `${easting},${northing}`, `${easting}, ${northing}`);
  }
  for (const digits of [3, 4, 5]) {
    const mgrs = mgrsOfDegrees(position, digits);
    if (mgrs.kind === 'onGrid') words.push(mgrs.reference);
  }
  const national = nationalGridOfDegrees(position);
  if (national.kind === 'outside') return words;
  for (const figures of [6, 8, 10]) {
    const reference = nationalGridReference(national, figures);
    words.push(reference, reference.replaceAll(' ', ''));
  }
  return words;
}

/** Rounded and cut off, to four decimals and more: whatever is written finer begins with one of them. */
function decimalWords(x: number): readonly string[] {
  const written = String(x);
  const decimals = written.split('.')[1]?.length ?? 0;
  if (decimals < 4 || written.includes('e')) return [];
  const words = [written];
  for (const digits of [4, 5]) if (decimals >= digits) words.push(x.toFixed(digits), cutOff(x, digits));
  return words.filter((word) => !isMiddleOfCell(word)).flatMap((word) => [word, word.replace('.', ',')]);
}

/** Four decimals, the last a 5: the middle of a published cell of 0.001 degree reads like that. */
function isMiddleOfCell(word: string): boolean {
  return /^\d+\.\d{3}5$/.test(word);
}

function minuteWords(x: number): readonly string[] {
  const degrees = Math.trunc(x);
  const minutes = (x - degrees) * 60;
  return [minutes.toFixed(3), cutOff(minutes, 3)].flatMap((written) => [
    `${degrees},${written}`,
    `${degrees}° ${written}`,
    `${degrees}°${written}`,
    `${degrees} ${written}`,
  ]);
}

/** Whole seconds, cut off and rounded, and tenths: finer ones begin with the cut ones. */
function secondWords(x: number): readonly string[] {
  const seconds = x * 3600;
  return [Math.floor(seconds + 1e-9), Math.round(seconds), Math.round(seconds * 10) / 10].flatMap((all) => {
    const d = Math.floor(all / 3600);
    const m = Math.floor((all - d * 3600) / 60);
    const s = (all - d * 3600 - m * 60).toFixed(1).replace(/\.0$/, '');
    const [minute, second] = [String(m).padStart(2, '0'), s.padStart(s.includes('.') ? 4 : 2, '0')];
    return [
      `${d}°${minute}′${second}`,
      `${d}° ${minute}′ ${second}`,
      `${d}°${minute}'${second}`,
      `${d}° ${minute}' ${second}`,
      `${d} ${minute} ${second}`,
      `${d}, ${minute}, ${second}`,
      `${d} deg ${m}' ${s}`,
    ];
  });
}

function cutOff(x: number, digits: number): string {
  return (Math.trunc(x * 10 ** digits + 1e-7) / 10 ** digits).toFixed(digits);
}
