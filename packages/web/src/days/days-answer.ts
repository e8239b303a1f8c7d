/** The first sentence of the page: when to go. */
import type { DaysAnswer, WhenWindow } from '@tepal/formats';
import { clockWords, weekdayWord } from '../words/clock.ts';
import { bestWindow } from './best-window.ts';
import { offsetOf } from './day-split.ts';

export interface AnswerWords {
  /** What stands before the hours, the hours themselves (the recommendation), and what stands after them. */
  readonly before: string;
  readonly hours: string;
  readonly after: string;
  /** One sentence on what it rests on. */
  readonly because: string;
}

const stop = (words: string) => (/[.!?]$/.test(words) ? words : `${words}.`);

/**
 * @param days the days of every site that has a forecast
 * @param nameOf what a wanted picture is called
 * @param clockMin the clock of the place where the photographs tell it [min east of UTC]
 * @returns the best window in words; without one, what is missing; null when there is nothing to speak of
 */
export function answerFrom(
  days: DaysAnswer['days'],
  nameOf: (wantedId: string) => string,
  clockMin: number | null = null,
): AnswerWords | null {
  const best = bestWindow(days);
  if (best !== null) {
    const offsetMin = clockMin ?? offsetOf(best.when);
    const names = best.together.map(({ wanted }) => nameOf(wanted));
    const [fromMs, toMs] = [Date.parse(best.window.from), Date.parse(best.window.to)];
    return {
      before: `${weekdayWord(fromMs, offsetMin)}, `,
      hours: `from ${clockWords(fromMs, offsetMin)} to ${clockWords(toMs, offsetMin)}`,
      after: `, at ${best.siteName}.`,
      because: `${names.join(', and ')}. ${weakestWords(best.window)}`,
    };
  }
  const miss = days.flatMap(({ siteName, when }) => when.misses.map((one) => ({ one, siteName })))[0];
  if (miss !== undefined) {
    return {
      before: 'No hour suits a wanted picture yet.',
      hours: '',
      after: '',
      because: stop(
        `The nearest is ${nameOf(miss.one.wanted)} at ${miss.siteName}, missed by ${miss.one.failing}. ${miss.one.why}`,
      ),
    };
  }
  const first = days[0];
  if (first === undefined) return null;
  return {
    before: `The hours at ${days.length === 1 ? first.siteName : 'your places'}.`,
    hours: '',
    after: '',
    because: 'Note a wanted picture, and the hours that suit it are framed here with the reason.',
  };
}

function weakestWords(window: WhenWindow): string {
  const weakest = window.factors.toSorted((a, b) => a.value - b.value)[0];
  if (weakest === undefined) return '';
  if (weakest.value === 1) {
    const still = window.factors.find(({ name }) => name === 'stillness');
    return ['Nothing they need is missing.', still?.why ?? ''].join(' ').trim();
  }
  return stop(`The weakest point is ${weakest.name}. ${weakest.why}`);
}
