/** The strings that must not be found in anything that leaves the house, so that tests and writers can look for them. */
import { list } from '../document/look-up.ts';
import type { Notebook } from '../document/notebook.ts';
import type { Position } from '../kept/position.ts';

/**
 * Every secret of a notebook as it could stand in a text: names of sites, notes on access, and each exact coordinate
 * in decimal degrees, degrees and minutes, and degrees, minutes and seconds.
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
  return [position.latitudeDeg, position.longitudeDeg].flatMap((degrees) => {
    const x = Math.abs(degrees);
    return [...decimalWords(x), ...minuteWords(x), ...secondWords(x)];
  });
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
