/** What `tepal record` did, for reading. */
import type { RecordDocument } from '@tepal/formats';
import { table } from './print.ts';

export function readableRecord(document: RecordDocument): string {
  const { exported, imported, names, sensitivity, sendings } = document;
  if (exported !== null) {
    const { output, occurrences, withheld, toAsk, to, exactPlaces } = exported;
    return [
      `${output}: ${occurrences} records.`,
      ...(to === undefined
        ? []
        : [`For ${to} alone, ${exactPlaces ?? 0} with their exact place; written into the log.`]),
      ...withheld.map((line) => `Left out: ${line}`),
      ...(toAsk ?? []).map(
        (name) => `How sensitive is ${name}? Until you say it counts as medium: --sensitivity "${name}=low".`,
      ),
    ].join('\n');
  }
  if (imported !== null) {
    return [
      `${imported.file}: ${imported.occurrences} records read.`,
      ...imported.notUnderstood.map((line) => `Not understood: ${line}`),
    ].join('\n');
  }
  if (names !== undefined) {
    const rows = names.matched.map(({ written, records, kind, subject, mayBe }) => [
      written,
      String(records),
      subject ?? (mayBe.length > 0 ? `perhaps ${mayBe.join(', or ')}` : 'unknown'),
      kind,
    ]);
    return [
      `${names.file}: ${names.checklistNames} names.`,
      rows.length === 0 ? 'No record has a free name.' : table(['as written', 'records', 'is', 'how'], rows),
      ...names.notUnderstood.map((line) => `Not understood: ${line}`),
    ].join('\n');
  }
  if (sensitivity !== undefined)
    return sensitivity.map((one) => `${one.name}: ${one.sensitivity}`).join('\n');
  if (sendings === undefined || sendings.length === 0) return 'Nothing was ever sent confidentially.';
  const rows = sendings.map(({ at, to, what, file, places }) => [at, to, what, file, String(places)]);
  return table(['when', 'to', 'what', 'file', 'exact places'], rows);
}
