/** `tepal/card/1`: the pocket card for one kit and one light. */
import * as v from 'valibot';
import { count, number, share, type Known } from './fields.ts';

/** One row: a magnification in an air, and what to set. `shutter` as a photographer writes it. */
export const cardRowSchema = v.looseObject({
  magnification: number,
  subjectDepthMm: number,
  air: v.picklist(['still', 'stirring', 'nodding']),
  windMs: number,
  fNumber: number,
  exposureTimeNominalS: number,
  shutter: v.string(),
  iso: number,
  sharp: share,
  framesFor95: v.nullable(count),
  framesFor95Range: v.tuple([v.nullable(count), v.nullable(count)]),
});

/** Rows by magnification, then by air from still to nodding; `rules` are the sentences under them. */
export const cardSchema = v.looseObject({
  schema: v.literal('tepal/card/1'),
  ev100: number,
  support: v.string(),
  basis: v.picklist(['typical', 'yours']),
  delivery: v.looseObject({ widthMm: number, heightMm: number, viewingDistanceMm: number }),
  cleanIso: number,
  ceilingIso: number,
  rows: v.array(cardRowSchema),
  rules: v.array(v.string()),
});

export type CardDocument = Known<v.InferOutput<typeof cardSchema>>;
