/** Words set under their hours so that none covers another. */

export interface Label {
  /** Where it would like to begin [px]. */
  readonly x: number;
  /** How wide it is [px]. */
  readonly width: number;
}

export interface Placed {
  readonly x: number;
  /** 0 is the first lane. */
  readonly lane: number;
}

/**
 * Places labels from left to right, each at its hour or as near after the one before as it must, in the first lane
 * where that is not too far.
 *
 * @param labels in any order
 * @param area.from left end [px]
 * @param area.to right end [px]
 * @param area.gap smallest distance between two [px]
 * @param area.drift farthest a label may be moved from its hour before it takes another lane [px]
 * @returns a place for each label, in the order given
 */
export function placeLabels(
  labels: readonly Label[],
  area: { readonly from: number; readonly to: number; readonly gap: number; readonly drift: number },
): readonly Placed[] {
  const ends: number[] = [];
  const placed = new Map<number, Placed>();
  const order = labels.map((label, index) => ({ ...label, index })).toSorted((a, b) => a.x - b.x);
  for (const { x, width, index } of order) {
    const wanted = Math.max(area.from, Math.min(x, area.to - width));
    let lane = 0;
    for (; ; lane++) {
      const free = (ends[lane] ?? Number.NEGATIVE_INFINITY) + area.gap;
      const start = Math.max(wanted, free);
      const fits = start + width <= area.to || start === area.from;
      if (fits && start - wanted <= area.drift) {
        placed.set(index, { x: start, lane });
        ends[lane] = start + width;
        break;
      }
    }
  }
  return labels.map((_, index) => placed.get(index) ?? { x: area.from, lane: 0 });
}
