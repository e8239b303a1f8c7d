/** The tables of a backup: CSV with a header, after RFC 4180. */

export function bytesOfText(text: string): Uint8Array {
  return new TextEncoder().encode(text);
}

export function writeTable(header: readonly string[], rows: readonly (readonly string[])[]): Uint8Array {
  const quoted = (text: string): string => (/[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text);
  return bytesOfText([header, ...rows].map((cells) => `${cells.map(quoted).join(',')}\r\n`).join(''));
}

/** The rows of such a table by their header. */
export function readTable(text: string): readonly Readonly<Record<string, string>>[] {
  const rows: string[][] = [];
  let row: string[] = [];
  let cell = '';
  let inside = false;
  for (let i = 0; i < text.length; i++) {
    const c = text[i]!;
    if (inside) {
      if (c !== '"') cell += c;
      else if (text[i + 1] === '"') {
        cell += c;
        i++;
      } else inside = false;
    } else if (c === '"') inside = true;
    else if (c === ',' || c === '\n') {
      row.push(cell);
      cell = '';
      if (c === '\n') {
        rows.push(row);
        row = [];
      }
    } else if (c !== '\r') cell += c;
  }
  const [header = [], ...body] = rows;
  return body.map((cells) => Object.fromEntries(header.map((name, i) => [name, cells[i] ?? ''])));
}
