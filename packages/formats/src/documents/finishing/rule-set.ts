/** `tepal/rule-set/1`: what a club, an exhibition or a library asks of a picture, as plain data that the user edits. */
import * as v from 'valibot';
import { count, number, type Known } from '../fields.ts';
import { DEEDS, type DeedKind } from './done.ts';
import type { Versions } from './versioned.ts';

const box = v.strictObject({ width: count, height: count });
const leave = v.picklist(['yes', 'declare', 'no']);

/**
 * Every rule may be left out; then it asks nothing.
 *
 * - `pixels.withinBox`: longest sides; `exactBox`: one side must reach it; `leastLongSidePx`: no smaller picture is taken
 * - `fileName.form`: made of {number}, {title}, {creator}, {scientificName}, {entry} and what stands between;
 *   `space` what stands for a space; `characters`: ascii letters, digits and _ - . only
 * - `whatMayBeDone`: yes, declare (say so in the list) or no, for each kind; `everythingElse` for those not named
 */
export const ruleSetSchema = v.strictObject({
  schema: v.literal('tepal/rule-set/1'),
  name: v.string(),
  pixels: v.exactOptional(
    v.strictObject({
      withinBox: v.exactOptional(box),
      exactBox: v.exactOptional(box),
      leastLongSidePx: v.exactOptional(count),
    }),
  ),
  format: v.exactOptional(v.picklist(['jpeg', 'tiff'])),
  colourSpace: v.exactOptional(v.picklist(['srgb', 'displayP3', 'adobeRgb'])),
  mostKilobytes: v.exactOptional(v.pipe(number, v.minValue(1))),
  leastJpegQuality: v.exactOptional(v.pipe(number, v.minValue(1), v.maxValue(100))),
  leastPpi: v.exactOptional(v.pipe(number, v.minValue(1))),
  fileName: v.exactOptional(
    v.strictObject({
      form: v.string(),
      space: v.exactOptional(v.string()),
      characters: v.exactOptional(v.picklist(['any', 'ascii'])),
      mostCharacters: v.exactOptional(count),
    }),
  ),
  title: v.exactOptional(
    v.strictObject({
      mostCharacters: v.exactOptional(count),
      scientificName: v.exactOptional(v.picklist(['required', 'allowed', 'forbidden'])),
    }),
  ),
  whatMayBeDone: v.exactOptional(
    v.strictObject(
      Object.fromEntries(DEEDS.map((deed) => [deed, v.exactOptional(leave)])) as Record<
        DeedKind,
        v.ExactOptionalSchema<typeof leave, undefined>
      >,
    ),
  ),
  everythingElse: v.exactOptional(leave),
  originalAsProof: v.exactOptional(v.boolean()),
});

export type RuleSetDocument = Known<v.InferOutput<typeof ruleSetSchema>>;

export const ruleSetVersions: Versions = { name: 'tepal/rule-set', current: 1, migrations: {} };
