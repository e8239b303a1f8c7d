/** A delivery: a size and a caption that pictures go out with. */
import * as v from 'valibot';
import { above0, id, language, name, oneOf, prose, type Kept } from './fields.ts';

export const DELIVERY_USES = ['print', 'screen', 'archive'] as const;

/**
 * What a finished picture goes out as.
 *
 * - use: what it is for
 * - widthMm, heightMm: the longer and shorter side as seen [mm]; viewingDistanceMm: from eye to picture [mm]
 * - creator, rights, credit: the caption's defaults; rights as in "© 2026 …" or a licence's address
 * - captionLanguage: whose common names stand in captions; null for scientific names only
 */
export const deliverySchema = v.looseObject({
  id,
  name,
  use: oneOf(DELIVERY_USES),
  widthMm: v.nullable(above0(20_000, 'mm')),
  heightMm: v.nullable(above0(20_000, 'mm')),
  viewingDistanceMm: v.nullable(above0(100_000, 'mm')),
  creator: v.nullable(name),
  rights: v.nullable(name),
  credit: v.nullable(name),
  captionLanguage: v.nullable(language),
  notes: prose,
});

export type Delivery = Kept<v.InferOutput<typeof deliverySchema>>;
