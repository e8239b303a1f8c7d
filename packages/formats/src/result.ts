/**
 * What reading a file, a document or an answer gives: the value with what was doubtful about it, or the fault in
 * words. The outside world's faults are values that the caller must look at, never exceptions.
 */

/** A fault of the outside world, told so that the reader knows what to change. */
export interface FormatFault {
  /** The field, row or part where it was found: "properties.meta.units.wind_speed". */
  readonly where: string;
  /** What stood there: "furlong". */
  readonly found: string;
  /** What would be accepted there: "m/s, km/h or knots". */
  readonly accepted: string;
  /** The three as one sentence. */
  readonly message: string;
}

export type Result<T> =
  | { readonly ok: true; readonly value: T; readonly warnings: readonly string[] }
  | { readonly ok: false; readonly fault: FormatFault };

/** A value that was understood, with what was doubtful about it. */
export function understood<T>(value: T, warnings: readonly string[] = []): Result<T> {
  return { ok: true, value, warnings };
}

/** A fault as the failing side of a Result. */
export function refused(fault: { where: string; found: string; accepted: string }): {
  readonly ok: false;
  readonly fault: FormatFault;
} {
  return { ok: false, fault: formatFault(fault) };
}

/** A fault with its sentence made from its parts. */
export function formatFault(fault: { where: string; found: string; accepted: string }): FormatFault {
  const { where, found, accepted } = fault;
  return { where, found, accepted, message: `${where}: found ${found}, but expected ${accepted}.` };
}

/** A found value as it may stand in a sentence: quoted, on one line, cut to 60 characters. */
export function told(value: unknown): string {
  if (value === undefined) return 'nothing';
  if (value === null) return 'null';
  if (typeof value === 'number' || typeof value === 'boolean' || typeof value === 'bigint') {
    return String(value);
  }
  if (Array.isArray(value)) return `a list of ${value.length}`;
  if (typeof value === 'string') {
    const line = [...value].map((c) => (c < ' ' || c === '\u007f' ? ' ' : c));
    return `"${line.slice(0, 60).join('')}${line.length > 60 ? '…' : ''}"`;
  }
  return typeof value === 'object' ? 'an object' : `a ${typeof value}`;
}
