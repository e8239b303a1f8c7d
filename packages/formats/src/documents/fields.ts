/** The kinds of field that the contract's documents are made of. */
import * as v from 'valibot';

/**
 * The type that a schema describes, without the index signature of `looseObject`: documents may hold further keys,
 * but code can rely only on the known ones. Read-only throughout, so that any value can be handed in.
 */
export type Known<T> = T extends readonly unknown[]
  ? { readonly [I in keyof T]: Known<T[I]> }
  : T extends object
    ? { readonly [K in keyof T as string extends K ? never : K]: Known<T[K]> }
    : T;

/** A finite number. */
export const number = v.pipe(v.number(), v.finite());

/** A share or probability, 0 to 1. */
export const share = v.pipe(v.number(), v.minValue(0), v.maxValue(1));

/** A whole number from 0. */
export const count = v.pipe(v.number(), v.integer(), v.minValue(0));

const ISO = /^[+-]?\d{4,6}-\d{2}-\d{2}T\d{2}:\d{2}(:\d{2}(\.\d+)?)?/;

/** A moment, ISO 8601 with an offset or Z. */
export const instant = v.pipe(
  v.string(),
  v.regex(new RegExp(`${ISO.source}(Z|[+-]\\d{2}:?\\d{2})$`), 'an ISO 8601 time with an offset'),
);

/** A time as a camera wrote it, ISO 8601: with an offset where the camera gave one, else its local time without. */
export const cameraTime = v.pipe(
  v.string(),
  v.regex(new RegExp(`${ISO.source}(Z|[+-]\\d{2}:?\\d{2})?$`), 'an ISO 8601 time'),
);

/** One input of a sum or product, with what it rests on. */
export const sourcedFactor = v.looseObject({ name: v.string(), value: number, source: v.string() });

/** One judged factor, 0 (rules it out) to 1 (just right), and why. */
export const judgedFactor = v.looseObject({ name: v.string(), value: share, why: v.string() });

/** An input that could not be used, and the reason in words. */
export const failedFile = v.looseObject({ file: v.string(), reason: v.string() });

export type FailedFile = Known<v.InferOutput<typeof failedFile>>;
