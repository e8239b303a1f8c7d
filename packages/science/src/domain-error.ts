/** What pure code says to a caller who passes a number outside the domain, and the guards that say it. */

/** Machine-readable kinds of a caller's mistake. */
export type DomainErrorCode = 'outOfRange' | 'notFinite' | 'notInteger' | 'notOneOf' | 'wrongOrder' | 'empty';

/**
 * A caller's mistake in pure code: a value outside the domain of a function. The message is one sentence,
 * "expected ⟨what, unit, range⟩ for ⟨name⟩ but received ⟨value⟩".
 */
export class DomainError extends Error {
  override readonly name = 'DomainError';
  readonly code: DomainErrorCode;

  constructor(code: DomainErrorCode, expected: string, name: string, received: unknown) {
    super(`expected ${expected} for ${name} but received ${shown(received)}`);
    this.code = code;
  }
}

/** What a number is allowed to be. Bounds are inclusive unless said. */
export interface Range {
  /** What the number is, with its article: "a latitude", "a wind speed". "a number" unless said. */
  readonly what?: string;
  /** Unit in words: "degrees", "m/s". Left out for pure numbers. */
  readonly unit?: string;
  readonly min?: number;
  readonly max?: number;
  readonly minExclusive?: boolean;
  readonly maxExclusive?: boolean;
}

/**
 * Passes a number that lies in a range, and refuses every other value. Written positively, so that NaN fails;
 * infinities fail too.
 *
 * @returns the value
 * @throws DomainError `notFinite` or `outOfRange`
 */
export function requireInRange(name: string, value: number, range: Range): number {
  if (!Number.isFinite(value)) throw new DomainError('notFinite', described(range), name, value);
  const { min = -Infinity, max = Infinity } = range;
  const aboveMin = range.minExclusive === true ? value > min : value >= min;
  const belowMax = range.maxExclusive === true ? value < max : value <= max;
  if (aboveMin && belowMax) return value;
  throw new DomainError('outOfRange', described(range), name, value);
}

/** Passes a finite number. @throws DomainError `notFinite` */
export function requireFinite(name: string, value: number, unit?: string): number {
  return requireInRange(name, value, unit === undefined ? {} : { unit });
}

/** Passes a finite number above 0. @throws DomainError */
export function requirePositive(name: string, value: number, unit?: string): number {
  return requireInRange(name, value, { min: 0, minExclusive: true, ...(unit === undefined ? {} : { unit }) });
}

/** Passes a finite number of at least 0. @throws DomainError */
export function requireNotNegative(name: string, value: number, unit?: string): number {
  return requireInRange(name, value, { min: 0, ...(unit === undefined ? {} : { unit }) });
}

/** Passes a share from 0 to 1. @throws DomainError */
export function requireShare(name: string, value: number): number {
  return requireInRange(name, value, { what: 'a share', min: 0, max: 1 });
}

/** Passes a whole number in a range. @throws DomainError `notFinite`, `notInteger` or `outOfRange` */
export function requireInteger(name: string, value: number, range: Range = {}): number {
  const whole: Range = { ...range, what: range.what ?? 'a whole number' };
  requireInRange(name, value, whole);
  if (Number.isInteger(value)) return value;
  throw new DomainError('notInteger', described(whole), name, value);
}

/** Passes one of the named words. @throws DomainError `notOneOf` */
export function requireOneOf<T extends string>(name: string, value: string, words: readonly T[]): T {
  const found = words.find((word) => word === value);
  if (found !== undefined) return found;
  throw new DomainError('notOneOf', `one of ${words.join(', ')}`, name, value);
}

function described(range: Range): string {
  const { what = 'a number', unit, min, max } = range;
  const inUnit = unit === undefined ? what : `${what} in ${unit}`;
  const lower = range.minExclusive === true ? 'above' : 'of at least';
  const upper = range.maxExclusive === true ? 'below' : 'of at most';
  if (min !== undefined && max !== undefined) {
    return range.minExclusive === true || range.maxExclusive === true
      ? `${inUnit} ${lower} ${min} and ${upper} ${max}`
      : `${inUnit} from ${min} to ${max}`;
  }
  if (min !== undefined) return `${inUnit} ${lower} ${min}`;
  if (max !== undefined) return `${inUnit} ${upper} ${max}`;
  return `${inUnit}, finite`;
}

function shown(value: unknown): string {
  return typeof value === 'string' ? `"${value}"` : String(value);
}
