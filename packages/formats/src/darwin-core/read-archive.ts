/** Darwin Core in: an archive or a single table, as rows by term, with a report of all that was not understood. */
import { refused, understood, type Result } from '../result.ts';
import { decodeText, kindOfBytes } from '../text.ts';
import { readZip } from '../zip.ts';
import { guessDelimiters, readDelimited } from './delimited.ts';
import { readDescriptor, type ArchiveDescriptor, type DescribedTable } from './descriptor.ts';
import { darwinCoreTerm } from './terms.ts';

/** One occurrence: the standard's term names, each with its text. Empty cells are not in it. */
export type DarwinCoreRow = Readonly<Record<string, string>>;

export interface OccurrencesRead {
  readonly occurrences: readonly DarwinCoreRow[];
  /** The description of the data set (EML), as it was; null where the archive holds none. */
  readonly eml: string | null;
  /** Columns, files and rows that were not understood, each in a sentence. */
  readonly notUnderstood: readonly string[];
}

type Files = ReadonlyMap<string, Uint8Array>;

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
  const columns = (header ?? []).map((name) => ({ name, term: darwinCoreTerm(name) }));
  if (!columns.some((column) => column.term !== null)) {
    const found = `columns ${
      columns
        .slice(0, 4)
        .map((c) => c.name.slice(0, 20))
        .join(', ') || 'none'
    }`;
    return refused({ where: 'table', found, accepted: 'columns named by Darwin Core terms' });
  }
  const notUnderstood = columns
    .filter((column) => column.term === null)
    .map(
      (column) => `column ${column.name}: not a term of Darwin Core; its texts were kept under that name.`,
    );
  const uneven = rows.filter((row) => row.length !== columns.length).length;
  if (uneven > 0) notUnderstood.push(`${uneven} rows have more or fewer cells than the header.`);
  const occurrences = rows.map((row) =>
    rowOf(columns.map(({ name, term }, i) => [term ?? name, row[i] ?? ''] as const)),
  );
  return understood({ occurrences, eml: null, notUnderstood });
}

/** Without a descriptor an archive holds one table, and perhaps EML. */
function readBare(files: Files): Result<OccurrencesRead> {
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
  files: Files,
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

function readTable(
  files: Files,
  table: DescribedTable,
  notUnderstood: string[],
): Result<readonly { readonly id: string; readonly row: DarwinCoreRow }[]> {
  const columns = table.fields.map((field) => {
    const term = darwinCoreTerm(field.term);
    if (term === null) {
      notUnderstood.push(`${field.term}: not a term of Darwin Core; its texts were kept under its own name.`);
    }
    return { ...field, name: term ?? field.term.replace(/^.*[/#]/, '') };
  });
  const needed = 1 + Math.max(-1, table.idIndex ?? -1, ...columns.map((column) => column.index ?? -1));
  const rows: { id: string; row: DarwinCoreRow }[] = [];
  for (const location of table.locations) {
    const bytes = files.get(location) ?? sameStem(files, location, notUnderstood);
    if (bytes === undefined) {
      const there = [...files.keys()].slice(0, 6).join(', ');
      return refused({
        where: `meta.xml, ${location}`,
        found: `only ${there}`,
        accepted: 'a file of that name',
      });
    }
    const text = decodeText(bytes, table.encoding);
    const { quote, cell } = table.delimiters;
    const lines = readDelimited(text, { quote, cell: suited(text, cell) });
    const body = lines.slice(table.headerLines);
    // One row may be cut short; when none has the columns, it is the descriptor that is wrong.
    const most = body.reduce((cells, line) => Math.max(cells, line.length), body.length > 0 ? 0 : needed);
    if (most < needed) {
      const found = `${most} columns`;
      return refused({ where: location, found, accepted: `the ${needed} columns that meta.xml names` });
    }
    const short = body.filter((line) => line.length < needed).length;
    if (short > 0) notUnderstood.push(`${location}: ${short} rows have fewer cells than meta.xml names.`);
    const named = namedByHeader(lines, table, columns, location, notUnderstood) ?? columns;
    for (const line of body) {
      const texts = named.map(
        (c) => [c.name, (c.index === null ? '' : line[c.index]) || (c.fallback ?? '')] as const,
      );
      rows.push({ id: table.idIndex === null ? '' : (line[table.idIndex] ?? ''), row: rowOf(texts) });
    }
  }
  return understood(rows);
}

interface Column {
  readonly name: string;
  readonly index: number | null;
  readonly fallback: string | null;
}

/**
 * The columns by the table's own header, where that contradicts the descriptor: a descriptor shifted by one column
 * would else put every text under a wrong name. Null where the two agree, or the header names no terms.
 */
function namedByHeader(
  lines: readonly (readonly string[])[],
  table: DescribedTable,
  columns: readonly Column[],
  location: string,
  notUnderstood: string[],
): readonly Column[] | null {
  const header = table.headerLines > 0 ? (lines[table.headerLines - 1] ?? []) : [];
  const terms = header.map(darwinCoreTerm);
  const wrong = columns.find(({ name, index }) => {
    const term = index === null ? null : (terms[index] ?? null);
    return term !== null && term !== name && darwinCoreTerm(name) !== null;
  });
  if (wrong === undefined || wrong.index === null) return null;
  notUnderstood.push(
    `${location}: column ${wrong.index + 1} is "${header[wrong.index] ?? ''}" by its header and "${wrong.name}" by ` +
      'meta.xml; the columns were read by the header.',
  );
  const byHeader = header.map((name, index) => ({ name: terms[index] ?? name, index, fallback: null }));
  return [...byHeader, ...columns.filter((column) => column.index === null)];
}

/** Descriptors are often written for .txt where the files came as .csv. */
function sameStem(files: Files, location: string, notUnderstood: string[]): Uint8Array | undefined {
  const stem = (name: string) => name.replace(/\.[^.]*$/, '').toLowerCase();
  const alike = [...files.keys()].filter((name) => stem(name) === stem(location));
  const [only] = alike;
  if (alike.length !== 1 || only === undefined) return undefined;
  notUnderstood.push(`${location}: named in meta.xml, but not in the archive; ${only} was taken for it.`);
  return files.get(only);
}

/** The separator that is named, unless the text has none of it. */
function suited(text: string, named: string | null): string {
  return named !== null && text.includes(named) ? named : guessDelimiters(text).cell;
}

/** Empty cells are left out; where two columns have one name the first that says something counts. */
function rowOf(texts: readonly (readonly [string, string])[]): DarwinCoreRow {
  const row = new Map<string, string>();
  for (const [name, text] of texts) {
    if (text.trim() !== '' && !row.has(name)) row.set(name, text.trim());
  }
  return Object.fromEntries(row);
}

function emlOf(files: Files, named: string | null): string | null {
  const usual = [...files.keys()].find((name) => name.toLowerCase() === 'eml.xml');
  const bytes = files.get(named ?? '') ?? files.get(usual ?? '');
  return bytes === undefined ? null : decodeXml(bytes);
}

/** XML by the encoding that its first line declares. */
function decodeXml(bytes: Uint8Array): string {
  const start = decodeText(bytes.subarray(0, 200), 'windows-1252');
  return decodeText(bytes, /^<\?xml[^>]*encoding=["']([\w-]+)["']/.exec(start)?.[1]);
}
