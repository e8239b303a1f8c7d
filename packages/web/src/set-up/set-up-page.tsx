/** Set-up: what to set, at the subject. Computed here in the page, so it needs no network and no engine. */
import { exposureAdvice, exposureField, oneIn, type ExposureField } from '@tepal/advice';
import { useComputed, useSignal } from '@preact/signals';
import type { ExposeDocument } from '@tepal/formats';
import { useEffect, useRef } from 'preact/hooks';
import type { PageProps } from '../app/page-props.ts';
import { engineOf } from '../engine/engine.ts';
import { notebookOf, readNotebook } from '../field/notebook.ts';
import { placeClock, readPlaceClock } from '../field/place-clock.ts';
import { apertureWords, shutterWords } from '../words/amounts.ts';
import { answerSentence, seriesWords } from './answer-words.ts';
import { Controls } from './controls.tsx';
import { BlurBar } from './drawing/blur-bar.tsx';
import { OtherWays } from './drawing/other-ways.tsx';
import { ThroughFlower } from './drawing/through-flower.tsx';
import { explanationOf, type Explained } from './explanations.ts';
import { inputsFromNotebook } from './from-notebook.ts';
import { hourHere, type HourHere } from './hour-here.ts';
import { firstInputs, requestFrom, type SetUpInputs } from './inputs.ts';
import { keepInputs, keptInputs } from './kept-inputs.ts';
import { KitForm } from './kit-form.tsx';
import { Opened } from './opened.tsx';
import { RainLock } from './rain-lock.tsx';

interface Computed {
  readonly advice: ExposeDocument;
  readonly field: ExposureField;
}

export function SetUpPage({ store }: PageProps) {
  const inputs = useSignal<SetUpInputs>(keptInputs(store) ?? firstInputs);
  const here = useSignal<HourHere | null>(null);
  const opened = useSignal<Explained | null>(null);
  const locked = useSignal(false);
  const last = useRef<Computed | null>(null);

  const computed = useComputed<Computed | { fault: string }>(() => {
    try {
      const request = requestFrom(inputs.value);
      return { advice: exposureAdvice(request), field: exposureField(request) };
    } catch (fault) {
      return { fault: fault instanceof Error ? fault.message : 'These values cannot be computed.' };
    }
  });
  const fault = 'fault' in computed.value ? computed.value.fault : null;
  if (!('fault' in computed.value)) last.current = computed.value;
  const shown = last.current;

  const change = (by: Partial<SetUpInputs>) => {
    inputs.value = { ...inputs.value, ...by };
    keepInputs(store, inputs.value);
  };
  // The hour is not kept: tomorrow has its own.
  const takeHour = (hour: HourHere) => {
    inputs.value = {
      ...inputs.value,
      ...(hour.windMs === null ? {} : { windMs: hour.windMs }),
      ...(hour.ev100 === null ? {} : { ev100: hour.ev100 }),
    };
  };
  useEffect(() => {
    // The clock of the place is asked for only where it matters; without a network the reader's own stands in.
    const clock = engineOf(store)
      .frames()
      .then((answer) => {
        if (answer.ok) readPlaceClock(store, answer.value.frames);
      });
    const known = keptInputs(store) !== null;
    const notebook = known ? Promise.resolve(null) : readNotebook(store);
    void Promise.all([engineOf(store).days(), clock, notebook]).then(([answer]) => {
      if (!answer.ok) return;
      const open = notebookOf(store).value;
      // What the photographer has set here before goes before what the notebook says.
      if (!known && open !== null) {
        inputs.value = { ...inputs.value, ...inputsFromNotebook(open, answer.value.days, inputs.value) };
      }
      here.value = hourHere(answer.value.days, store, Date.now(), placeClock(store).value);
      if (here.value !== null) takeHour(here.value);
    });
  }, [store]);

  const open = (what: Explained) => (opened.value = opened.value === what ? null : what);
  const { fNumber, exposureTimeS, iso } = inputs.value;
  const isFixed = fNumber !== null || exposureTimeS !== null || iso !== null;
  return (
    <div class="set-up">
      <div class="set-up-answer">
        <p class="context faint">
          <span>{here.value?.where ?? 'At the subject'}</span>
          <span>{here.value?.conditions ?? 'wind and light as you say them'}</span>
        </p>
        {fault !== null && (
          <p class="told" role="alert">
            {fault}
          </p>
        )}
        {shown !== null && <Answer advice={shown.advice} inputs={inputs.value} onOpen={open} />}
        {shown !== null && opened.value !== null && (
          <Opened
            explanation={explanationOf(opened.value, shown.advice, inputs.value)}
            onClose={() => (opened.value = null)}
          />
        )}
      </div>
      {shown !== null && (
        <div class="set-up-drawings">
          <ThroughFlower advice={shown.advice} inputs={inputs.value} />
          <BlurBar advice={shown.advice} onOpen={() => open('blur')} />
          <div inert={locked.value}>
            <OtherWays
              advice={shown.advice}
              field={shown.field}
              onSet={(f, time) => change({ fNumber: f, exposureTimeS: time, iso: null })}
            />
          </div>
        </div>
      )}
      <div class="set-up-controls">
        <div class="buttons">
          <RainLock locked={locked} />
          {isFixed && !locked.value && (
            <button onClick={() => change({ fNumber: null, exposureTimeS: null, iso: null })}>
              Back to the advice
            </button>
          )}
        </div>
        <div inert={locked.value} class={locked.value ? 'locked' : undefined}>
          <Controls inputs={inputs.value} advice={shown?.advice ?? null} onChange={change} />
          <KitForm kit={inputs.value.kit} onChange={(kit) => change({ kit, fNumber: null })} />
        </div>
      </div>
      {shown !== null && (
        <div class="set-up-rest" inert={locked.value}>
          <Rest advice={shown.advice} onChange={change} />
        </div>
      )}
    </div>
  );
}

function Answer(props: { advice: ExposeDocument; inputs: SetUpInputs; onOpen: (what: Explained) => void }) {
  const { advice, inputs, onOpen } = props;
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
      {advice.focusSeries !== null && <p class="small">{seriesWords(advice.focusSeries)}</p>}
    </>
  );
}

/** The next two settings with what each trades, and what may spoil it. */
function Rest(props: { advice: ExposeDocument; onChange: (change: Partial<SetUpInputs>) => void }) {
  const { alternatives, cautions } = props.advice;
  return (
    <>
      {alternatives.length > 0 && (
        <section aria-labelledby="next-best">
          <h2 id="next-best">Next best</h2>
          <ul class="list">
            {alternatives.map((other) => (
              <li key={other.trade} class="alternative">
                <button
                  class="quiet"
                  onClick={() =>
                    props.onChange({
                      fNumber: other.fNumber,
                      exposureTimeS: other.exposureTimeNominalS,
                      iso: null,
                    })
                  }
                >
                  {apertureWords(other.fNumber)}, {shutterWords(other.exposureTimeNominalS)}, ISO {other.iso}
                </button>
                <span>{other.trade}</span>
              </li>
            ))}
          </ul>
        </section>
      )}
      {cautions.length > 0 && (
        <section aria-labelledby="mind">
          <h2 id="mind">Mind</h2>
          <ul class="list plain">
            {cautions.map((caution) => (
              <li key={caution}>{caution}</li>
            ))}
          </ul>
        </section>
      )}
    </>
  );
}
