/** The views by which a plant can be named afterwards, and those that an outing did not bring home. */

/** What a series shows of its plant. Common practice, no source: what those who name plants from pictures ask for. */
export const IDENTIFICATION_VIEWS = [
  'whole plant',
  'flower from the front',
  'flower from the side',
  'leaf',
  'stem base',
  'habitat',
] as const;

export type IdentificationView = (typeof IDENTIFICATION_VIEWS)[number];

/** A named series and what it shows. */
export interface NamedSeries {
  readonly name: string;
  readonly shows: IdentificationView | null;
}

/** The views of one plant that no series of that name shows. Names are the same whatever their capitals. */
export function missingViews(series: readonly NamedSeries[], name: string): readonly IdentificationView[] {
  const same = (other: string) => other.trim().toLowerCase() === name.trim().toLowerCase();
  const there = new Set(series.filter((one) => same(one.name)).map(({ shows }) => shows));
  return IDENTIFICATION_VIEWS.filter((view) => !there.has(view));
}
