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
  const texts = sites.flatMap((site) => [site.name, ...lines(site.access), ...lines(site.notes)]);
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

function decimalWords(x: number): readonly string[] {
  const written = String(x);
  const decimals = written.split('.')[1]?.length ?? 0;
  if (decimals < 4 || (decimals === 4 && written.endsWith('5')) || written.includes('e')) return [];
  const longer = decimals > 5 ? [x.toFixed(5), (Math.trunc(x * 1e5) / 1e5).toFixed(5)] : [];
  return [written, ...longer].flatMap((word) => [word, word.replace('.', ',')]);
}

function minuteWords(x: number): readonly string[] {
  const degrees = Math.trunc(x);
  const minutes = (x - degrees) * 60;
  const written = minutes.toFixed(3);
  return [
    `${degrees},${written}`,
    `${degrees}° ${written}`,
    `${degrees}°${written}`,
    `${degrees} ${written}`,
  ];
}

function secondWords(x: number): readonly string[] {
  const seconds = Math.round(x * 36_000) / 10;
  const d = Math.trunc(seconds / 3600);
  const m = Math.trunc((seconds - d * 3600) / 60);
  const s = (seconds - d * 3600 - m * 60).toFixed(1);
  const two = (text: string) => text.padStart(2, '0');
  const minute = two(String(m));
  const second = two(s.replace(/\.0$/, '')).padStart(2, '0');
  return [
    `${d}°${minute}′${second}″`,
    `${d}° ${minute}′ ${second}″`,
    `${d}°${minute}'${second}"`,
    `${d}° ${minute}' ${second}"`,
    `${d} ${minute} ${second}`,
    `${d}, ${minute}, ${second}`,
    `${d} deg ${m}' ${s}`,
  ];
}
