/** The answer in one sentence, and what it is worth. */
import type { ExposeDocument } from '@tepal/formats';
import type { Support } from '@tepal/science';
import { counted } from '../words/amounts.ts';

export interface AnswerSentence {
  /** Before the count, the count itself (the recommendation), and after it. */
  readonly before: string;
  readonly count: string;
  readonly after: string;
  readonly odds: string;
  readonly basis: string;
}

const supportWords: Readonly<Record<Support, string>> = {
  tripod: 'from a tripod',
  beanbag: 'from a beanbag',
  elbows: 'from the elbows',
  kneeling: 'kneeling',
  standing: 'standing',
};

/**
 * @param advice the computed document
 * @param odds the chance of one frame in the trade's words: "about 1 in 4"
 * @param support what holds the camera
 */
export function answerSentence(advice: ExposeDocument, odds: string, support: Support): AnswerSentence {
  const { framesFor95, framesFor95Range, waitForLullS, basis } = advice.odds;
  const hands = basis === 'yours' ? 'your own frames' : 'typical hands';
  const held = `${hands}, ${supportWords[support]}`;
  const lulls = waitForLullS === null ? '' : ', in the lulls';
  const oddsSentence = `${odds.charAt(0).toUpperCase()}${odds.slice(1)} will be sharp.`;
  if (framesFor95 === null) {
    return {
      before: 'No number of frames makes sure of one.',
      count: '',
      after: '',
      odds: oddsSentence,
      basis: `${held}; what would change it stands below.`,
    };
  }
  const [low, high] = framesFor95Range;
  const range =
    low === null ? '' : high === null ? `${low} or many more` : low === high ? '' : `${low} to ${high}`;
  return {
    before: 'Take ',
    count: String(framesFor95),
    after: `${lulls}.`,
    odds: oddsSentence,
    basis: [range, held].filter(Boolean).join('; '),
  };
}

/** "3 frames, 4.1 mm apart, in about 0.4 s": what a focus series would take. */
export function seriesWords(series: NonNullable<ExposeDocument['focusSeries']>): string {
  const step = Number(series.stepMm.toPrecision(2));
  const duration = Number(series.durationS.toPrecision(2));
  return `One frame cannot hold the whole depth. A focus series would: ${counted(series.frames, 'frame')}, ${step} mm apart, in about ${duration} s.`;
}
