/** The hours to go, of all that suit. */
import { rankAcrossSites, type FoundMiss, type FoundWindow } from '@tepal/advice';
import type { DaysAnswer, WhenDocument, WhenWindow } from '@tepal/formats';

export interface BestWindow {
  readonly window: WhenWindow;
  readonly siteName: string;
  readonly when: WhenDocument;
  /** Every picture that exactly these hours suit, the window's own among them. */
  readonly together: readonly WhenWindow[];
}

/** A document of an older writer leaves out what stands beside the contract's keys. */
const whole = (window: WhenWindow): FoundWindow => ({
  lull: null,
  part: null,
  leadH: null,
  hints: [],
  best: window.from,
  weakest: '',
  ...(window as Partial<FoundWindow> & WhenWindow),
});

/** @returns the window that the Days page names first, in the order of `rankAcrossSites`; null without one */
export function bestWindow(days: DaysAnswer['days']): BestWindow | null {
  const misses: readonly FoundMiss[] = [];
  const { windows } = rankAcrossSites(days.map(({ when }) => ({ windows: when.windows.map(whole), misses })));
  const first = windows[0];
  const day = days.find(({ when }) =>
    when.windows.some(
      ({ site, from, wanted }) => site === first?.site && from === first.from && wanted === first.wanted,
    ),
  );
  const window = day?.when.windows.find(
    ({ from, wanted }) => from === first?.from && wanted === first.wanted,
  );
  if (day === undefined || window === undefined) return null;
  const together = day.when.windows.filter(({ from, to }) => from === window.from && to === window.to);
  return { window, siteName: day.siteName, when: day.when, together };
}
