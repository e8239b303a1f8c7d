import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { ratingStep, USUAL_RATINGS as ratings } from './ratings.ts';

const ask = (
  decision: 'keep' | 'maybe' | 'out' | null,
  there: number | null,
  writtenByUs: number | null = null,
) => ratingStep({ decision, there, writtenByUs, ratings, changeOthers: false });

describe('the rating of a decision', () => {
  it.each([
    ['a new decision on an unrated picture', ask('keep', null), { kind: 'write', rating: 3 }],
    ['a picture that the camera marked as not rated', ask('out', 0), { kind: 'write', rating: -1 }],
    ['the same rating already there', ask('keep', 3), { kind: 'nothing' }],
    ['a rating of somebody else', ask('out', 5), { kind: 'otherRating', there: 5, wanted: -1 }],
    ['a changed mind', ask('maybe', 3, 3), { kind: 'write', rating: 1 }],
    ['a decision taken back', ask(null, 3, 3), { kind: 'remove' }],
    ['no decision, a rating of somebody else', ask(null, 4), { kind: 'nothing' }],
    ['our rating changed elsewhere since', ask('out', 5, 3), { kind: 'otherRating', there: 5, wanted: -1 }],
  ])('%s', (_what, step, expected) => expect(step).toEqual(expected));

  it('never changes a rating of somebody else unasked, and always when asked', () => {
    const rating = fc.integer({ min: 1, max: 5 });
    const decision = fc.constantFrom('keep', 'maybe', 'out');
    fc.assert(
      fc.property(decision, rating, fc.option(rating), (decided, there, writtenByUs) => {
        fc.pre(there !== writtenByUs && there !== ratings[decided]);
        const rated = { decision: decided, there, writtenByUs, ratings };
        expect(ratingStep({ ...rated, changeOthers: false }).kind).toBe('otherRating');
        expect(ratingStep({ ...rated, changeOthers: true })).toEqual({
          kind: 'write',
          rating: ratings[decided],
        });
      }),
      { seed: 20261125 },
    );
  });
});
