import { cardSchema } from '@tepal/formats';
import * as v from 'valibot';
import { describe, expect, it } from 'vitest';
import { pocketCard } from './card.ts';
import { MEADOW_FLOWER } from './fixtures/meadow-flower.ts';

const { sensor, pixels, lens } = MEADOW_FLOWER;
const kit = { sensor, pixels, lens };

describe('the pocket card', () => {
  const card = pocketCard(kit);

  it('is a document of three magnifications by three airs', () => {
    expect(v.is(cardSchema, card)).toBe(true);
    expect(card.rows).toHaveLength(9);
    expect(card.rows.map(({ magnification }) => magnification)).toEqual([
      0.1,
      0.1,
      0.1,
      1 / 3,
      1 / 3,
      1 / 3,
      1,
      1,
      1,
    ]);
  });

  it('windier rows are no slower, and life size takes more frames than a tenth of it', () => {
    for (let i = 0; i < 9; i += 3) {
      const [still, stirring, nodding] = card.rows.slice(i, i + 3);
      expect(stirring!.exposureTimeNominalS).toBeLessThanOrEqual(still!.exposureTimeNominalS);
      expect(nodding!.exposureTimeNominalS).toBeLessThanOrEqual(stirring!.exposureTimeNominalS);
    }
    expect(card.rows[6]!.framesFor95!).toBeGreaterThan(card.rows[0]!.framesFor95!);
  });

  it('knows the kit: own magnifications, a rest, more light', () => {
    const own = pocketCard({ ...kit, magnifications: [0.5], support: 'tripod', ev100: 14 });
    expect(own.rows).toHaveLength(3);
    expect(own.support).toBe('tripod');
    expect(own.rows[0]!.sharp).toBeGreaterThan(0.9);
  });
});
