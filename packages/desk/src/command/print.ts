/** What a command prints: one JSON document, or a table for reading; progress only where somebody is watching. */

export interface Output {
  out(text: string): void;
  progress(text: string): void;
  /** Ends the line of progress. */
  endProgress(): void;
}

export const terminal: Output = {
  out: (text) => void process.stdout.write(text.endsWith('\n') ? text : `${text}\n`),
  progress(text) {
    if (process.stderr.isTTY) process.stderr.write(`\r\u001b[K${text.slice(0, 100)}`);
  },
  endProgress() {
    if (process.stderr.isTTY) process.stderr.write('\r\u001b[K');
  },
};

export function printJson(document: unknown): void {
  terminal.out(JSON.stringify(document, null, 2));
}

/** Columns as wide as their widest cell; numbers to the right. */
export function table(head: readonly string[], rows: readonly (readonly string[])[]): string {
  const all = [head, ...rows];
  const widths = head.map((_, i) => Math.max(...all.map((row) => [...(row[i] ?? '')].length)));
  const numeric = head.map(
    (_, i) => rows.length > 0 && rows.every((row) => /^[-–]?[\d.,/ ×%]*$/.test(row[i] ?? '')),
  );
  return all
    .map((row) =>
      row
        .map((cell, i) => {
          const pad = ' '.repeat(Math.max(0, (widths[i] ?? 0) - [...cell].length));
          return numeric[i] ? pad + cell : cell + pad;
        })
        .join('  ')
        .trimEnd(),
    )
    .join('\n');
}

/** A line of progress from what a long work tells. */
export function progressLine(): (progress: { done?: number; total?: number; saying?: string }) => void {
  let now = { done: 0, total: 0, saying: '' };
  return (progress) => {
    now = { ...now, ...progress };
    terminal.progress(now.total > 0 ? `${now.saying} ${now.done} of ${now.total}` : now.saying);
  };
}
