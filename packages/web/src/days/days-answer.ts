/** The first sentence of the page: when to go. */
import type { FoundWindow } from '@tepal/advice';
import type { Overview, PlacedMiss, PlacedWindow, SiteSummary } from './compute/worker-messages.ts';
import { clockWords, dayWords, weekdayWord } from '../words/clock.ts';

export interface AnswerWords {
  /** What stands before the hours, the hours themselves (the recommendation), and what stands after them. */
  readonly before: string;
  readonly hours: string;
  readonly after: string;
  /** One sentence on what it rests on. */
  readonly because: string;
}

export const stopped = (words: string) => (words === '' || /[.!?]$/.test(words) ? words : `${words}.`);

/**
 * @param overview the answer across all sites
 * @param nameOf what a wanted picture is called
 * @param clockMin the clock of the place where the photographs tell it [min east of UTC]
 * @returns the best window in words; without one, what is missing; with no wanted picture, the next hours that suit
 *   any close-up; null when no site has a forecast
 */
export function answerFrom(
  overview: Overview,
  nameOf: (wantedId: string) => string,
  clockMin: number | null = null,
): AnswerWords | null {
  const best = overview.windows[0];
  if (best !== undefined) {
    const names = togetherWith(best, overview.windows).map(({ wanted }) => nameOf(wanted));
    return {
      ...spanWords(best, best.siteName, clockMin ?? best.offsetMin),
      because: `${listed(names)}. ${weakestWords(best)}`,
    };
  }
  const miss = nearestMiss(overview.misses);
  if (miss !== null) {
    return {
      before: 'No hour suits a wanted picture yet.',
      hours: '',
      after: '',
      because: stopped(
        `The nearest is ${nameOf(miss.wanted)} at ${miss.siteName}, missed by ${miss.failing}. ${miss.why}`,
      ),
    };
  }
  return anyCloseUp(overview.sites, clockMin);
}

/** Every picture that exactly these hours suit, the window's own first. */
export function togetherWith(best: PlacedWindow, windows: readonly PlacedWindow[]): readonly PlacedWindow[] {
  return windows.filter(({ site, from, to }) => site === best.site && from === best.from && to === best.to);
}

function spanWords(window: FoundWindow, siteName: string, offsetMin: number): Omit<AnswerWords, 'because'> {
  const fromMs = Date.parse(window.from);
  if (window.part !== null) {
    const { part, word } = window.part;
    return {
      before: `${dayWords(fromMs, offsetMin)}, `,
      hours: part === 'early' ? 'early' : `in the ${part}`,
      after: `, looks ${word} at ${siteName}.`,
    };
  }
  return {
    before: `${weekdayWord(fromMs, offsetMin)}, `,
    hours: `from ${clockWords(fromMs, offsetMin)} to ${clockWords(Date.parse(window.to), offsetMin)}`,
    after: `, at ${siteName}.`,
  };
}

const nearestMiss = (misses: readonly PlacedMiss[]): PlacedMiss | null =>
  misses.toSorted((a, b) => b.value - a.value)[0] ?? null;

/** With no picture in mind: the best stretch of soft light and still air that any site has next. */
function anyCloseUp(sites: readonly SiteSummary[], clockMin: number | null): AnswerWords | null {
  const known = sites.filter(({ forecast }) => forecast !== null);
  const first = known[0];
  if (first === undefined) return null;
  const found = known
    .flatMap(({ siteName, offsetMin, here }) =>
      here?.kind !== 'now'
        ? []
        : [...(here.closeUp === null ? [] : [here.closeUp]), ...here.windows].map((window) => ({
            window,
            siteName,
            offsetMin,
          })),
    )
    .toSorted(
      (a, b) => b.window.suitability - a.window.suitability || (a.window.from < b.window.from ? -1 : 1),
    )[0];
  const note = 'With no picture in mind. Note a wanted picture, and its own hours are framed here.';
  if (found === undefined) {
    const why = first.here?.kind === 'notCovered' ? `${first.here.why} ` : '';
    return {
      before: `No soft, still hours at ${known.length === 1 ? first.siteName : 'your places'} as far as the forecast goes.`,
      ...{ hours: '', after: '', because: `${why}${note}` },
    };
  }
  return {
    ...spanWords(found.window, found.siteName, clockMin ?? found.offsetMin),
    because: `${weakestWords(found.window)} ${note}`,
  };
}

/** The factor that decides, in a sentence; where nothing is missing, how still it is. */
export function weakestWords(window: FoundWindow): string {
  const weakest = window.factors.toSorted((a, b) => a.value - b.value)[0];
  if (weakest === undefined) return '';
  if (weakest.value === 1) {
    const still = window.factors.find(({ name }) => name === 'stillness');
    return ['Nothing is missing.', stopped(still?.why ?? '')].join(' ').trim();
  }
  return stopped(`The weakest point is ${weakest.name}. ${weakest.why}`);
}

/** "a", "a and b", "a, b and 3 more". */
export function listed(names: readonly string[]): string {
  const all = [...new Set(names)];
  if (all.length > 3) return `${all.slice(0, 2).join(', ')} and ${all.length - 2} more`;
  return all.length < 2 ? (all[0] ?? '') : `${all.slice(0, -1).join(', ')} and ${all.at(-1)}`;
}
