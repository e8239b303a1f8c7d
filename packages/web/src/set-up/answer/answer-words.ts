/** The answer in one sentence, and what it is worth. */
import { oneIn } from '@tepal/advice';
import type { ExposeDocument } from '@tepal/formats';
import type { Support } from '@tepal/science';
import { counted, digits, percent } from '../../words/amounts.ts';

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

/** Whether one frame holds the depth, and if not whether a series beats the best single one. */
export function seriesSentences(series: ExposeDocument['focusSeries']): readonly string[] {
  if (series === null) return [];
  const { frames, stepMm, durationS, meanLullS, chanceWhole, worthIt } = series;
  const lulls =
    meanLullS === undefined || meanLullS === null ? '' : `, against lulls of about ${digits(meanLullS)} s`;
  const whole =
    chanceWhole === undefined ? '' : ` All of them would be still with a chance of ${percent(chanceWhole)}.`;
  const verdict =
    worthIt === undefined
      ? ''
      : worthIt
        ? ' A series is worth trying.'
        : ' The best single frame is the safer picture.';
  return [
    `One frame cannot hold the whole depth. A series would: ${counted(frames, 'frame')}, ${digits(stepMm)} mm apart, in about ${digits(durationS)} s${lulls}.${whole}${verdict}`,
  ];
}

/** When to wait for a lull, and when to release at the end of a swing. */
export function stillnessSentences({ lull, timing }: ExposeDocument): readonly string[] {
  const waiting =
    lull === null || lull === undefined
      ? []
      : [
          `Wait for the lull: it comes in about ${digits(lull.expectedWaitS)} s and lasts about ${digits(lull.meanLengthS)} s; ${oneIn(lull.sharp)} will be sharp in it.`,
        ];
  if (timing === null || timing === undefined) return waiting;
  const against =
    timing.secondsWaiting === null
      ? ''
      : timing.better === 'timing'
        ? ` That beats waiting: ${digits(timing.secondsTimed)} s to a sharp one against ${digits(timing.secondsWaiting)} s.`
        : ` Waiting is quicker: ${digits(timing.secondsWaiting)} s to a sharp one against ${digits(timing.secondsTimed)} s.`;
  return [
    ...waiting,
    `Or release at the end of a swing: ${oneIn(timing.sharp)}; the head stands for ${digits(timing.quietMomentS)} s.${against}`,
  ];
}

/** What reflector and diffuser do to the shaded side, under both skies. */
export function fillSentences(fill: NonNullable<ExposeDocument['fill']> | null): readonly string[] {
  const stops = (value: number) => `${digits(value)} stops`;
  const reflector = fill?.reflector ?? null;
  const diffuser = fill?.diffuser ?? null;
  return [
    ...(reflector === null
      ? []
      : [
          `The reflector lifts it by ${stops(reflector.clear.fillStops)} in sun, leaving ${stops(reflector.clear.ratioAfterStops)} between lit and shaded; by ${stops(reflector.overcast.fillStops)} under cloud.`,
        ]),
    ...(diffuser === null
      ? []
      : [
          `The diffuser leaves ${stops(diffuser.clear.ratioAfterStops)} instead of ${stops(diffuser.clear.ratioBeforeStops)} in sun and costs ${stops(diffuser.clear.lostStops)}; under cloud it costs ${stops(diffuser.overcast.lostStops)}.${diffuser.clear.covers ? '' : ' Its shade does not cover the whole subject.'}`,
        ]),
  ];
}

/** A sentence with its first letter large. */
export const capital = (sentence: string): string => sentence.charAt(0).toUpperCase() + sentence.slice(1);
