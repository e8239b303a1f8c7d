/** Where a command's words go: one document or a table on standard output, everything else on standard error. */

export interface Outlet {
  readonly out: (text: string) => void;
  readonly err: (text: string) => void;
  /** Whether somebody watches standard error, so that progress is worth telling. */
  readonly isTerminal: boolean;
  /** Unix time [ms]. */
  readonly nowMs: () => number;
}

/** Prints the answer of a command: its document as JSON, exactly one, or the same in words. */
export function answer(outlet: Outlet, json: boolean, document: unknown, inWords: () => string): void {
  outlet.out(json ? `${JSON.stringify(document)}\n` : `${inWords()}\n`);
}

/** Tells progress on one line that is written over, when somebody watches. */
export function progressLine(outlet: Outlet): { tell(text: string): void; end(): void } {
  let width = 0;
  const write = (text: string) => {
    if (!outlet.isTerminal) return;
    outlet.err(`\r${text.padEnd(width)}`);
    width = text.length;
  };
  return {
    tell: write,
    end: () => {
      if (width === 0) return;
      write('');
      outlet.err('\r');
      width = 0;
    },
  };
}

/** Rows of cells as a table with columns aligned; numbers to the right. */
export function table(head: readonly string[], rows: readonly (readonly string[])[]): string {
  const all = [head, ...rows];
  const widths = head.map((_, i) => Math.max(...all.map((row) => (row[i] ?? '').length)));
  const isNumber = head.map(
    (_, i) => rows.length > 0 && rows.every((row) => /^[-–\d.]*$/.test(row[i] ?? '')),
  );
  const line = (row: readonly string[]) =>
    row
      .map((cell, i) => (isNumber[i] === true ? cell.padStart(widths[i] ?? 0) : cell.padEnd(widths[i] ?? 0)))
      .join('  ')
      .trimEnd();
  return all.map(line).join('\n');
}
