/** `tepal backup`, `tepal restore`, `tepal check`, `tepal exchange`: keeping what was noted and chosen. */
import { readExchange, takeExchange, unreadable, writeExchange, type Notebook } from '@tepal/notebook';
import type { Command } from 'commander';
import { readFile } from 'node:fs/promises';
import { hostname } from 'node:os';
import { join } from 'node:path';
import { DeskFault, exitStatus, reasonOf } from '../files/faults.ts';
import { checkOutput, writeWhole } from '../files/write.ts';
import { backupOf } from '../keep/backup.ts';
import { checkLibrary } from '../keep/check-library.ts';
import { exchangeThroughFolder } from '../keep/exchange-folder.ts';
import { readBackup, restoreChoices } from '../keep/restore.ts';
import { openLibrary } from '../library/library.ts';
import { readNotebook, writeNotebook } from '../library/notebook-file.ts';
import { printJson, terminal } from './print.ts';

interface Options {
  readonly library: string;
  readonly notebook?: string;
  readonly deep?: boolean;
  readonly replace?: boolean;
  readonly json?: boolean;
}

const notebookOf = ({ notebook, library }: Options): string =>
  notebook ?? join(library, 'notebook.automerge');

export function addKeep(program: Command): void {
  program
    .command('backup')
    .description(
      'notebook and everything chosen in the library, in one zip of open formats; exact places included',
    )
    .argument('<file>', 'the backup to write, .zip')
    .requiredOption('--library <folder>', 'where library and notebook are kept')
    .option('--notebook <file>', 'notebook, where it lies elsewhere')
    .option('--replace', 'replace an output that is there')
    .option('--json', 'one JSON document')
    .action(async (output: string, options: Options) => {
      await checkOutput(output, { replace: options.replace ?? false });
      const { notebook } = await readNotebook(notebookOf(options), { create: true });
      const library = openLibrary(options.library);
      const { bytes, manifest } = backupOf(notebook, library, Date.now());
      library.close();
      await writeWhole(output, bytes, { replace: options.replace ?? false });
      if (options.json)
        printJson({ schema: 'tepal/backup/1', output, bytes: bytes.length, files: manifest.files });
      else
        terminal.out(
          `${output}: ${manifest.files.length} files, ${Math.ceil(bytes.length / 1000)} kB. It holds exact places.`,
        );
    });

  program
    .command('restore')
    .description(
      'a backup put back: the notebook merged, choices where there are none; nothing is overwritten',
    )
    .argument('<file>', 'a backup')
    .requiredOption('--library <folder>', 'where library and notebook are kept')
    .option('--notebook <file>', 'notebook, where it lies elsewhere')
    .option('--json', 'one JSON document')
    .action(async (file: string, options: Options) => {
      // Opened first, so that Automerge is ready for the backup's own.
      await readNotebook(notebookOf(options), { create: true });
      const backup = readBackup(await bytesOf(file), file);
      const library = openLibrary(options.library);
      const restored = restoreChoices(backup, library);
      library.close();
      await writeNotebook(notebookOf(options), backup.notebook);
      if (options.json) printJson({ schema: 'tepal/restore/1', file, madeAt: backup.madeAt, restored });
      else {
        terminal.out(`${file} of ${backup.madeAt}: the notebook was merged.`);
        for (const [what, { putBack, kept }] of Object.entries(restored)) {
          if (putBack + kept > 0) terminal.out(`${what}: ${putBack} put back, ${kept} there already.`);
        }
      }
    });

  program
    .command('check')
    .description('library against disk: frames missing or changed, and what belongs to nothing any more')
    .requiredOption('--library <folder>', 'where library and notebook are kept')
    .option('--notebook <file>', 'notebook, where it lies elsewhere')
    .option('--deep', 'read every frame and compare its content')
    .option('--json', 'one JSON document')
    .action(async (options: Options) => {
      const library = openLibrary(options.library);
      const found = await checkLibrary(library, { deep: options.deep ?? false });
      library.close();
      const { notebook } = await readNotebook(notebookOf(options), { create: true });
      const unread = unreadable(notebook).map(({ kind, id, why }) => `${kind} ${id}: ${why}`);
      const lines = [
        ...found.missing.map((line) => `Missing: ${line}`),
        ...found.changed.map((line) => `Changed: ${line}`),
        ...found.orphaned.map((line) => `Belongs to nothing: ${line}`),
        ...unread.map((line) => `Cannot be read: ${line}`),
      ];
      if (options.json) printJson({ schema: 'tepal/check/1', ...found, unreadable: unread });
      else
        terminal.out(
          [
            `${found.frames} frames; ${lines.length === 0 ? 'all is well.' : `${lines.length} findings.`}`,
            ...lines,
          ].join('\n'),
        );
      process.exitCode = lines.length === 0 ? exitStatus.done : exitStatus.someFailed;
    });

  addExchange(program);
}

