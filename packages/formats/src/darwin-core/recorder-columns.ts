/** Tables as recorders keep them: their usual column names, and what each is in Darwin Core. Common practice, no source. */

import { writeCsv } from './delimited.ts';

const NAMES: Readonly<Record<string, readonly string[]>> = {
  scientificName: ['species', 'taxon', 'taxon name', 'latin name', 'scientific name', 'species name'],
  vernacularName: ['common name', 'vernacular', 'english name'],
  verbatimCoordinates: ['grid reference', 'grid ref', 'gridref', 'gr', 'ngr', 'os grid reference'],
  decimalLatitude: ['latitude', 'lat'],
  decimalLongitude: ['longitude', 'lon', 'long', 'lng'],
  coordinateUncertaintyInMeters: ['uncertainty (m)', 'accuracy (m)', 'precision (m)'],
  eventDate: ['date', 'date of record', 'record date', 'obs date'],
  recordedBy: ['recorder', 'recorders', 'recorder name', 'observer', 'seen by'],
  identifiedBy: ['determiner', 'determined by', 'det', 'det.', 'identifier'],
  individualCount: ['quantity', 'count', 'number', 'how many', 'abundance'],
  lifeStage: ['life stage', 'stage'],
  identificationQualifier: ['certainty', 'qualifier'],
  associatedTaxa: ['associated species', 'with'],
  occurrenceRemarks: ['comment', 'comments', 'remarks', 'notes', 'record comment'],
  higherGeography: ['region', 'county', 'vice county', 'vc'],
  locality: ['location', 'site', 'site name', 'location name'],
  occurrenceID: ['record id', 'record key', 'id'],
  dataGeneralizations: ['place generalised'],
  informationWithheld: ['withheld'],
};

const BY_NAME = new Map(
  Object.entries(NAMES).flatMap(([term, names]) => names.map((name) => [name, term] as const)),
);

/** The term of Darwin Core that a recorder's column means; null where it is not one of the usual ones. */
export function recorderColumnTerm(name: string): string | null {
  return (
    BY_NAME.get(
      name
        .trim()
        .toLowerCase()
        .replace(/[\s_]+/g, ' '),
    ) ?? null
  );
}

/** Columns of the table that is written, in this order. */
export const RECORDER_COLUMNS = [
  'Species',
  'Common name',
  'Grid reference',
  'Latitude',
  'Longitude',
  'Uncertainty (m)',
  'Region',
  'Date',
  'Recorder',
  'Determiner',
  'Quantity',
  'Life stage',
  'Certainty',
  'Associated species',
  'Comment',
  'Place generalised',
  'Withheld',
  'Record ID',
] as const;

export type RecorderRow = Readonly<Record<(typeof RECORDER_COLUMNS)[number], string>>;

/**
 * A recorders' table as CSV: UTF-8 with its mark, so that spreadsheets read accents right.
 */
export function writeRecorderTable(rows: readonly RecorderRow[]): string {
  return `\uFEFF${writeCsv([RECORDER_COLUMNS, ...rows.map((row) => RECORDER_COLUMNS.map((column) => row[column]))])}`;
}

/** A date as recorders write it, day first, as ISO 8601; the text itself where it is none of these. */
export function isoDateOf(text: string): string {
  const found = /^(\d{1,2})[/.](\d{1,2})[/.](\d{4})$/.exec(text.trim());
  if (found === null) return text.trim();
  const [, day = '', month = '', year = ''] = found;
  // A month above 12 is a month-first date, which cannot be told from day-first below 13: it stays as it was written.
  if (Number(month) > 12 || Number(day) > 31 || Number(month) < 1 || Number(day) < 1) return text.trim();
  return `${year}-${month.padStart(2, '0')}-${day.padStart(2, '0')}`;
}
