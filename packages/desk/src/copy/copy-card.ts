/** A card copied: verified, to one or two disks, and going on where it stopped. The card is only read. */
import type { CopiedFile, CopyDocument } from '@tepal/formats';
import { dirname, join } from 'node:path';
import { DeskFault, reasonOf } from '../files/faults.ts';
import { readCard, isPictureName, type Card, type CardFile, type CardPicture } from './card.ts';
import type { Disk } from './disk.ts';
import { hashFile, readKnown, type KnownContent } from './known.ts';
import { safeName, type NamePattern } from './naming.ts';
import { baseOfKnown, openPlaces, type Places } from './place.ts';
import { takenOf } from './taken.ts';
import { removeLeftovers, transfer } from './transfer.ts';
import { copySentence } from './words.ts';

export interface CopyOptions {
  readonly card: string;
  /** One or two; made when they are not there. */
  readonly folders: readonly string[];
  readonly pattern: NamePattern;
  readonly outing: string | null;
  readonly disk: Disk;
  readonly signal: AbortSignal;
  tell(progress: { done?: number; total?: number; saying?: string }): void;
}

/** A folder copied to. */
interface Target {
  readonly folder: string;
  readonly known: KnownContent;
  readonly places: Places;
  /** Folders that are made and free of leftovers. */
  readonly ready: Set<string>;
  /** Why nothing more goes there. */
  closed: string | null;
}

/** Where what is no picture goes, under the path that it has on the card. */
const OTHER_FOLDER = 'other';

/**
 * @returns each file for each folder: copied, there already, or failed and why
 * @throws DeskFault when the card or a folder cannot be used at all, or the work is stopped
 */
export async function copyCard(options: CopyOptions): Promise<CopyDocument> {
  const { disk, signal } = options;
  const card = await cardOf(options);
  const targets = await Promise.all(options.folders.map((folder) => openTarget(disk, folder)));
  const run = new CopyRun(options, targets, card);
  for (const picture of card.pictures) {
    if (signal.aborted) throw stopped();
    await run.copyPicture(picture);
  }
  for (const file of card.others) {
    if (signal.aborted) throw stopped();
    await run.copyOther(file);
  }
  const files = run.files();
  const allSafe = files.every(({ result }) => result !== 'failed');
  const { saying, ...counts } = copySentence(files, options.folders, allSafe);
  return { schema: 'tepal/copy/1', files, allSafe, saying, ...counts };
}

const stopped = () =>
  new DeskFault('The copy was stopped; the same command goes on where it stopped. The card is unchanged.', 4);

async function cardOf({ disk, card }: CopyOptions): Promise<Card> {
  let found: Card;
  try {
    found = await readCard(disk, card);
  } catch (error) {
    throw new DeskFault(`The card ${card} cannot be read: ${reasonOf(error)}.`, 3);
  }
  if (found.pictures.length + found.others.length + found.faults.length === 0) {
    throw new DeskFault(`There are no files on ${card}.`, 3);
  }
  return found;
}

async function openTarget(disk: Disk, folder: string): Promise<Target> {
  try {
    await disk.makeFolder(folder);
    const known = await readKnown(disk, folder);
    return { folder, known, places: openPlaces(disk, folder), ready: new Set(), closed: null };
  } catch (error) {
    throw new DeskFault(`The folder ${folder} cannot be used: ${reasonOf(error)}.`, 3);
  }
}

/** One file on its way to one folder. */
interface Way {
  readonly target: Target;
  readonly final: string;
}

class CopyRun {
  readonly #options: CopyOptions;
  readonly #targets: readonly Target[];
  readonly #files: CopiedFile[] = [];
  readonly #hashes = new Map<string, string>();
  #done = 0;
  #cardGone = false;

  constructor(options: CopyOptions, targets: readonly Target[], card: Card) {
    this.#options = options;
    this.#targets = targets;
    const total = card.others.length + card.pictures.reduce((sum, { files }) => sum + files.length, 0);
    options.tell({ done: 0, total, saying: 'Copying and reading back.' });
    for (const { file, reason } of card.faults) {
      for (const { folder } of targets) this.#failed(join(options.card, file), folder, reason);
    }
  }

  files(): readonly CopiedFile[] {
    return this.#files;
  }

