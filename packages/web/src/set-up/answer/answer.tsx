/** The answer: f-number, shutter and ISO in large type, how many frames, and one sentence. */
import { oneIn } from '@tepal/advice';
import type { Explained, ExposeDocument } from '@tepal/formats';
import { apertureWords, shutterWords } from '../../words/amounts.ts';
import type { SetUpInputs } from '../question/inputs.ts';
import { answerSentence } from './answer-words.ts';

interface AnswerProps {
  readonly advice: ExposeDocument;
  readonly inputs: SetUpInputs;
  readonly onOpen: (what: Explained) => void;
}

export function Answer({ advice, inputs, onOpen }: AnswerProps) {
  const { fNumber, exposureTimeNominalS, iso } = advice.recommended;
  const sentence = answerSentence(advice, oneIn(advice.odds.sharp), inputs.support);
  const numbers: readonly (readonly [Explained, string, string])[] = [
    ['aperture', apertureWords(fNumber), 'aperture'],
    ['shutter', shutterWords(exposureTimeNominalS), 'shutter'],
    ['iso', String(iso), 'ISO'],
  ];
  return (
    <>
      <div class="big-numbers">
        {numbers.map(([what, value, name]) => (
          <button key={what} onClick={() => onOpen(what)}>
            <span class="big">{value}</span> <span class="hint">{name}</span>
            <span class="unseen">, open its reason</span>
          </button>
        ))}
      </div>
      <h1 aria-live="polite">
        {sentence.before}
        {sentence.count !== '' && <strong class="advised">{sentence.count}</strong>}
        {sentence.after}
        <br />
        {sentence.odds}
      </h1>
      <p class="basis">
        <span class="faint">{sentence.basis}</span>{' '}
        <button class="quiet small" onClick={() => onOpen('frames')}>
          why so many
        </button>
      </p>
    </>
  );
}
