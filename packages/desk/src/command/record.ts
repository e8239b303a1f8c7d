/** `tepal record`: records in and out, names checked, places released by rule. */
import type { RecordDocument } from '@tepal/formats';
import {
  change,
  exportRecords,
  list,
  SENSITIVITIES,
  type PlaceWish,
  type Sensitivity,
} from '@tepal/notebook';
import type { Command } from 'commander';
import { readFile } from 'node:fs/promises';
import { DeskFault, exitStatus, reasonOf } from '../files/faults.ts';
import { checkOutput, writeWhole } from '../files/write.ts';
import { readNotebook, writeNotebook } from '../library/notebook-file.ts';
import { checkNames, importRecords } from '../library/records-in.ts';
import { confidentialAudience, logSending } from '../library/sendings.ts';
import { oneOf } from './options.ts';
import { printJson, terminal } from './print.ts';
import { readableRecord } from './record-words.ts';

interface Options {
  readonly export?: string;
  readonly import?: string;
  readonly names?: string;
  readonly sensitivity?: readonly string[];
  readonly sendings?: boolean;
  readonly notebook: string;
  readonly place?: PlaceWish;
  readonly to?: string;
  readonly confirm?: string;
  readonly language: string;
  readonly replace?: boolean;
  readonly json?: boolean;
}

interface Answer {
  readonly document: RecordDocument;
  readonly status: number;
}

const collect = (text: string, before: readonly string[] = []): readonly string[] => [...before, text];

export function addRecord(program: Command): void {
  program
    .command('record')
    .description(
      'Darwin Core archive and recorders’ table in and out; names checked; places generalised by rule',
    )
    .option('--export <file>', 'writes a Darwin Core archive, .zip, or a recorders’ table, .csv')
    .option('--import <file>', 'reads either into the notebook')
    .option('--names <checklist>', 'matches free names to a checklist: Darwin Core archive or table of taxa')
    .option(
      '--sensitivity <name=how>',
      `how much harm a published place of a species would do: ${SENSITIVITIES.join(', ')}; may be given more than once`,
      collect,
    )
    .option('--sendings', 'the log of confidential exports: what left, when, to whom')
    .requiredOption('--notebook <file>', 'notebook with the records')
    .option(
      '--place <how>',
      'none, region, coarse (unless said) or exact',
      oneOf(['none', 'region', 'coarse', 'exact']),
    )
    .option('--to <name>', 'confidential export, with exact places, to this recipient alone; it is logged')
    .option('--confirm <name>', 'the recipient once more, as confirmation')
    .option('--language <tag>', 'language of common names', 'en')
    .option('--replace', 'replace an output that is there')
    .option('--json', 'one JSON document')
    .action(async (options: Options) => {
      const works = [options.export, options.import, options.names, options.sensitivity, options.sendings];
      if (works.filter((one) => one !== undefined).length !== 1) {
        throw new DeskFault(
          'Say one of --export FILE, --import FILE, --names CHECKLIST, --sensitivity NAME=HOW or --sendings.',
        );
      }
      const { document, status } = await answerTo(options);
      if (options.json) printJson(document);
      else terminal.out(readableRecord(document));
      process.exitCode = status;
    });
}

function answerTo(options: Options): Promise<Answer> {
  if (options.export !== undefined) return out(options, options.export);
  if (options.import !== undefined) return into(options, options.import);
  if (options.names !== undefined) return names(options, options.names);
  if (options.sensitivity !== undefined) return sensitivities(options, options.sensitivity);
  return sendings(options);
}

async function out(options: Options, output: string): Promise<Answer> {
  const as = /\.zip$/i.test(output) ? 'archive' : /\.csv$/i.test(output) ? 'table' : null;
  if (as === null) {
    throw new DeskFault(`Records go out as a .zip archive or a .csv table: ${output} has another ending.`);
  }
  if (options.confirm !== undefined && options.to === undefined) {
    throw new DeskFault('--confirm goes with --to NAME.');
  }
  const audience = options.to === undefined ? 'public' : confidentialAudience(options.to, options.confirm);
  const replace = options.replace ?? false;
  await checkOutput(output, { replace });
  const { path, notebook } = await readNotebook(options.notebook, { create: false });
  const nowMs = Date.now();
  const wish = options.place ?? (options.to === undefined ? 'coarse' : 'exact');
  const written = exportRecords(notebook, { wish, audience, as, language: options.language, nowMs });
  const what = as === 'archive' ? 'Darwin Core archive' : 'recorders’ table';
  // Into the log first: nothing leaves that it does not know of.
  if (options.to !== undefined) {
    await writeNotebook(path, logSending(notebook, written, { to: options.to, what, output, nowMs }));
  }
  await writeWhole(output, written.bytes, { replace });
  const { occurrences, withheld, toAsk, exactPlaces } = written;
  const exported = {
    output,
    occurrences,
    withheld,
    toAsk,
    ...(options.to === undefined ? {} : { to: options.to, exactPlaces }),
  };
  return { document: { schema: 'tepal/record/1', exported, imported: null }, status: exitStatus.done };
}

