/** What a wanted picture asks of an hour, in the order in which factors are weighed. */
import type { OpeningHabit } from '../hour/flower.ts';

/** How well each day of the year suits, told by the season of the subject at the place. */
export interface SeasonCurve {
  /** One entry a day of the year from 1 January on, 366 of them [0..1]. */
  readonly value: readonly number[];
  /** What the curve rests on, a sentence. */
  readonly basis: string;
}

/** What a wanted picture asks of the hour. */
export interface WantedHours {
  readonly id: string;
  readonly siteId: string | null;
  readonly light: 'soft' | 'any' | 'sun';
  readonly stillness: 'still' | 'stirring' | 'nodding';
  readonly drops: 'wanted' | 'none' | 'any';
  readonly insects: 'torpid' | 'basking' | 'any' | null;
  /** When its flower is open; null or left out where it is open always, or not known. */
  readonly opens?: OpeningHabit | 'any' | null;
  /** Its subject's season at the place; null or left out where not known: then the season is not weighed. */
  readonly season?: SeasonCurve | null;
}

/** The close-up that anybody is glad of: soft light on a plant that does no more than stir, in the dry. Ours. */
export const ANY_CLOSE_UP: WantedHours = {
  id: 'any close-up',
  siteId: null,
  light: 'soft',
  stillness: 'stirring',
  drops: 'any',
  insects: null,
};
