/** Wind at the plant in four words, as one sees it on the flower. */

export const windWords = ['still', 'stirring', 'nodding', 'tossing'] as const;
export type WindWord = (typeof windWords)[number];

/** Up to which mean wind at the plant each word but the last holds [m/s]; common practice, no source. */
const upTo: readonly number[] = [0.3, 1, 2.5];

/** The word for a wind at the plant [m/s]. */
export function windWord(speedMs: number): WindWord {
  const at = upTo.findIndex((limit) => speedMs <= limit);
  return windWords[at === -1 ? 3 : at] ?? 'tossing';
}

/** The wind that stands for each word when one is chosen by its word, and where its line is drawn [m/s]. */
export const windOfWord: Readonly<Record<WindWord, number>> = {
  still: 0.15,
  stirring: 0.6,
  nodding: 1.6,
  tossing: 3.4,
};
