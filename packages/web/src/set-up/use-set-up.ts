/** What the page holds: the inputs, the hour they were taken from, and the answer that follows at once. */
import { exposureAdvice, exposureField, type ExposureField } from '@tepal/advice';
import { useComputed, useSignal, type ReadonlySignal, type Signal } from '@preact/signals';
import type { ExposeDocument, StoreName } from '@tepal/formats';
import { useEffect, useRef } from 'preact/hooks';
import { daysOnDevice } from '../days/compute/days-here.ts';
import { engineOf } from '../engine/engine.ts';
import { notebookOf, readNotebook } from '../field/notebook.ts';
import { placeClock, readPlaceClock } from '../field/place-clock.ts';
import { currentOuting } from '../outing/current-outing.ts';
import { hourHere, type HourHere } from './hour-here.ts';
import { inputsFromNotebook } from './question/from-notebook.ts';
import { firstInputs, type SetUpInputs } from './question/inputs.ts';
import { keepInputs, keptInputs } from './question/kept-inputs.ts';
import { openRequest, requestFrom } from './question/request.ts';

export interface SetUp {
  readonly inputs: Signal<SetUpInputs>;
  readonly here: Signal<HourHere | null>;
  /** The last answer that could be computed; null before the first. */
  readonly shown: { readonly advice: ExposeDocument; readonly field: ExposureField } | null;
  /** Why the present inputs have no answer; null where they have one. */
  readonly fault: string | null;
  readonly change: (by: Partial<SetUpInputs>) => void;
}

type Computed<T> = { readonly value: T } | { readonly fault: string };

export function useSetUp(store: StoreName): SetUp {
  const inputs = useSignal<SetUpInputs>(keptInputs(store) ?? firstInputs);
  const here = useSignal<HourHere | null>(null);
  const advice = useComputed(() => computed(() => exposureAdvice(requestFrom(inputs.value))));
  // The field knows nothing of what is fixed, so a touch on it need not draw it anew.
  const question = useComputed(() => JSON.stringify(openRequest(inputs.value)));
  const field = useFollowing(question, () => computed(() => exposureField(openRequest(inputs.peek()))));
  const last = useRef<SetUp['shown']>(null);
  // A hand that was quicker than the forecast goes before it.
  const touched = useRef(false);
  const found = [advice.value, field.value] as const;
  if ('value' in found[0] && 'value' in found[1]) {
    last.current = { advice: found[0].value, field: found[1].value };
  }

  useEffect(() => {
    // The clock of the place is asked for only where it matters; without a network the reader's own stands in.
    const clock = engineOf(store)
      .frames()
      .then((answer) => {
        if (answer.ok) readPlaceClock(store, answer.value.frames);
      });
    const known = keptInputs(store) !== null;
    void Promise.all([clock, readNotebook(store)]).then(async () => {
      const open = notebookOf(store).value;
      const outing = open === null ? null : currentOuting(open, Date.now());
      const days = await daysOnDevice(store, outing?.siteId ?? null);
      // What the photographer has set here before goes before what the notebook says.
      if (!known && open !== null) {
        inputs.value = { ...inputs.value, ...inputsFromNotebook(open, days, inputs.value) };
      }
      here.value = hourHere(days, store, Date.now(), placeClock(store).value, outing?.siteId ?? null);
      if (here.value !== null && !touched.current) inputs.value = { ...inputs.value, ...ofHour(here.value) };
    });
  }, [store]);

  return {
    inputs,
    here,
    shown: last.current,
    fault: 'fault' in found[0] ? found[0].fault : 'fault' in found[1] ? found[1].fault : null,
    change: (by) => {
      touched.current = true;
      inputs.value = { ...inputs.value, ...by };
      keepInputs(store, inputs.value);
    },
  };
}

/** A value computed anew only when its question changed. */
function useFollowing<T>(question: ReadonlySignal<string>, compute: () => T): ReadonlySignal<T> {
  return useComputed(() => {
    void question.value;
    return compute();
  });
}

function computed<T>(compute: () => T): Computed<T> {
  try {
    return { value: compute() };
  } catch (fault) {
    return { fault: fault instanceof Error ? fault.message : 'These values cannot be computed.' };
  }
}

/** The hour is not kept: tomorrow has its own. */
export const ofHour = (hour: HourHere): Partial<SetUpInputs> => ({
  ...(hour.windMs === null ? {} : { windMs: hour.windMs }),
  ...(hour.ev100 === null ? {} : { ev100: hour.ev100, lightFrom: 'look' as const }),
});