async function into(options: Options, file: string): Promise<Answer> {
  const bytes = await bytesOf(file);
  const { path, notebook } = await readNotebook(options.notebook, { create: true });
  const read = importRecords(notebook, bytes, { file, nowMs: Date.now() });
  if (read.occurrences > 0) await writeNotebook(path, read.notebook);
  const imported = { file, occurrences: read.occurrences, notUnderstood: read.notUnderstood };
  const status =
    read.occurrences === 0
      ? exitStatus.nothingRead
      : read.refused > 0
        ? exitStatus.someFailed
        : exitStatus.done;
  return { document: { schema: 'tepal/record/1', exported: null, imported }, status };
}

async function names(options: Options, file: string): Promise<Answer> {
  const bytes = await bytesOf(file);
  const { path, notebook } = await readNotebook(options.notebook, { create: false });
  const checked = checkNames(notebook, bytes, { file, language: options.language, nowMs: Date.now() });
  if (checked.names.some(({ subject }) => subject !== null)) await writeNotebook(path, checked.notebook);
  const matched = checked.names.map(({ written, records, found, subject }) => ({
    ...{ written, records, kind: found.kind, subject },
    mayBe: found.kind === 'near' ? found.names.map(({ scientificName }) => scientificName) : [],
  }));
  const { checklistNames, notUnderstood } = checked;
  const document = {
    ...({ schema: 'tepal/record/1', exported: null, imported: null } as const),
    names: { file, checklistNames, matched, notUnderstood },
  };
  return { document, status: exitStatus.done };
}

async function sensitivities(options: Options, wishes: readonly string[]): Promise<Answer> {
  const { path, notebook } = await readNotebook(options.notebook, { create: false });
  const subjects = list(notebook, 'subject');
  const given = wishes.map((wish) => {
    const [name = '', how = ''] = wish.split('=').map((part) => part.trim());
    const sensitivity: Sensitivity | undefined = SENSITIVITIES.find((word) => word === how);
    const subject = subjects.find(
      ({ scientificName }) => scientificName.toLowerCase() === name.toLowerCase(),
    );
    if (sensitivity === undefined) {
      throw new DeskFault(`expected NAME=${SENSITIVITIES.join('|')} for --sensitivity but received ${wish}.`);
    }
    if (subject === undefined) throw new DeskFault(`The notebook has no species named ${name}.`);
    return { subject, sensitivity };
  });
  const answered = change(notebook, { message: 'sensitivity', timeMs: Date.now() }, (pen) => {
    for (const { subject, sensitivity } of given) pen.patch('subject', subject.id, { sensitivity });
  });
  await writeNotebook(path, answered);
  const document = {
    ...({ schema: 'tepal/record/1', exported: null, imported: null } as const),
    sensitivity: given.map(({ subject, sensitivity }) => ({ name: subject.scientificName, sensitivity })),
  };
  return { document, status: exitStatus.done };
}

async function sendings(options: Options): Promise<Answer> {
  const { notebook } = await readNotebook(options.notebook, { create: false });
  const log = [...list(notebook, 'sending')].sort((a, b) => (a.at < b.at ? -1 : 1));
  const document = {
    ...({ schema: 'tepal/record/1', exported: null, imported: null } as const),
    sendings: log,
  };
  return { document, status: exitStatus.done };
}

async function bytesOf(file: string): Promise<Buffer> {
  try {
    return await readFile(file);
  } catch (error) {
    throw new DeskFault(`${file} cannot be read: ${reasonOf(error)}.`, 3);
  }
}
