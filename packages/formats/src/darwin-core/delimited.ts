/** Delimited text: rows of cells, quoted or not. */

export interface Delimiters {
  readonly cell: string;
  /** '' where nothing is quoted. */
  readonly quote: string;
}

/**
 * The rows of a delimited text. Lines end with LF, CR LF or CR; a quote inside quotes is doubled; empty lines are left
 * out. A quote that never closes runs to the end.
 */
export function readDelimited(text: string, { cell, quote }: Delimiters): string[][] {
  const rows: string[][] = [];
  let row: string[] = [];
  let value = '';
  let quoted = false;
  let touched = false;
  const endCell = () => {
    row.push(value);
    value = '';
  };
  const endRow = () => {
    if (touched) {
      endCell();
      rows.push(row);
    }
    row = [];
    value = '';
    touched = false;
  };
  for (let i = text.startsWith('\uFEFF') ? 1 : 0; i < text.length; i += 1) {
    const c = text[i] ?? '';
    if (quoted) {
      if (c !== quote) value += c;
      else if (text[i + 1] === quote) {
        value += c;
        i += 1;
      } else quoted = false;
    } else if (quote !== '' && c === quote && value === '') {
      quoted = true;
      touched = true;
    } else if (c === '\n' || c === '\r') {
      endRow();
    } else if (text.startsWith(cell, i)) {
      endCell();
      touched = true;
      i += cell.length - 1;
    } else {
      value += c;
      touched = true;
    }
  }
  endRow();
  return rows;
}

/** The cell delimiter that the header line uses most: tab, comma or semicolon. */
export function guessDelimiters(text: string): Delimiters {
  const header = /^[^\r\n]*/.exec(text)?.[0] ?? '';
  const count = (c: string) => header.split(c).length - 1;
  const cell = ['\t', ',', ';'].reduce((best, c) => (count(c) > count(best) ? c : best));
  return { cell, quote: '"' };
}

/**
 * Rows as CSV: cells quoted where they must be, lines ended with CR LF.
 *
 * @source RFC 4180
 */
export function writeCsv(rows: readonly (readonly string[])[]): string {
  const quoted = (text: string): string =>
    /[",\r\n]|^\s|\s$/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
  return rows.map((cells) => `${cells.map(quoted).join(',')}\r\n`).join('');
}
