/** The tables of a backup: CSV with a header. */
import { readDelimited, writeCsv } from '@tepal/formats';

export function bytesOfText(text: string): Uint8Array {
  return new TextEncoder().encode(text);
}

export function writeTable(header: readonly string[], rows: readonly (readonly string[])[]): Uint8Array {
  return bytesOfText(writeCsv([header, ...rows]));
}

/** The rows of such a table by their header. */
export function readTable(text: string): readonly Readonly<Record<string, string>>[] {
  const [header = [], ...body] = readDelimited(text, { cell: ',', quote: '"' });
  return body.map((cells) => Object.fromEntries(header.map((name, i) => [name, cells[i] ?? ''])));
}
