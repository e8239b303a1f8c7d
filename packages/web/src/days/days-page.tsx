/** Days: when to go. The first sentence is the answer; below it one ribbon for each day and site. */
import { useComputed, useSignal } from '@preact/signals';
import type { DaysAnswer, LibraryFrame } from '@tepal/formats';
import { useEffect } from 'preact/hooks';
import type { PageProps } from '../app/page-props.ts';
import { standing } from '../app/standing.ts';
import { askedFrom, asking, engineOf, type Asked } from '../engine/engine.ts';
import { notebookOf, readNotebook } from '../field/notebook.ts';
import { placeClock, readPlaceClock } from '../field/place-clock.ts';
import { ageWords, clockWords, dayWords, readersOffsetMin } from '../words/clock.ts';
import { DayRibbon } from './day-ribbon.tsx';
import { offsetOf, shownHours, splitDays } from './day-split.ts';
import { answerFrom } from './days-answer.ts';
import { ticksOf } from './drawing/frame-ticks.ts';
import { NoDays, Places } from './sites/places.tsx';
import { RibbonKey } from './ribbon-key.tsx';

/** So many days ahead are drawn. */
const mostDays = 10;

export function DaysPage({ store }: PageProps) {
  const asked = useSignal<Asked<DaysAnswer>>(asking);
  const frames = useSignal<readonly LibraryFrame[]>([]);
  useEffect(() => {
    void engineOf(store)
      .days()
      .then((answer) => (asked.value = askedFrom(answer)));
    void engineOf(store)
      .frames()
      .then((answer) => {
        if (!answer.ok) return;
        frames.value = answer.value.frames;
        readPlaceClock(store, answer.value.frames);
      });
    void readNotebook(store);
  }, [store]);
  const names = useComputed(() => {
    const open = notebookOf(store).value;
    if (open === null) return new Map<string, string>();
    return new Map(open.room.list(open.notebook, 'wantedPicture').map(({ id, title }) => [id, title]));
  });
  const nameOf = (wantedId: string) => names.value.get(wantedId) ?? readable(wantedId);

  const days = asked.value.at === 'here' ? asked.value.value.days : [];
  useEffect(() => {
    standing.value = forecastWords(days, placeClock(store).value);
  }, [asked.value, placeClock(store).value]);

  const onDays = (answer: DaysAnswer) => (asked.value = { at: 'here', value: answer });
  if (asked.value.at === 'asking') return <h1>Reading the forecast.</h1>;
  if (asked.value.at === 'fault') {
    return (
      <>
        <h1>The days cannot be shown.</h1>
        <p class="told" role="alert">
          {asked.value.message}
        </p>
        {store === 'mine' && <Places store={store} onDays={onDays} open />}
      </>
    );
  }
  const { faults } = asked.value.value;
  const clockMin = placeClock(store).value;
  const answer = answerFrom(days, nameOf, clockMin);
  if (answer === null) return <NoDays store={store} faults={faults} onDays={onDays} />;

  const split = days.flatMap(({ siteId, siteName, when }) =>
    splitDays(when, clockMin ?? offsetOf(when))
      .slice(0, mostDays)
      .map((day) => ({ siteId, siteName, day, cautions: when.cautions })),
  );
  const range = shownHours(split.map(({ day }) => day));
  const cautions = [...new Set(days.flatMap(({ when }) => when.cautions))];
  return (
    <>
      <div class="answer">
        <h1>
          {answer.before}
          {answer.hours !== '' && <em class="advised">{answer.hours}</em>}
          {answer.after}
        </h1>
        <p>{answer.because}</p>
      </div>
      {faults.map((words) => (
        <p class="told caution" key={words}>
          {words}
        </p>
      ))}
      {split
        .toSorted((a, b) => a.day.startMs - b.day.startMs)
        .map(({ siteId, siteName, day }) => (
          <section class="day" key={`${siteId} ${day.key}`} aria-labelledby={`day-${siteId}-${day.key}`}>
            <div class="day-head">
              <h2 id={`day-${siteId}-${day.key}`}>
                {dayWords(day.hours[0]?.timeMs ?? day.startMs, day.offsetMin)}
              </h2>
              <p class="faint small">{siteName}</p>
            </div>
            <DayRibbon
              day={day}
              siteName={`${siteName}, ${dayWords(day.startMs, day.offsetMin)}`}
              range={range}
              ticks={ticksOf(frames.value, day)}
              nameOf={nameOf}
            />
          </section>
        ))}
      <RibbonKey />
      {cautions.length > 0 && (
        <section aria-labelledby="mind">
          <h2 id="mind">Mind</h2>
          <ul class="list plain">
            {cautions.map((words) => (
              <li key={words}>{words}</li>
            ))}
          </ul>
        </section>
      )}
      {store === 'mine' && <Places store={store} onDays={onDays} />}
    </>
  );
}

/** "field-scabious-with-drops" as one would say it, until the notebook tells the title. */
function readable(id: string): string {
  const words = id.replaceAll(/[-_]+/g, ' ').trim();
  return words.charAt(0).toUpperCase() + words.slice(1);
}

function forecastWords(days: DaysAnswer['days'], clockMin: number | null): string {
  const forecast = days[0]?.when.forecast;
  const when = days[0]?.when;
  if (forecast === undefined || when === undefined) return '';
  if (forecast.issuedAt === null) return 'forecast of an unknown hour';
  const issuedMs = Date.parse(forecast.issuedAt);
  const offsetMin = clockMin ?? (when.hours.length > 0 ? offsetOf(when) : readersOffsetMin(issuedMs));
  const age = forecast.ageH === null ? '' : `, ${ageWords(forecast.ageH)}`;
  return `forecast of ${clockWords(issuedMs, offsetMin)}${age}`;
}
