/** An entry made: every picture fitted to the rules under the name they ask for, the originals as proof, the list. */
import {
  deadlineWords,
  doneInWords,
  enteredBeforeWords,
  entryNames,
  type EnteredBefore,
  type RuleCheck,
} from '@tepal/advice';
import { readEntry, type EntryDocument } from '@tepal/formats';
import { mkdir, readFile } from 'node:fs/promises';
import { dirname, extname, isAbsolute, join } from 'node:path';
import { deliverPicture } from '../deliver/deliver.ts';
import { DeskFault, reasonOf } from '../files/faults.ts';
import { contentHash } from '../files/hash.ts';
import { readJson } from '../files/read-json.ts';
import { writeWhole } from '../files/write.ts';
import { readDoneBeside, readSteps } from '../finish/done-list.ts';
import type { Pool } from '../measure/pool.ts';
import type { TellWork } from '../finish/tell.ts';
import { rememberEntered, readEntered } from './entered.ts';
import { copyWhole, findOriginal } from './original.ts';

export interface EnterWish {
  /** The entry's own file. */
  readonly file: string;
  /** Where the folder of the entry is made. */
  readonly folder: string;
  /** What was entered before is kept here. */
  readonly remembered: string;
  /** Further folders that originals may lie in. */
  readonly originalsIn: readonly string[];
  readonly nowMs: number;
  readonly pool: Pool;
  readonly tell?: TellWork;
}

export interface EnteredFile {
  readonly title: string;
  readonly picture: string;
  /** Null where it was refused. */
  readonly output: string | null;
  readonly proof: string | null;
  readonly done: string | null;
  readonly checks: readonly RuleCheck[];
  readonly warnings: readonly string[];
  readonly why: string | null;
}

export interface Entered {
  readonly schema: 'tepal/entered/1';
  readonly entry: string;
  readonly folder: string;
  readonly deadline: string | null;
  readonly pictures: readonly EnteredFile[];
}

/** @throws DeskFault where the entry cannot be read, its deadline is past, or its folder cannot be made */
export async function enterPictures(wish: EnterWish): Promise<Entered> {
  const entry = await readEntryFile(wish.file);
  const deadline = deadlineWords(entry, wish.nowMs);
  if (deadline?.past === true) throw new DeskFault(deadline.words);
  const names = entryNames(entry);
  const folder = join(wish.folder, entry.name.replace(/[/\\:*?"<>|]/g, ' ').trim());
  await made(folder);
  const before = await readEntered(wish.remembered);
  const pictures: EnteredFile[] = [];
  for (const [i, picture] of entry.pictures.entries()) {
    wish.tell?.({ done: i, total: entry.pictures.length, saying: `Making "${picture.title}".` });
    const named = names[i]!;
    const nothing = {
      title: picture.title,
      picture: picture.picture,
      output: null,
      proof: null,
      done: null,
      checks: [],
      warnings: [],
    };
    if (!named.ok) pictures.push({ ...nothing, why: named.why });
    else {
      try {
        pictures.push(await enterOne(wish, entry, i, { folder, name: named.name, note: named.note, before }));
      } catch (error) {
        pictures.push({ ...nothing, why: reasonOf(error) });
      }
    }
  }
  const entered: Entered = {
    ...{ schema: 'tepal/entered/1', entry: entry.name, folder, deadline: deadline?.words ?? null },
    pictures,
  };
  await writeWhole(join(folder, 'entered.json'), `${JSON.stringify(entered, null, 2)}\n`, { replace: true });
  return entered;
}

async function enterOne(
  wish: EnterWish,
  entry: EntryDocument,
  index: number,
  place: {
    readonly folder: string;
    readonly name: string;
    readonly note: string | null;
    readonly before: readonly EnteredBefore[];
  },
): Promise<EnteredFile> {
  const { rules, creator, rights } = entry;
  const item = entry.pictures[index]!;
  const beside = (path: string) => (isAbsolute(path) ? path : join(dirname(wish.file), path));
  const picture = beside(item.picture);
  const list = await readDoneBeside(picture);
  const original = await findOriginal({
    picture,
    given: item.original === undefined ? null : beside(item.original),
    list,
    folders: wish.originalsIn,
  });
  const hashes = [await hashOf(picture), ...(original === null ? [] : [original.hash])];
  const again = enteredBeforeWords({ title: item.title, hashes }, place.before, entry.name);
  const output = join(place.folder, `${place.name}${rules.format === 'tiff' ? '.tif' : '.jpg'}`);
  const delivered = await deliverPicture({
    ...{ picture, output, as: rules.format === 'tiff' ? 'print' : 'screen', replace: true },
    ...{ boxPx: null, sizeMm: null, ppi: 300, limitKb: null, place: 'none', sensitivity: null },
    caption: {
      title: item.title,
      ...(creator === undefined ? {} : { creator }),
      ...(rights === undefined ? {} : { rights }),
      ...(item.scientificName === undefined ? {} : { scientificName: item.scientificName }),
    },
    steps: item.steps === undefined ? null : await readSteps(beside(item.steps)),
    rules,
    deeds: item.deeds ?? null,
    originalFound: original !== null,
    pool: wish.pool,
  });
  const proof =
    rules.originalAsProof === true && original !== null
      ? await copyWhole(
          original.path,
          join(place.folder, 'originals', `${place.name}${extname(original.path)}`),
        )
      : null;
  await rememberEntered(
    wish.remembered,
    hashes.map((hash) => ({ entry: entry.name, title: item.title, hash })),
  );
  return {
    ...{ title: item.title, picture: item.picture, output, proof, why: null },
    done: delivered.done === undefined ? doneInWords([]) : delivered.done.join('; '),
    checks: delivered.checks ?? [],
    warnings: [
      ...(again === null ? [] : [again]),
      ...(place.note === null ? [] : [place.note]),
      ...(delivered.notes ?? []),
    ],
  };
}

async function readEntryFile(path: string): Promise<EntryDocument> {
  const read = readEntry(await readJson(path));
  if (!read.ok) throw new DeskFault(`${path}: ${read.fault.message}`);
  return read.value;
}

async function hashOf(path: string): Promise<string> {
  try {
    return contentHash(await readFile(path));
  } catch (error) {
    throw new DeskFault(`${path} cannot be read: ${reasonOf(error)}.`, 3);
  }
}

async function made(folder: string): Promise<void> {
  try {
    await mkdir(folder, { recursive: true });
  } catch (error) {
    throw new DeskFault(`The folder ${folder} cannot be made: ${reasonOf(error)}.`, 3);
  }
}
