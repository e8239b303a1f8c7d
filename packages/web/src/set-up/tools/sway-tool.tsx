/** Sway by eye: tap in time with the swings, say how far in widths of the flower head, and it counts instead of the wind. */
import { useSignal } from '@preact/signals';
import type { ExposeDocument, StoreName } from '@tepal/formats';
import { freezingTimeS, swayByEye, type SwayByEye, type WatchedSway } from '@tepal/science';
import { notebookOf, writeNotebook } from '../../field/notebook.ts';
import { digits, lengthWords, oneDecimal, shutterWords } from '../../words/amounts.ts';
import { Along, Choice } from '../controls/stepper.tsx';
import { subjectName } from '../question/from-notebook.ts';
import type { SetUpInputs } from '../question/inputs.ts';
import { dials, steps } from '../question/steps.ts';
import { fastEnough, withTap } from './taps.ts';

interface SwayProps {
  readonly store: StoreName;
  readonly inputs: SetUpInputs;
  readonly advice: ExposeDocument;
  readonly onChange: (change: Partial<SetUpInputs>) => void;
}

export function SwayTool({ store, inputs, advice, onChange }: SwayProps) {
  const tapsS = useSignal<readonly number[]>([]);
  const tapped = useSignal<WatchedSway['tapped']>('eachSwing');
  const headMm = useSignal(20);
  const travelHeads = useSignal(0.5);
  const told = useSignal('');
  const sway = readTaps({
    tapsS: tapsS.value,
    tapped: tapped.value,
    headWidthMm: headMm.value,
    travelHeadWidths: travelHeads.value,
  });
  const open = notebookOf(store).value;
  const subject =
    open === null || inputs.subjectId === ''
      ? null
      : open.room.find(open.notebook, 'subject', inputs.subjectId);
  const tap = (timeMs: number) => (tapsS.value = withTap(tapsS.value, timeMs / 1000));
  const take = ({ amplitudeMm, frequencyHz }: SwayByEye) =>
    onChange({ swayAmplitudeMm: amplitudeMm, swayFrequencyHz: frequencyHz });
  const keep = async ({ amplitudeMm, frequencyHz }: SwayByEye) => {
    if (subject === null) return;
    const fault = await writeNotebook(store, 'sway watched', (pen) =>
      pen.patch('subject', subject.id, { sway: { amplitudeMm, frequencyHz } }),
    );
    told.value = fault ?? `Kept with ${subjectName(subject)}.`;
  };
  return (
    <details class="folded tool">
      <summary>Sway by eye</summary>
      <p class="small faint">
        Watch the head over a whole minute if you can, gusts and lulls alike. Tap when it turns.
      </p>
      <div class="sway">
        <button
          class="tap"
          onPointerDown={({ timeStamp }) => tap(timeStamp)}
          onKeyDown={(event) => {
            if (event.key !== 'Enter' && event.key !== ' ') return;
            event.preventDefault();
            if (!event.repeat) tap(event.timeStamp);
          }}
        >
          Tap at the turn
          <span class="hint">
            {tapsS.value.length === 0 ? 'three taps at least' : `${tapsS.value.length} taps`}
          </span>
        </button>
        <Choice
          name="One tap for"
          value={tapped.value}
          words={[
            ['eachSwing', 'there and back'],
            ['eachEnd', 'each end'],
          ]}
          onChoose={(one) => (tapped.value = one)}
        />
        <div class="steppers">
          <Along
            name="travel from end to end, in heads"
            hint="heads, end to end"
            value={travelHeads.value}
            list={steps.travelHeads}
            words={(heads) => digits(heads)}
            onSet={(heads) => (travelHeads.value = heads)}
          />
          <Along
            name="width of the flower head"
            hint="the head’s width"
            value={headMm.value}
            list={steps.headMm}
            words={lengthWords}
            onSet={(mm) => (headMm.value = mm)}
          />
        </div>
        {sway !== null && (
          <>
            <p class="sentence" aria-live="polite">
              It swings {digits(sway.frequencyHz)} times a second ({digits(sway.frequencyRangeHz[0])} to{' '}
              {digits(sway.frequencyRangeHz[1])}), {oneDecimal(sway.amplitudeMm)} mm either way, at{' '}
              {digits(sway.speedMmS)} mm/s on the whole. {freezingWords(sway, inputs, advice)}
            </p>
            <div class="buttons">
              <button class="first" onClick={() => take(sway)}>
                Reckon with it
              </button>
              {subject !== null && (
                <button onClick={() => void keep(sway)}>Keep it with {subjectName(subject)}</button>
              )}
              <button class="quiet" onClick={() => (tapsS.value = [])}>
                tap anew
              </button>
              <span aria-live="polite">{told.value}</span>
            </div>
            {subject === null && (
              <p class="hint">
                Say what it is, in an outing, and the sway is kept with the plant for next time.
              </p>
            )}
          </>
        )}
      </div>
    </details>
  );
}

/** The sway behind the taps; null while there are too few. */
function readTaps(watched: WatchedSway): SwayByEye | null {
  return watched.tapsS.length < 3 ? null : swayByEye(watched);
}

function freezingWords(sway: SwayByEye, { magnification }: SetUpInputs, { budget }: ExposeDocument): string {
  const mark = fastEnough(dials.timesS, freezingTimeS(sway, magnification, budget.limitUm));
  return mark === null
    ? 'No shutter freezes it in mid-swing at this magnification.'
    : `${shutterWords(mark)} freezes it wherever it is caught.`;
}
