/** Parts of days past the third, put together over the wanted pictures. */
import type { OutlookPart, PartWord } from '@tepal/advice';

const order: Readonly<Record<PartWord, number>> = { good: 0, fair: 1, poor: 2 };

export const inOrderOfWord = (a: { readonly word: PartWord }, b: { readonly word: PartWord }): number =>
  order[a.word] - order[b.word];

/** What a part of a day is good for: its best word, and the pictures that it holds for; null where nothing is told. */
export function bestOfPart(
  parts: readonly OutlookPart[],
  part: OutlookPart['part'],
): { readonly word: PartWord; readonly best: readonly OutlookPart[] } | null {
  const those = parts.filter((one) => one.part === part);
  const word = those.toSorted(inOrderOfWord)[0]?.word;
  return word === undefined ? null : { word, best: those.filter((one) => one.word === word) };
}
