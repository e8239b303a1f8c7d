/** Lulls in a sentence. */
import type { WhenHour } from '@tepal/formats';
import { oneDecimal, percent } from '../../words/amounts.ts';

/** A time of waiting or lasting, no finer than it is worth: "about 20 s", "about 3 min", "longer than an hour". */
function lastingWords(seconds: number): string {
  if (seconds < 1.5) return 'a second';
  if (seconds < 90) return `about ${seconds < 10 ? Math.round(seconds) : Math.round(seconds / 5) * 5} s`;
  return seconds < 3600 ? `about ${Math.round(seconds / 60)} min` : 'longer than an hour';
}

/**
 * @param lull below its speed for so long, so often; its numbers null where not known
 * @returns "Below 0.2 m/s 60 % of the time: lulls of about 10 s, about 3 s to wait for one."
 */
export function lullWords({ belowMs, shareOfTime, meanLengthS, expectedWaitS }: WhenHour['lull']): string {
  if (belowMs === null || shareOfTime === null) return 'How long the lulls are is not known.';
  const speed = `${oneDecimal(belowMs)} m/s`;
  if (shareOfTime > 0.985) return `Hardly a moment above ${speed}: nothing to wait for.`;
  if (shareOfTime < 0.005) return `Hardly a moment below ${speed}.`;
  const length = meanLengthS === null ? '' : `: lulls of ${lastingWords(meanLengthS)}`;
  const wait =
    expectedWaitS === null
      ? ''
      : expectedWaitS < 1
        ? ', hardly a wait for one'
        : `, ${lastingWords(expectedWaitS)} to wait for one`;
  return `Below ${speed} ${percent(shareOfTime)} of the time${length}${wait}.`;
}
