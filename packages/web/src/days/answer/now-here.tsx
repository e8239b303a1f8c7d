/** Here, now: what it is like at a place at this moment, and where one stands though it is no site. */
import { useSignal } from '@preact/signals';
import type { HereNow } from '@tepal/advice';
import type { Site } from '@tepal/notebook';
import { deviceReading } from '../places/device-position.ts';
import { notebookOf } from '../../field/notebook.ts';
import { standHere } from '../compute/days-here.ts';
import type { SiteDays } from '../compute/worker-messages.ts';
import { stopped } from '../days-answer.ts';
import { DaysOfSites } from '../days-of-sites.tsx';

export function NowWords({ here, where }: { here: HereNow; where: string }) {
  if (here.kind === 'notCovered') return null;
  return (
    <section class="now" aria-label={`Now at ${where}`}>
      <p>
        <span class="faint">Now at {where}:</span> {stopped(here.words)} {here.next.map(stopped).join(' ')}
      </p>
    </section>
  );
}

/** The days of where one stands. Nothing of it is kept unless one asks for it. */
export function StandHere({ onKeep }: { onKeep: (position: Site['position']) => void }) {
  const asking = useSignal(false);
  const fault = useSignal<string | null>(null);
  const stood = useSignal<{ days: SiteDays; position: Site['position'] } | null>(null);
  const ask = async () => {
    asking.value = true;
    fault.value = null;
    const reading = await deviceReading();
    const room = notebookOf('mine').peek()?.room ?? null;
    if (!reading.ok || room === null) {
      fault.value = reading.ok ? 'The notebook is not open yet; try again.' : reading.message;
    } else {
      const position = room.positionOfReceiver(reading.value);
      const answer = await standHere(position);
      if (!answer.ok) fault.value = answer.message;
      else if (answer.value.days === null) fault.value = answer.value.why;
      else stood.value = { days: answer.value.days, position };
    }
    asking.value = false;
  };
  return (
    <div class="where-i-stand">
      <button class="quiet" disabled={asking.value} onClick={() => void ask()}>
        {asking.value ? 'Asking this device where it is' : 'Here, now: the hours where you stand'}
      </button>
      {fault.value !== null && (
        <p class="told" role="alert">
          {fault.value}
        </p>
      )}
      {stood.value !== null && (
        <>
          <NowWords here={stood.value.days.when.here} where="where you stand" />
          <DaysOfSites
            sites={[stood.value.days]}
            clockMin={null}
            frames={[]}
            nameOf={() => 'Soft light and still air'}
          />
          <div class="buttons">
            <button onClick={() => onKeep(stood.value!.position)}>Keep this as a place</button>
            <button class="quiet" onClick={() => (stood.value = null)}>
              Put it away
            </button>
          </div>
        </>
      )}
    </div>
  );
}
