/** Series as the photographer parted and joined them, laid over those that were found. */
import type { GroupedSeries } from './series.ts';

/**
 * Lays the photographer's own series over the found ones.
 *
 * Frames with one key are one series, wherever they were found. A frame without a key stays with the series it was
 * found in; where that was parted, it goes with the frame before it, for it was taken after that one.
 *
 * @param found series in order, each with its frames in the order taken
 * @param keyOf the photographer's series of a frame; null where none was said
 * @returns every frame once; a series stands where its first frame stood, and bears that frame's file as its id
 */
export function keepOwnSeries<Frame extends { readonly file: string }>(
  found: readonly GroupedSeries<Frame>[],
  keyOf: (frame: Frame) => string | null,
): readonly GroupedSeries<Frame>[] {
  const series = new Map<string, Frame[]>();
  found.forEach(({ frames }, i) => {
    const first = frames.map(keyOf).find((key) => key !== null) ?? null;
    let key = first === null ? `found ${String(i)}` : `own ${first}`;
    for (const frame of frames) {
      const own = keyOf(frame);
      if (own !== null) key = `own ${own}`;
      const members = series.get(key);
      if (members === undefined) series.set(key, [frame]);
      else members.push(frame);
    }
  });
  return [...series.values()].flatMap((frames) => {
    const [first] = frames;
    return first === undefined ? [] : [{ id: first.file, frames }];
  });
}
