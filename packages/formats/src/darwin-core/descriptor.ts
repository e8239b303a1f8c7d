/**
 * The descriptor of a Darwin Core archive, `meta.xml`: which files hold what, in which columns.
 *
 * @source TDWG, Darwin Core text guide (2023), sections 2 to 4
 */
import { refused, told, understood, type Result } from '../result.ts';
import { attributeOf, childOf, childrenOf, parseXml, textOf, type XmlElement } from '../xml.ts';

export interface DescribedField {
  /** The term's address as written. */
  readonly term: string;
  /** Column from 0; null where only a default is given. */
  readonly index: number | null;
  /** Stands in for an empty cell; null where there is none. */
  readonly fallback: string | null;
}

export interface DescribedTable {
  /** The last part of the row type's address: "Occurrence". */
  readonly rowType: string;
  readonly locations: readonly string[];
  readonly encoding: string;
  /** `cell` is null where the descriptor does not say: texts of the standard disagree on the default. */
  readonly delimiters: { readonly cell: string | null; readonly quote: string };
  readonly headerLines: number;
  /** Column of the row's identifier, or of the core row it belongs to; null where none is named. */
  readonly idIndex: number | null;
  readonly fields: readonly DescribedField[];
}

export interface ArchiveDescriptor {
  readonly core: DescribedTable;
  readonly extensions: readonly DescribedTable[];
  /** Name of the file with the data set's own description; null where none is named. */
  readonly metadata: string | null;
}

/** The descriptor in `meta.xml`; an extension that names no file is left out with a warning. */
export function readDescriptor(text: string): Result<ArchiveDescriptor> {
  const root = parseXml(text, 'meta.xml');
  if (!root.ok) return root;
  const coreElement = childOf(root.value, 'core');
  if (root.value.local !== 'archive' || coreElement === undefined) {
    const found = `"${root.value.local}"${coreElement === undefined ? ' without a core' : ''}`;
    return refused({ where: 'meta.xml', found, accepted: 'an "archive" with a "core"' });
  }
  const core = readTable(coreElement, 'id');
  if (!core.ok) return core;
  const warnings: string[] = [];
  const extensions = childrenOf(root.value, 'extension').flatMap((element) => {
    const table = readTable(element, 'coreid');
    if (table.ok) return [table.value];
    warnings.push(`${table.fault.message} The extension was left out.`);
    return [];
  });
  return understood(
    { core: core.value, extensions, metadata: attributeOf(root.value, 'metadata') ?? null },
    warnings,
  );
}

function readTable(element: XmlElement, idName: 'id' | 'coreid'): Result<DescribedTable> {
  const where = `meta.xml, ${element.local}`;
  const files = childOf(element, 'files');
  const locations = files ? childrenOf(files, 'location').map(textOf) : [];
  if (locations.length === 0 || locations.includes('')) {
    return refused({ where, found: 'no file', accepted: 'at least one location in "files"' });
  }
  const fields: DescribedField[] = [];
  for (const field of childrenOf(element, 'field')) {
    const term = attributeOf(field, 'term') ?? '';
    const written = attributeOf(field, 'index');
    const index = written === undefined ? null : columnOf(written);
    if (term === '' || (written !== undefined && index === null)) {
      const found = `a field with term ${told(term)} and index ${told(written)}`;
      return refused({ where, found, accepted: 'a term and a column number from 0' });
    }
    fields.push({ term, index, fallback: attributeOf(field, 'default') ?? null });
  }
  const id = childOf(element, idName);
  return understood({
    rowType: (attributeOf(element, 'rowType') ?? '').replace(/^.*[/#]/, ''),
    locations,
    encoding: attributeOf(element, 'encoding') ?? 'utf-8',
    delimiters: {
      cell: unescaped(attributeOf(element, 'fieldsTerminatedBy') ?? '') || null,
      quote: unescaped(attributeOf(element, 'fieldsEnclosedBy') ?? '"').slice(0, 1),
    },
    headerLines: columnOf(attributeOf(element, 'ignoreHeaderLines') ?? '0') ?? 0,
    idIndex: columnOf((id && attributeOf(id, 'index')) ?? ''),
    fields,
  });
}

function columnOf(text: string): number | null {
  return /^\d{1,4}$/.test(text.trim()) ? Number(text) : null;
}

const escapes: Readonly<Record<string, string>> = { t: '\t', n: '\n', r: '\r', '\\': '\\' };

function unescaped(text: string): string {
  return text.replace(/\\([tnr\\])/g, (whole, c: string) => escapes[c] ?? whole);
}
