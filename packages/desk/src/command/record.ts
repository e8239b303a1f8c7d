/** `tepal record`: records out as a Darwin Core archive, and in from one. */
import {
  readArchive,
  readOccurrencesCsv,
  writeArchive,
  type OccurrencesRead,
  type RecordDocument,
  type Result,
} from '@tepal/formats';
import {
  change,
  find,
  fromOccurrence,
  list,
  noPlaceNoted,
  privatePlaceOfRecord,
  privateWords,
  release,
  toOccurrence,
  type Notebook,
} from '@tepal/notebook';
import { randomUUID } from 'node:crypto';
import { readFile } from 'node:fs/promises';
import { DeskFault, exitStatus, reasonOf } from '../files/faults.ts';
import { checkOutput, writeWhole } from '../files/write.ts';
import { openNotebookFile, openOrStartNotebook, saveNotebookFile } from '../notebook/notebook-file.ts';
import { answer, type Outlet } from './outlet.ts';
import type { Register } from './program.ts';

interface RecordOptions {
  readonly export?: string;
  readonly import?: string;
  readonly notebook?: string;
  readonly replace?: boolean;
  readonly json?: boolean;
}

export const registerRecord: Register = (program, outlet, end) => {
  program
    .command('record')
    .description('Darwin Core in and out; places released by rule')
    .option('--export <zip>', 'write the records of the notebook as a Darwin Core archive')
    .option('--import <file>', 'read a Darwin Core archive or a CSV of occurrences into the notebook')
    .requiredOption('--notebook <path>', "a notebook's file or folder")
    .option('--replace', 'replace an output that is there already')
    .option('--json', 'one JSON document')
    .action(async (options: RecordOptions) => {
      end(await record(options, outlet));
    });
};

async function record(options: RecordOptions, outlet: Outlet) {
  const path = options.notebook ?? '';
  if ((options.export === undefined) === (options.import === undefined)) {
    throw new DeskFault('Say one of the two: --export OUT.zip or --import FILE.');
  }
  if (options.export !== undefined) {
    const exported = await exportRecords(path, options.export, options.replace === true, outlet.nowMs());
    const document: RecordDocument = { schema: 'tepal/record/1', exported, imported: null };
    answer(outlet, options.json === true, document, () =>
      [`${exported.occurrences} records written to ${exported.output}.`, ...exported.withheld].join('\n'),
    );
    return exitStatus.done;
  }
  const imported = await importRecords(path, options.import ?? '', outlet.nowMs());
  const document: RecordDocument = { schema: 'tepal/record/1', exported: null, imported };
  answer(outlet, options.json === true, document, () =>
    [`${imported.occurrences} records read from ${imported.file}.`, ...imported.notUnderstood].join('\n'),
  );
  return imported.notUnderstood.length > 0 ? exitStatus.someFailed : exitStatus.done;
}

async function exportRecords(path: string, output: string, replace: boolean, nowMs: number) {
  await checkOutput(output, { replace });
  const { rows, withheld } = publicOccurrences(await openNotebookFile(path));
  const archive = writeArchive(rows, {
    packageId: `tepal-${new Date(nowMs).toISOString().slice(0, 10)}`,
    title: 'Occurrences photographed',
    creatorName: '',
    publishedOn: new Date(nowMs).toISOString().slice(0, 10),
    language: 'en',
    abstract:
      'Plants and insects photographed where they stood; places released by the rules of sensitive species.',
    rights: '',
  });
  await writeWhole(output, archive.bytes, { replace });
  return {
    output,
    occurrences: rows.length,
    withheld: [...withheld, ...archive.leftOut.map((c) => `column ${c}: no term of the standard`)],
  };
}

/** The notebook's records as anybody may see them; every place has gone through `release`. */
export function publicOccurrences(notebook: Notebook) {
  const secrets = privateWords(notebook);
  const withheld: string[] = [];
  const rows = list(notebook, 'record').map((kept) => {
    const subject = kept.subjectId === null ? null : find(notebook, 'subject', kept.subjectId);
    const site = siteOfRecord(notebook, kept);
    const place = privatePlaceOfRecord(kept, site);
    if (place === null) return toOccurrence(kept, subject, noPlaceNoted(), { secrets });
    const answered = release(place, {
      audience: 'public',
      wish: 'coarse',
      sensitivity: subject?.sensitivity ?? null,
    });
    if (!answered.ok) throw new DeskFault(answered.why);
    withheld.push(`${kept.id}: ${answered.place.rule}`);
    return toOccurrence(kept, subject, answered.place, { secrets });
  });
  return { rows, withheld };
}

function siteOfRecord(notebook: Notebook, kept: { siteId: string | null; outingId: string | null }) {
  const outing = kept.outingId === null ? null : find(notebook, 'outing', kept.outingId);
  const id = kept.siteId ?? outing?.siteId ?? null;
  return id === null ? null : find(notebook, 'site', id);
}

async function importRecords(path: string, file: string, nowMs: number) {
  const read = await occurrencesOf(file);
  if (!read.ok) throw new DeskFault(`${file} cannot be used: ${read.fault.message}`, 3);
  const notUnderstood: string[] = [...read.warnings, ...read.value.notUnderstood];
  const notebook = await openOrStartNotebook(path);
  let count = 0;
  const after = change(notebook, { message: `Records read from ${file}`, timeMs: nowMs }, (pen) => {
    for (const [index, row] of read.value.occurrences.entries()) {
      const understood = fromOccurrence(row, randomUUID());
      if (understood.ok) {
        pen.put('record', understood.record);
        notUnderstood.push(...understood.notUnderstood.map((what) => `row ${index + 1}: ${what}`));
        count += 1;
      } else notUnderstood.push(`row ${index + 1}: ${understood.why}`);
    }
  });
  await saveNotebookFile(path, after);
  return { file, occurrences: count, notUnderstood };
}

async function occurrencesOf(file: string): Promise<Result<OccurrencesRead>> {
  let bytes: Uint8Array;
  try {
    bytes = await readFile(file);
  } catch (error) {
    throw new DeskFault(`${file} cannot be read: ${reasonOf(error)}.`, 3);
  }
  return bytes[0] === 0x50 && bytes[1] === 0x4b ? readArchive(bytes) : readOccurrencesCsv(bytes);
}
