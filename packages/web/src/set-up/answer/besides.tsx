/** What stands beside the answer: the next two settings, stillness, the focus series, what would change most. */
import { oneIn } from '@tepal/advice';
import type { ExposeAlternative, ExposeDocument } from '@tepal/formats';
import { apertureWords, shutterWords } from '../../words/amounts.ts';
import { capital, fillSentences, seriesSentences, stillnessSentences } from './answer-words.ts';

interface BesidesProps {
  readonly advice: ExposeDocument;
  readonly onSet: (setting: ExposeAlternative) => void;
}

export function Besides({ advice, onSet }: BesidesProps) {
  const { alternatives, cautions, changes = [], camera } = advice;
  const still = stillnessSentences(advice);
  const series = seriesSentences(advice.focusSeries);
  const fill = fillSentences(advice.fill ?? null);
  return (
    <>
      {alternatives.length > 0 && (
        <section aria-labelledby="next-best">
          <h2 id="next-best">Next best</h2>
          <ul class="list">
            {alternatives.map((other) => (
              <li key={other.trade} class="alternative">
                <button class="quiet" onClick={() => onSet(other)}>
                  {apertureWords(other.fNumber)}, {shutterWords(other.exposureTimeNominalS)}, ISO {other.iso}
                </button>
                <span>{other.trade}</span>
              </li>
            ))}
          </ul>
        </section>
      )}
      <Sentences id="still-air" title="Stillness" sentences={still} />
      <Sentences id="through-depth" title="One frame or a series" sentences={series} />
      {changes.length > 0 && (
        <section aria-labelledby="would-change">
          <h2 id="would-change">What would change most</h2>
          <ol class="list changes">
            {changes.map(({ change, sharp, framesFor95 }) => (
              <li key={change}>
                <span>{change}</span>
                <span class="faint">
                  {oneIn(sharp)}
                  {framesFor95 === null ? '' : `, ${framesFor95} frames`}
                </span>
              </li>
            ))}
          </ol>
        </section>
      )}
      <Sentences id="fill" title="On the shaded side" sentences={fill} />
      <Sentences id="mind" title="Mind" sentences={cautions} />
      {camera !== undefined && <p class="small camera-words">{capital(camera.words)}</p>}
    </>
  );
}

function Sentences({ id, title, sentences }: { id: string; title: string; sentences: readonly string[] }) {
  if (sentences.length === 0) return null;
  return (
    <section aria-labelledby={id}>
      <h2 id={id}>{title}</h2>
      {sentences.map((sentence) => (
        <p key={sentence} class="sentence">
          {sentence}
        </p>
      ))}
    </section>
  );
}
