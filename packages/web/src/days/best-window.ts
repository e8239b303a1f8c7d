/** The hours to go, of all that suit. */
import type { DaysAnswer, WhenDocument, WhenWindow } from '@tepal/formats';

export interface BestWindow {
  readonly window: WhenWindow;
  readonly siteName: string;
  readonly when: WhenDocument;
  /** Every picture that exactly these hours suit, the window's own among them. */
  readonly together: readonly WhenWindow[];
}

const sameHours = (a: WhenWindow, b: WhenWindow) => a.from === b.from && a.to === b.to;

const overlap = (a: WhenWindow, b: WhenWindow) =>
  Date.parse(a.from) < Date.parse(b.to) && Date.parse(b.from) < Date.parse(a.to);
const lengthMs = ({ from, to }: WhenWindow) => Date.parse(to) - Date.parse(from);

/**
 * @returns the window of the best suitability; of equals the one during which most other pictures are suited too, then
 *   the longest, then the earliest
 */
export function bestWindow(days: DaysAnswer['days']): BestWindow | null {
  const windows = days.flatMap(({ siteName, when }) =>
    when.windows.map((window) => ({
      window,
      siteName,
      when,
      together: when.windows.filter((other) => sameHours(window, other)),
    })),
  );
  const others = ({ window, when }: BestWindow) =>
    when.windows.filter((other) => overlap(window, other)).length;
  const order = (a: BestWindow, b: BestWindow) =>
    b.window.suitability - a.window.suitability ||
    others(b) - others(a) ||
    lengthMs(b.window) - lengthMs(a.window) ||
    (a.window.from < b.window.from ? -1 : 1);
  return windows.toSorted(order)[0] ?? null;
}
