/**
 * Darwin Core out: `meta.xml`, `occurrence.txt` and `eml.xml` in one zip. The rows are written as they are: whoever
 * makes them has already decided what of a place may leave.
 *
 * @source TDWG, Darwin Core text guide (2023); EML 2.2.0
 */
import { strToU8, zipSync, type Zippable } from 'fflate';
import { escapeXml } from '../xml.ts';
import type { DarwinCoreRow } from './archive-table.ts';
import { darwinCoreAddress, darwinCoreTerms } from './terms.ts';

/** What the archive says of itself as a data set. */
export interface DatasetDescription {
  /** An identifier of this data set, the same at each export. */
  readonly packageId: string;
  readonly title: string;
  readonly creatorName: string;
  /** Day of the export, ISO 8601: "2026-06-01". */
  readonly publishedOn: string;
  /** Language of the texts, ISO 639: "en". */
  readonly language: string;
  readonly abstract: string;
  /** The licence of the records in a sentence, or its address. */
  readonly rights: string;
}

export interface WrittenArchive {
  readonly bytes: Uint8Array<ArrayBuffer>;
  /** Columns that are no terms of the standard and therefore not in the archive. */
  readonly leftOut: readonly string[];
}

/** One date for every entry, so that the same records give the same bytes. */
const ENTRY_DATE = '1980-06-01T00:00:00';

/**
 * A Darwin Core archive. Tabs and line ends inside a text become a space, since many readers of archives split at
 * them whatever the quotes; columns stand in the standard's order, `occurrenceID` first.
 *
 * @param occurrences rows by the standard's term names, each with an `occurrenceID`
 */
export function writeArchive(
  occurrences: readonly DarwinCoreRow[],
  dataset: DatasetDescription,
): WrittenArchive {
  const used = new Set(occurrences.flatMap((row) => Object.keys(row)));
  used.add('occurrenceID');
  const terms = ['occurrenceID', ...darwinCoreTerms.filter((t) => used.has(t) && t !== 'occurrenceID')];
  const lines = [
    terms,
    ...occurrences.map((row) => terms.map((term) => (Object.hasOwn(row, term) ? row[term] : '') ?? '')),
  ];
  const table = lines.map((cells) => `${cells.map(oneLine).join('\t')}\n`).join('');
  const files: Zippable = {
    'meta.xml': strToU8(descriptorOf(terms)),
    'occurrence.txt': strToU8(table),
    'eml.xml': strToU8(emlOf(dataset)),
  };
  return {
    bytes: new Uint8Array(zipSync(files, { mtime: ENTRY_DATE })),
    leftOut: [...used].filter((name) => !terms.includes(name)),
  };
}

function oneLine(text: string): string {
  return text.replace(/[\t\r\n\u0085\u2028\u2029]+/g, ' ');
}

function descriptorOf(terms: readonly string[]): string {
  const fields = terms
    .map((term, i) => `    <field index="${i}" term="${darwinCoreAddress(term)}"/>\n`)
    .join('');
  return (
    '<?xml version="1.0" encoding="UTF-8"?>\n' +
    '<archive xmlns="http://rs.tdwg.org/dwc/text/" metadata="eml.xml">\n' +
    '  <core encoding="UTF-8" fieldsTerminatedBy="\\t" linesTerminatedBy="\\n" fieldsEnclosedBy=""' +
    ' ignoreHeaderLines="1" rowType="http://rs.tdwg.org/dwc/terms/Occurrence">\n' +
    '    <files><location>occurrence.txt</location></files>\n' +
    `    <id index="0"/>\n${fields}  </core>\n</archive>\n`
  );
}

function emlOf(dataset: DatasetDescription): string {
  const agent = `<individualName><surName>${escapeXml(dataset.creatorName)}</surName></individualName>`;
  return (
    '<?xml version="1.0" encoding="UTF-8"?>\n' +
    '<eml:eml xmlns:eml="https://eml.ecoinformatics.org/eml-2.2.0"' +
    ' xmlns:xsi="http://www.w3.org/2001/XMLSchema-instance"' +
    ' xsi:schemaLocation="https://eml.ecoinformatics.org/eml-2.2.0 https://eml.ecoinformatics.org/eml-2.2.0/eml.xsd"' +
    ` packageId="${escapeXml(dataset.packageId)}" system="Tepal" scope="system">\n` +
    '  <dataset>\n' +
    `    <title>${escapeXml(dataset.title)}</title>\n` +
    `    <creator>${agent}</creator>\n` +
    `    <pubDate>${escapeXml(dataset.publishedOn)}</pubDate>\n` +
    `    <language>${escapeXml(dataset.language)}</language>\n` +
    `    <abstract><para>${escapeXml(dataset.abstract)}</para></abstract>\n` +
    `    <intellectualRights><para>${escapeXml(dataset.rights)}</para></intellectualRights>\n` +
    `    <contact>${agent}</contact>\n` +
    '  </dataset>\n</eml:eml>\n'
  );
}
