/** The kinds of field that kept things are made of. Each says in its message what it accepts, unit and range. */
import { parseInstantMs } from '@tepal/formats';
import * as v from 'valibot';

/**
 * The type that a schema describes, read-only, without the index signature of `looseObject`: a kept thing may carry
 * fields of a newer version, but code relies on the known ones only.
 */
export type Kept<T> = T extends readonly unknown[]
  ? { readonly [I in keyof T]: Kept<T[I]> }
  : T extends object
    ? string extends keyof T
      ? KeptObject<T>
      : { readonly [K in keyof T]: Kept<T[K]> }
    : T;

type KnownKeys<T> = keyof { [K in keyof T as string extends K ? never : K]: T[K] };

// A looseObject has known keys beside its index signature; a map by language has the index signature only.
type KeptObject<T> = [KnownKeys<T>] extends [never]
  ? { readonly [key: string]: Kept<T[keyof T]> }
  : { readonly [K in keyof T as string extends K ? never : K]: Kept<T[K]> };

/** An identifier: given once by the device that made the thing, never changed, never shown. */
export const id = v.pipe(
  v.string('an identifier of 1 to 100 letters, digits, - or _'),
  v.regex(/^[A-Za-z0-9_-]{1,100}$/, 'an identifier of 1 to 100 letters, digits, - or _'),
);

/** A text that may be empty; where two devices write in the same one, both texts are kept in it. */
export const prose = v.string('a text');

/** A text of at least one character that is no space, up to 500. */
export const name = v.pipe(
  v.string('a text of 1 to 500 characters'),
  v.regex(/\S/, 'a text that is not blank'),
  v.maxLength(500, 'a text of at most 500 characters'),
);

/** A finite number in a closed range, told with its unit. */
export function within(lowest: number, highest: number, unit: string) {
  const what = `a number from ${lowest} to ${highest} ${unit}`.trimEnd();
  return v.pipe(v.number(what), v.finite(what), v.minValue(lowest, what), v.maxValue(highest, what));
}

/** A finite number above zero, told with its unit. */
export function above0(highest: number, unit: string) {
  const what = `a number above 0, up to ${highest} ${unit}`.trimEnd();
  return v.pipe(v.number(what), v.finite(what), v.gtValue(0, what), v.maxValue(highest, what));
}

/** A whole number in a closed range. */
export function whole(lowest: number, highest: number) {
  const what = `a whole number from ${lowest} to ${highest}`;
  return v.pipe(v.number(what), v.integer(what), v.minValue(lowest, what), v.maxValue(highest, what));
}

/** One of a few words. */
export function oneOf<const Words extends readonly string[]>(words: Words) {
  return v.picklist(words, `one of ${words.join(', ')}`);
}

const INSTANT = 'an ISO 8601 time with an offset, as 2026-06-14T05:40:00+02:00';

/** A moment: ISO 8601 with an offset or Z. The offset is kept, since it says what the clock on the wall showed. */
export const instant = v.pipe(
  v.string(INSTANT),
  v.check((text) => parseInstantMs(text) !== null, INSTANT),
);

const LANGUAGE = 'a language tag, as en, nb or pt-BR';

/** A language: BCP 47 tag. */
export const language = v.pipe(v.string(LANGUAGE), v.regex(/^[A-Za-z]{2,3}(-[A-Za-z0-9]{2,8})*$/, LANGUAGE));

const HASH = 'a SHA-256 hash in 64 hexadecimal digits';

/** What a file is known by, whatever it is called and wherever it lies: SHA-256 of its bytes. */
export const fileHash = v.pipe(v.string(HASH), v.regex(/^[0-9a-f]{64}$/, HASH));
