/** `tepal record`: Darwin Core in and out, places released by rule. */
import type { RecordDocument } from '@tepal/formats';
import type { Command } from 'commander';
import { readFile } from 'node:fs/promises';
import { DeskFault, exitStatus, reasonOf } from '../files/faults.ts';
import { checkOutput, writeWhole } from '../files/write.ts';
import { readNotebook, writeNotebook } from '../library/notebook-file.ts';
import { exportRecords, importRecords } from '../library/records.ts';
import { oneOf } from './options.ts';
import { printJson, terminal } from './print.ts';

interface Options {
  readonly export?: string;
  readonly import?: string;
  readonly notebook?: string;
  readonly place: 'none' | 'exact' | 'coarse' | 'region';
  readonly replace?: boolean;
  readonly json?: boolean;
}

export function addRecord(program: Command): void {
  program
    .command('record')
    .description('Darwin Core archive in and out; places generalised by rule')
    .option('--export <file>', 'writes a Darwin Core archive, .zip')
    .option('--import <file>', 'reads a Darwin Core archive, .zip or .csv, into the notebook')
    .requiredOption('--notebook <file>', 'notebook with the records')
    .option(
      '--place <how>',
      'none, region, coarse or exact',
      oneOf(['none', 'region', 'coarse', 'exact']),
      'coarse',
    )
    .option('--replace', 'replace an output that is there')
    .option('--json', 'one JSON document')
    .action(async (options: Options) => {
      if ((options.export === undefined) === (options.import === undefined)) {
        throw new DeskFault('Say either --export OUT.zip or --import FILE.');
      }
      const { document, status } =
        options.import === undefined ? await out(options) : await into(options, options.import);
      if (options.json) printJson(document);
      else terminal.out(readable(document));
      process.exitCode = status;
    });
}

async function out(options: Options): Promise<{ document: RecordDocument; status: number }> {
  const output = options.export!;
  if (!/\.zip$/i.test(output))
    throw new DeskFault(`A Darwin Core archive is a .zip: ${output} needs that ending.`);
  await checkOutput(output, { replace: options.replace ?? false });
  const { notebook } = await readNotebook(options.notebook!, { create: false });
  const { bytes, occurrences, withheld } = exportRecords(notebook, {
    wish: options.place,
    nowMs: Date.now(),
  });
  await writeWhole(output, bytes, { replace: options.replace ?? false });
  const exported = { output, occurrences, withheld };
  return { document: { schema: 'tepal/record/1', exported, imported: null }, status: exitStatus.done };
}

async function into(options: Options, file: string): Promise<{ document: RecordDocument; status: number }> {
  let bytes: Buffer;
  try {
    bytes = await readFile(file);
  } catch (error) {
    throw new DeskFault(`${file} cannot be read: ${reasonOf(error)}.`, 3);
  }
  const { path, notebook } = await readNotebook(options.notebook!, { create: true });
  const {
    notebook: filled,
    occurrences,
    notUnderstood,
    refused,
  } = importRecords(notebook, bytes, {
    file,
    nowMs: Date.now(),
  });
  if (occurrences > 0) await writeNotebook(path, filled);
  const imported = { file, occurrences, notUnderstood };
  const status =
    occurrences === 0 ? exitStatus.nothingRead : refused > 0 ? exitStatus.someFailed : exitStatus.done;
  return { document: { schema: 'tepal/record/1', exported: null, imported }, status };
}

function readable({ exported, imported }: RecordDocument): string {
  if (exported !== null) {
    return [
      `${exported.output}: ${exported.occurrences} records.`,
      ...exported.withheld.map((line) => `Left out: ${line}`),
    ].join('\n');
  }
  if (imported === null) return '';
  return [
    `${imported.file}: ${imported.occurrences} records read.`,
    ...imported.notUnderstood.map((line) => `Not understood: ${line}`),
  ].join('\n');
}