interface ExchangeOptions {
  readonly notebook: string;
  readonly out?: string;
  readonly since?: string;
  readonly in?: string;
  readonly folder?: string;
  readonly device: string;
  readonly replace?: boolean;
  readonly json?: boolean;
}

function addExchange(program: Command): void {
  program
    .command('exchange')
    .description('notebooks that meet by a file, or in a folder that several of your devices see')
    .requiredOption('--notebook <file>', 'notebook of this device')
    .option('--out <file>', 'writes what another device of yours may lack, .tepal-exchange')
    .option('--since <file>', 'with --out: the last file from there, so that only what is new since goes in')
    .option('--in <file>', 'takes in a file of another device')
    .option('--folder <folder>', 'both ways through a folder that all devices see')
    .option('--device <name>', 'what this device is called', hostname())
    .option('--replace', 'replace an output that is there')
    .option('--json', 'one JSON document')
    .action(async (options: ExchangeOptions) => {
      if ([options.out, options.in, options.folder].filter((one) => one !== undefined).length !== 1) {
        throw new DeskFault('Say one of --out FILE, --in FILE or --folder FOLDER.');
      }
      const { path, notebook } = await readNotebook(options.notebook, { create: true });
      const said = await exchange(options, path, notebook);
      if (options.json) printJson({ schema: 'tepal/exchange/1', ...said.document });
      else terminal.out(said.lines.join('\n'));
      process.exitCode = said.status;
    });
}

async function exchange(options: ExchangeOptions, path: string, notebook: Notebook) {
  if (options.folder !== undefined) {
    const done = await exchangeThroughFolder(notebook, options.folder, options.device);
    await writeNotebook(path, done.notebook);
    const { taken, written, faults } = done;
    return {
      document: { taken, written, faults },
      lines: [
        ...taken.map(({ from, fresh }) => `${fresh} changes from ${from}.`),
        ...faults.map(({ path: file, reason }) => `Not taken: ${file}. ${reason}`),
        `${written} stands for this device now.`,
      ],
      status: faults.length > 0 ? exitStatus.someFailed : exitStatus.done,
    };
  }
  if (options.in !== undefined) {
    const answer = takeExchange(notebook, await bytesOf(options.in));
    if (!answer.ok) throw new DeskFault(`${options.in}: ${answer.fault.message}`, 3);
    const { from, fresh } = answer.value;
    if (fresh > 0) await writeNotebook(path, answer.value.notebook);
    return {
      document: { taken: [{ file: options.in, from, fresh }], written: null, faults: [] },
      lines: [fresh === 0 ? `Nothing new from ${from}.` : `${fresh} changes from ${from}.`],
      status: exitStatus.done,
    };
  }
  const output = options.out ?? '';
  await checkOutput(output, { replace: options.replace ?? false });
  const since = options.since === undefined ? undefined : readExchange(await bytesOf(options.since));
  if (since !== undefined && !since.ok) throw new DeskFault(`${options.since}: ${since.fault.message}`, 3);
  const bytes = writeExchange(notebook, {
    from: options.device,
    ...(since === undefined ? {} : { since: since.value.heads }),
  });
  await writeWhole(output, bytes, { replace: options.replace ?? false });
  return {
    document: { taken: [], written: output, bytes: bytes.length, faults: [] },
    lines: [`${output}: ${bytes.length} bytes. It holds exact places: for your own devices only.`],
    status: exitStatus.done,
  };
}

async function bytesOf(file: string): Promise<Buffer> {
  try {
    return await readFile(file);
  } catch (error) {
    throw new DeskFault(`${file} cannot be read: ${reasonOf(error)}.`, 3);
  }
}
