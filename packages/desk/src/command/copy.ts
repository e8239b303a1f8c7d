/** `tepal copy CARD FOLDER`: copies from a card, verified, to one or two disks, resumable. */
import type { CopyDocument } from '@tepal/formats';
import type { Command } from 'commander';
import { realpath, stat } from 'node:fs/promises';
import { resolve, sep } from 'node:path';
import { copyCard } from '../copy/copy-card.ts';
import { nodeDisk } from '../copy/disk.ts';
import { DEFAULT_PATTERN, nameWords, readPattern } from '../copy/naming.ts';
import { DeskFault, exitStatus } from '../files/faults.ts';
import { printJson, progressLine, table, terminal } from './print.ts';

interface Options {
  readonly also?: string;
  readonly name: string;
  readonly outing?: string;
  readonly json?: boolean;
}

const inBraces = nameWords.map((word) => `{${word}}`).join(' ');

export function addCopy(program: Command): void {
  program
    .command('copy')
    .description(
      'copies a card, reads back what it wrote, and goes on where it stopped; the card is only read',
    )
    .argument('<card>', 'the card, or a folder of it; nothing on it is changed')
    .argument('<folder>', 'where the pictures go; nothing there is replaced')
    .option('--also <folder>', 'a second place, on another disk')
    .option(
      '--name <pattern>',
      `new names by these words: ${inBraces}; a slash begins a folder`,
      DEFAULT_PATTERN,
    )
    .option('--outing <name>', 'what {outing} stands for')
    .option('--json', 'one JSON document')
    .action(async (card: string, folder: string, options: Options) => {
      const pattern = readPattern(options.name);
      if (options.name.includes('{outing}') && options.outing === undefined) {
        throw new DeskFault('The pattern holds {outing}; say what it stands for with --outing NAME.');
      }
      const folders = [folder, ...(options.also === undefined ? [] : [options.also])];
      await requireApart(card, folders);
      const stop = new AbortController();
      const interrupted = () => stop.abort();
      process.once('SIGINT', interrupted);
      try {
        const document = await copyCard({
          ...{ card, folders, pattern, disk: nodeDisk, signal: stop.signal, tell: progressLine() },
          outing: options.outing ?? null,
        });
        terminal.endProgress();
        if (options.json) printJson(document);
        else terminal.out(readable(document));
        process.exitCode = statusOf(document);
      } finally {
        process.off('SIGINT', interrupted);
      }
    });
}

/** Copying a folder into itself, or a card onto itself, would never end or protect nothing. */
async function requireApart(card: string, folders: readonly string[]): Promise<void> {
  const found = await stat(card).catch(() => null);
  if (found === null) throw new DeskFault(`There is no card or folder ${card}.`, 3);
  if (!found.isDirectory()) throw new DeskFault(`${card} is a file; copy takes a card or a folder.`, 3);
  const places = await Promise.all(
    [card, ...folders].map((path) => realpath(path).catch(() => resolve(path))),
  );
  const within = (inner: string, outer: string) => inner === outer || inner.startsWith(`${outer}${sep}`);
  for (const [i, a] of places.entries()) {
    for (const [k, b] of places.entries()) {
      if (i === k || !within(a, b)) continue;
      const [one, other] = [[card, ...folders][i], [card, ...folders][k]];
      throw new DeskFault(`${one} lies in ${other}; card and folders must be apart from one another.`);
    }
  }
}

function statusOf({ files }: CopyDocument): number {
  if (files.every(({ result }) => result !== 'failed')) return exitStatus.done;
  return files.every(({ result }) => result === 'failed') ? exitStatus.nothingRead : exitStatus.someFailed;
}

function readable({ files, saying }: CopyDocument): string {
  const failed = files.filter(({ result }) => result === 'failed');
  const rows = failed.map(({ source, target, why }) => [source, target, why ?? '']);
  return [saying ?? '', ...(failed.length > 0 ? [table(['on the card', 'to', 'why not'], rows)] : [])].join(
    '\n\n',
  );
}
