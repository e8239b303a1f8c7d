/**
 * A checklist: the names of a country's or a group's taxa, as Darwin Core archive (core Taxon) or as one table.
 *
 * @source Darwin Core, class Taxon; GBIF's extension for vernacular names
 */
import { refused, understood, type Result } from '../result.ts';
import { readZip } from '../zip.ts';
import { decodeXml, readTable, type DarwinCoreRow, type IdentifiedRow } from './archive-table.ts';
import { readDescriptor } from './descriptor.ts';
import { readOccurrencesCsv } from './read-archive.ts';

/** One name of a checklist. */
export interface ChecklistName {
  /** Without its authorship. */
  readonly scientificName: string;
  readonly authorship: string | null;
  /** The name that stands for it now; null where this one does. */
  readonly acceptedName: string | null;
  readonly rank: string | null;
  readonly family: string | null;
  /** By language tag; `und` where the list does not say. */
  readonly commonNames: Readonly<Record<string, readonly string[]>>;
}

export interface Checklist {
  readonly names: readonly ChecklistName[];
  /** What was not understood, each in a sentence. */
  readonly notUnderstood: readonly string[];
}

/** A checklist from its bytes: a zipped archive, or a table with a header of Darwin Core terms. */
export function readChecklist(bytes: Uint8Array): Result<Checklist> {
  return bytes[0] === 0x50 && bytes[1] === 0x4b ? fromArchive(bytes) : fromTable(bytes);
}

function fromTable(bytes: Uint8Array): Result<Checklist> {
  const read = readOccurrencesCsv(bytes);
  if (!read.ok) return read;
  const rows = read.value.occurrences.map((row) => ({ id: row['taxonID'] ?? '', row }));
  return checklistOf(rows, new Map(), read.value.notUnderstood);
}

function fromArchive(bytes: Uint8Array): Result<Checklist> {
  const zip = readZip(bytes);
  if (!zip.ok) return zip;
  const meta = zip.value.get('meta.xml');
  if (meta === undefined) {
    const [only, ...others] = [...zip.value].filter(([name]) => !name.toLowerCase().endsWith('.xml'));
    if (only !== undefined && others.length === 0) return fromTable(only[1]);
    return refused({ where: 'archive', found: 'no meta.xml', accepted: 'a meta.xml, or one table' });
  }
  const described = readDescriptor(decodeXml(meta));
  if (!described.ok) return described;
  const { core, extensions } = described.value;
  if (core.rowType !== 'Taxon') {
    return refused({ where: 'meta.xml', found: `a core of ${core.rowType}`, accepted: 'a core of Taxon' });
  }
  const notUnderstood: string[] = [...described.warnings];
  const rows = readTable(zip.value, core, notUnderstood);
  if (!rows.ok) return rows;
  const common = new Map<string, DarwinCoreRow[]>();
  for (const extension of extensions) {
    if (extension.rowType !== 'VernacularName') {
      notUnderstood.push(`${extension.locations.join(', ')}: ${extension.rowType} was not read.`);
      continue;
    }
    const found = readTable(zip.value, extension, notUnderstood);
    if (!found.ok) notUnderstood.push(found.fault.message);
    else for (const { id, row } of found.value) common.set(id, [...(common.get(id) ?? []), row]);
  }
  return checklistOf(rows.value, common, notUnderstood);
}

function checklistOf(
  rows: readonly IdentifiedRow[],
  common: ReadonlyMap<string, readonly DarwinCoreRow[]>,
  before: readonly string[],
): Result<Checklist> {
  const notUnderstood = [...before];
  const nameOf = (row: DarwinCoreRow): string =>
    withoutAuthorship(row['scientificName'] ?? '', row['scientificNameAuthorship'] ?? '');
  const byId = new Map(rows.map(({ id, row }) => [id || (row['taxonID'] ?? ''), nameOf(row)]));
  let nameless = 0;
  let lost = 0;
  const names = rows.flatMap(({ id, row }): ChecklistName[] => {
    const scientificName = nameOf(row);
    if (scientificName === '') {
      nameless += 1;
      return [];
    }
    const acceptedId = row['acceptedNameUsageID'] ?? '';
    const acceptedById = acceptedId === '' ? undefined : byId.get(acceptedId);
    const accepted = acceptedById ?? row['acceptedNameUsage'] ?? '';
    const synonym = /synonym|misapplied|unaccepted/i.test(row['taxonomicStatus'] ?? '');
    if (synonym && accepted === '') lost += 1;
    const acceptedName =
      accepted === '' || accepted === scientificName ? null : withoutAuthorship(accepted, '');
    return [
      {
        scientificName,
        authorship: row['scientificNameAuthorship'] ?? null,
        acceptedName,
        rank: row['taxonRank'] ?? null,
        family: row['family'] ?? null,
        commonNames: commonNamesOf([row, ...(common.get(id) ?? [])]),
      },
    ];
  });
  if (nameless > 0) notUnderstood.push(`${nameless} rows have no scientificName.`);
  if (lost > 0)
    notUnderstood.push(`${lost} synonyms do not say of which name; they count as names of their own.`);
  if (names.length === 0) {
    return refused({ where: 'checklist', found: 'no names', accepted: 'rows with a scientificName' });
  }
  return understood({ names, notUnderstood });
}

function commonNamesOf(rows: readonly DarwinCoreRow[]): Record<string, string[]> {
  const found: Record<string, string[]> = {};
  for (const row of rows) {
    const language = (row['language'] ?? 'und').trim().toLowerCase() || 'und';
    for (const name of (row['vernacularName'] ?? '').split('|').map((part) => part.trim())) {
      if (name !== '' && !(found[language] ??= []).includes(name)) found[language].push(name);
    }
  }
  return found;
}

/** "Knautia arvensis (L.) Coult." with its authorship given becomes "Knautia arvensis". */
function withoutAuthorship(name: string, authorship: string): string {
  const plain = name.replace(/\s+/g, ' ').trim();
  if (authorship !== '' && plain.endsWith(authorship)) return plain.slice(0, -authorship.length).trim();
  return plain;
}
