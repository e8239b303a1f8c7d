/** What lies on a card: pictures with all that belongs to them, and the rest. */
import { basename, extname, join } from 'node:path';
import { kindByName } from '../files/kinds.ts';
import { reasonOf } from '../files/faults.ts';
import type { Disk } from './disk.ts';

export interface CardFile {
  /** Full path, as the disk writes it. */
  readonly path: string;
  /** Relative to the card, with forward slashes. */
  readonly file: string;
  readonly bytes: number;
  readonly modifiedMs: number;
  /** What follows the base name that it shares with its picture: ".CR2", ".CR2.xmp". */
  readonly ending: string;
}

/** Files of one picture: raw, JPEG, sidecars, voice note, by their base name in one folder. */
export interface CardPicture {
  readonly name: string;
  readonly files: readonly CardFile[];
}

export interface Card {
  readonly pictures: readonly CardPicture[];
  /** Files that are neither pictures nor films nor belong to one. */
  readonly others: readonly CardFile[];
  readonly faults: readonly { readonly file: string; readonly reason: string }[];
}

const films = new Set(['mp4', 'mov', 'avi', 'mts', 'm2ts', 'm4v', 'mxf', '3gp']);
const DEEPEST = 24;
/** What systems leave on every disk that they touch. */
const leftBySystems =
  /^(\.|system volume information$|\$recycle\.bin$|thumbs\.db$|desktop\.ini$|lost\.dir$)/i;

/** Whether a name is that of a photograph or a film, rather than of something that goes with one. */
export const isPictureName = (name: string) =>
  kindByName(name) !== null || films.has(extname(name).slice(1).toLowerCase());

/**
 * Every file of a card. Hidden files and what systems leave are passed over; links are not followed.
 *
 * @throws the system's error when the card itself cannot be read
 */
export async function readCard(disk: Disk, card: string): Promise<Card> {
  const found: Omit<CardFile, 'ending'>[] = [];
  const faults: { file: string; reason: string }[] = [];
  const visit = async (folder: string, under: string, depth: number): Promise<void> => {
    const entries = [...(await disk.list(folder))].sort((a, b) => order.compare(a.name, b.name));
    for (const { name, is } of entries) {
      if (leftBySystems.test(name)) continue;
      const path = join(folder, name);
      const file = under === '' ? name : `${under}/${name}`;
      try {
        if (is === 'folder' && depth < DEEPEST) await visit(path, file, depth + 1);
        const about = is === 'file' ? await disk.fileAt(path) : null;
        if (about !== null) found.push({ path, file, ...about });
      } catch (error) {
        faults.push({ file, reason: `It cannot be read: ${reasonOf(error)}.` });
      }
    }
  };
  await visit(card, '', 0);
  return { ...intoPictures(found), faults };
}

/** Numbers in names count as numbers, so that IMG_9 comes before IMG_10. */
const order = new Intl.Collator('en', { numeric: true, sensitivity: 'variant' });

function intoPictures(found: readonly Omit<CardFile, 'ending'>[]): Pick<Card, 'pictures' | 'others'> {
  const keyOf = (file: string, base: string) =>
    `${file.slice(0, file.length - basename(file).length)}${base}`.normalize('NFC').toLowerCase();
  const bases = new Map<string, { name: string; files: CardFile[] }>();
  for (const one of found) {
    const name = basename(one.file);
    if (!isPictureName(name)) continue;
    const base = basename(name, extname(name));
    const key = keyOf(one.file, base);
    const picture = bases.get(key) ?? { name: base, files: [] };
    picture.files.push({ ...one, ending: extname(name) });
    bases.set(key, picture);
  }
  const others: CardFile[] = [];
  for (const one of found) {
    const name = basename(one.file);
    if (isPictureName(name)) continue;
    const ending = extname(name);
    const base = basename(name, ending);
    // A sidecar is named after its picture's base name, or after its full name.
    const inner = extname(base);
    const picture =
      bases.get(keyOf(one.file, base)) ??
      (isPictureName(base) ? bases.get(keyOf(one.file, basename(base, inner))) : undefined);
    const whole = bases.has(keyOf(one.file, base)) ? ending : `${inner}${ending}`;
    if (picture === undefined) others.push({ ...one, ending });
    else picture.files.push({ ...one, ending: whole });
  }
  return { pictures: [...bases.values()], others };
}
