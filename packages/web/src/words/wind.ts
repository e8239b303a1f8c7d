/** Wind at the plant in four words, as one sees it on the flower; their bounds stand in the science. */
import { plantMotionBoundsMs, plantMotionWords } from '@tepal/science';

export const windWords = plantMotionWords;
export type WindWord = (typeof plantMotionWords)[number];

const { still, stirring, nodding } = plantMotionBoundsMs;

/** The wind that stands for each word when it is chosen by its word [m/s]: the middle of its range, or well past it. */
export const windOfWord: Readonly<Record<WindWord, number>> = {
  still: still / 2,
  stirring: (still + stirring) / 2,
  nodding: (stirring + nodding) / 2,
  tossing: 2 * nodding,
};
