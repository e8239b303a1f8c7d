/** Darwin Core in: an archive or a single table, as rows by term, with a report of all that was not understood. */
import { refused, understood, type Result } from '../result.ts';
import { decodeText, kindOfBytes } from '../text.ts';
import { readZip } from '../zip.ts';
import { decodeXml, readTable, rowOf, type ArchiveFiles, type DarwinCoreRow } from './archive-table.ts';
import { guessDelimiters, readDelimited } from './delimited.ts';
import { isoDateOf, recorderColumnTerm } from './recorder-columns.ts';
import { readDescriptor, type ArchiveDescriptor } from './descriptor.ts';
import { darwinCoreTerm } from './terms.ts';

export interface OccurrencesRead {
  readonly occurrences: readonly DarwinCoreRow[];
  /** The description of the data set (EML), as it was; null where the archive holds none. */
  readonly eml: string | null;
  /** Columns, files and rows that were not understood, each in a sentence. */
  readonly notUnderstood: readonly string[];
}

const OCCURRENCES = 'an archive with occurrences';

/**
 * The occurrences of a zipped Darwin Core archive, also one without a descriptor that holds a single table. Where the
 * core is events, each occurrence takes the terms of its event that it does not state itself.
 *
 * @returns refused, with a sentence, when the archive or its descriptor cannot be followed
 */
export function readArchive(bytes: Uint8Array): Result<OccurrencesRead> {
  const zip = readZip(bytes);
  if (!zip.ok) return zip;
  const files = zip.value;
  const descriptor = files.get('meta.xml');
  if (descriptor === undefined) return readBare(files);
  const described = readDescriptor(decodeXml(descriptor));
  if (!described.ok) return described;
  return readDescribed(files, described.value, [...described.warnings]);
}

/** The occurrences of one table with a line of column names, separated by tabs, commas or semicolons. */
export function readOccurrencesCsv(input: Uint8Array | string): Result<OccurrencesRead> {
  if (typeof input !== 'string' && kindOfBytes(input) !== 'a text') {
    return refused({ where: 'table', found: kindOfBytes(input), accepted: 'a text with columns' });
  }
  const text = (typeof input === 'string' ? input : decodeText(input)).replace(/^\uFEFF/, '');
  const [header, ...rows] = readDelimited(text, guessDelimiters(text));
  const columns = (header ?? []).map((name) => ({
    name,
    term: darwinCoreTerm(name) ?? recorderColumnTerm(name),
  }));
  if (!columns.some((column) => column.term !== null)) {
    const found = `columns ${
      columns
        .slice(0, 4)
        .map((c) => c.name.slice(0, 20))
        .join(', ') || 'none'
    }`;
    return refused({
      where: 'table',
      found,
      accepted: 'columns named by Darwin Core terms, or as recorders usually name them',
    });
  }
  const notUnderstood = columns
    .filter((column) => column.term === null)
    .map(
      (column) => `column ${column.name}: not a term of Darwin Core; its texts were kept under that name.`,
    );
  const uneven = rows.filter((row) => row.length !== columns.length).length;
  if (uneven > 0) notUnderstood.push(`${uneven} rows have more or fewer cells than the header.`);
  const occurrences = rows.map((row) =>
    withIsoDate(rowOf(columns.map(({ name, term }, i) => [term ?? name, row[i] ?? ''] as const))),
  );
  return understood({ occurrences, eml: null, notUnderstood });
}

function withIsoDate(row: DarwinCoreRow): DarwinCoreRow {
  const written = row['eventDate'];
  return written === undefined ? row : { ...row, eventDate: isoDateOf(written) };
}

/** Without a descriptor an archive holds one table, and perhaps EML. */
function readBare(files: ArchiveFiles): Result<OccurrencesRead> {
  const tables = [...files.keys()].filter((name) => name.toLowerCase() !== 'eml.xml');
  const [name] = tables;
  const table = name === undefined ? undefined : files.get(name);
  if (tables.length !== 1 || table === undefined) {
    const found =
      tables.length === 0 ? 'no table' : `${tables.length} files (${tables.slice(0, 4).join(', ')})`;
    return refused({
      where: 'archive',
      found: `${found} and no meta.xml`,
      accepted: 'one table, or a meta.xml',
    });
  }
  const read = readOccurrencesCsv(table);
  return read.ok ? understood({ ...read.value, eml: emlOf(files, null) }) : read;
}

function readDescribed(
  files: ArchiveFiles,
  descriptor: ArchiveDescriptor,
  notUnderstood: string[],
): Result<OccurrencesRead> {
  const { core, extensions, metadata } = descriptor;
  const inCore = core.rowType === 'Occurrence';
  const table = inCore ? core : extensions.find((extension) => extension.rowType === 'Occurrence');
  if (table === undefined) {
    return refused({ where: 'meta.xml', found: `a core of ${core.rowType}`, accepted: OCCURRENCES });
  }
  const rows = readTable(files, table, notUnderstood);
  if (!rows.ok) return rows;
  for (const left of extensions.filter((extension) => extension !== table)) {
    notUnderstood.push(`${left.locations.join(', ')}: an extension of ${left.rowType}; it was not read.`);
  }
  if (metadata !== null && !files.has(metadata)) {
    notUnderstood.push(`${metadata}: named in meta.xml, but not in the archive.`);
  }
  const eml = emlOf(files, metadata);
  if (inCore) {
    const occurrences = rows.value.map(({ id, row }) => (id === '' ? row : { occurrenceID: id, ...row }));
    return understood({ occurrences, eml, notUnderstood });
  }
  const cores = readTable(files, core, notUnderstood);
  if (!cores.ok) return cores;
  const byId = new Map(cores.value.map(({ id, row }) => [id, row]));
  const orphans = rows.value.filter(({ id }) => !byId.has(id)).length;
  if (orphans > 0) notUnderstood.push(`${orphans} occurrences name a core row that is not there.`);
  return understood({
    occurrences: rows.value.map(({ id, row }) => ({ ...byId.get(id), ...row })),
    eml,
    notUnderstood,
  });
}

function emlOf(files: ArchiveFiles, named: string | null): string | null {
  const usual = [...files.keys()].find((name) => name.toLowerCase() === 'eml.xml');
  const bytes = files.get(named ?? '') ?? files.get(usual ?? '');
  return bytes === undefined ? null : decodeXml(bytes);
}