  async copyPicture(picture: CardPicture): Promise<void> {
    const { disk, pattern, outing } = this.#options;
    const ways = new Map<CardFile, Way[]>(picture.files.map((file) => [file, []]));
    try {
      const taken = this.#cardGone ? null : await takenOf(disk, picture);
      const levels = pattern({ outing, name: picture.name, takenAt: null, camera: null, ...taken });
      for (const target of this.#targets) {
        for (const [file, final] of await this.#finals(picture, levels, target)) {
          ways.get(file)?.push({ target, final });
        }
      }
    } catch (error) {
      await this.#noticeCard();
      for (const file of picture.files) {
        for (const { folder } of this.#targets) this.#failed(file.path, folder, sentence(error));
        this.#step();
      }
      return;
    }
    for (const file of picture.files) await this.#send(file, ways.get(file) ?? []);
  }

  async copyOther(file: CardFile): Promise<void> {
    const ways: Way[] = [];
    const levels = file.file.split('/').map((level) => safeName(level) || 'file');
    for (const target of this.#targets) {
      const final = join(target.folder, OTHER_FOLDER, ...levels);
      const base = final.slice(0, final.length - file.ending.length);
      try {
        if (await this.#isAt(file, final, target)) continue;
        ways.push({ target, final: await target.places.freePath(base, file.ending) });
      } catch (error) {
        await this.#noticeCard();
        this.#failed(file.path, final, sentence(error));
      }
    }
    await this.#send(file, ways);
  }

  /** Where each file of a picture goes in one folder; what is there already is told at once and left out. */
  async #finals(picture: CardPicture, levels: readonly string[], target: Target) {
    const finals = new Map<CardFile, string>();
    let base: string | null = null;
    for (const file of picture.files) {
      if (!isPictureName(file.path)) continue;
      const found = await this.#find(file, target);
      if (found === null) continue;
      base ??= baseOfKnown(found, file);
      this.#report(file, found, 'alreadyThere', null);
      finals.set(file, '');
    }
    base ??= await target.places.free(levels);
    for (const file of picture.files) {
      if (finals.delete(file)) continue;
      const wanted = `${base}${file.ending}`;
      if (!isPictureName(file.path) && (await this.#isAt(file, wanted, target))) continue;
      finals.set(file, await target.places.freePath(base, file.ending));
    }
    return finals;
  }

  /** Where this content is in a folder; what cannot be read to tell is copied, or fails there with its reason. */
  async #find(file: CardFile, { known }: Target): Promise<string | null> {
    if (this.#cardGone) return null;
    return known.find(file, () => this.#hashOf(file)).catch(() => null);
  }

  /** Whether this very content stands at a path; then it is told. */
  async #isAt(file: CardFile, path: string, target: Target): Promise<boolean> {
    const { disk } = this.#options;
    const there = await disk.fileAt(path);
    if (there?.bytes !== file.bytes || this.#cardGone) return false;
    const same =
      (await this.#find(file, target)) === path ||
      (await hashFile(disk, path)) === (await this.#hashOf(file).catch(() => null));
    if (same) this.#report(file, path, 'alreadyThere', null);
    return same;
  }

  async #send(file: CardFile, ways: readonly Way[]): Promise<void> {
    const open: Way[] = [];
    for (const way of ways) {
      const closed = this.#cardGone ? GONE : way.target.closed;
      if (closed !== null) this.#failed(file.path, way.final, closed);
      else if (await this.#makeReady(file, way)) open.push(way);
    }
    if (open.length > 0) await this.#transfer(file, open);
    this.#step();
  }

  async #makeReady(file: CardFile, { target, final }: Way): Promise<boolean> {
    const folder = dirname(final);
    if (target.ready.has(folder)) return true;
    try {
      await this.#options.disk.makeFolder(folder);
      await removeLeftovers(this.#options.disk, folder);
      target.ready.add(folder);
      return true;
    } catch (error) {
      this.#failed(file.path, final, sentence(error));
      return false;
    }
  }

  async #transfer(file: CardFile, ways: readonly Way[]): Promise<void> {
    const { hash, landings, cardFault } = await transfer(
      this.#options.disk,
      file,
      ways.map(({ final }) => final),
    );
    if (hash !== null) this.#hashes.set(file.path, hash);
    for (const [i, landing] of landings.entries()) {
      const { target } = ways[i]!;
      if (landing.is === 'safe') {
        if (hash !== null) await target.known.add(landing.path, hash);
        this.#report(file, landing.path, 'copied', null);
      } else {
        if (landing.full) target.closed = 'The disk is full.';
        this.#failed(file.path, landing.path, landing.why);
      }
    }
    if (cardFault !== null) await this.#noticeCard();
  }

  /** After a read error: is it this file, or is the card no longer there? */
  async #noticeCard(): Promise<void> {
    const { disk, card } = this.#options;
    const entries = await disk.list(card).catch(() => []);
    this.#cardGone = entries.length === 0;
  }

  async #hashOf(file: CardFile): Promise<string> {
    const known = this.#hashes.get(file.path);
    if (known !== undefined) return known;
    const hash = await hashFile(this.#options.disk, file.path);
    this.#hashes.set(file.path, hash);
    return hash;
  }

  #report(file: CardFile, target: string, result: CopiedFile['result'], why: string | null): void {
    this.#files.push({ source: file.path, target, hash: this.#hashes.get(file.path) ?? null, result, why });
  }

  #failed(source: string, target: string, why: string): void {
    this.#files.push({ source, target, hash: null, result: 'failed', why });
  }

  #step(): void {
    this.#done += 1;
    this.#options.tell({ done: this.#done });
  }
}

const GONE = 'The card is no longer there.';

function sentence(error: unknown): string {
  const told = reasonOf(error);
  return `${told.charAt(0).toUpperCase()}${told.slice(1)}.`;
}
