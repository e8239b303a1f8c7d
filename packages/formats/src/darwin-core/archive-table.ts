/** One table of an archive: its rows by term, as its descriptor says, with a report of what was not understood. */
import { refused, understood, type Result } from '../result.ts';
import { decodeText } from '../text.ts';
import { guessDelimiters, readDelimited } from './delimited.ts';
import type { DescribedTable } from './descriptor.ts';
import { darwinCoreTerm } from './terms.ts';

/** One row: the standard's term names, each with its text. Empty cells are not in it. */
export type DarwinCoreRow = Readonly<Record<string, string>>;

/** The files of an archive by name. */
export type ArchiveFiles = ReadonlyMap<string, Uint8Array>;

/** A row with the identifier that its table's descriptor points at; '' where it points at none. */
export interface IdentifiedRow {
  readonly id: string;
  readonly row: DarwinCoreRow;
}

/**
 * The rows of a table.
 *
 * @param notUnderstood added to, in sentences
 * @returns refused where a file is missing, or the descriptor names more columns than there are
 */
export function readTable(
  files: ArchiveFiles,
  table: DescribedTable,
  notUnderstood: string[],
): Result<readonly IdentifiedRow[]> {
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
function sameStem(files: ArchiveFiles, location: string, notUnderstood: string[]): Uint8Array | undefined {
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
export function rowOf(texts: readonly (readonly [string, string])[]): DarwinCoreRow {
  const row = new Map<string, string>();
  for (const [name, text] of texts) {
    if (text.trim() !== '' && !row.has(name)) row.set(name, text.trim());
  }
  return Object.fromEntries(row);
}

/** XML by the encoding that its first line declares. */
export function decodeXml(bytes: Uint8Array): string {
  const start = decodeText(bytes.subarray(0, 200), 'windows-1252');
  return decodeText(bytes, /^<\?xml[^>]*encoding=["']([\w-]+)["']/.exec(start)?.[1]);
}
