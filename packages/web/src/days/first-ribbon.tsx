/** The invented outing's best day, as the first screen shows it: what a day looks like here. */
import type { DaysAnswer } from '@tepal/formats';
import { dayWords } from '../words/clock.ts';
import { DayRibbon } from './ribbon/day-ribbon.tsx';
import { shownHours, splitDays } from './day-split.ts';

export function FirstRibbon({ days }: { days: DaysAnswer['days'] }) {
  const first = days[0];
  if (first === undefined) return null;
  const split = splitDays(first.when);
  const day = split.find(({ windows }) => windows.length > 0) ?? split[0];
  if (day === undefined) return null;
  const title = dayWords(day.hours[0]?.timeMs ?? day.startMs, day.offsetMin);
  return (
    <section class="day" aria-labelledby="first-day">
      <div class="day-head">
        <h2 id="first-day">{title}</h2>
        <p class="faint small">{first.siteName}, invented</p>
      </div>
      <DayRibbon
        day={{ ...day, windows: day.windows.slice(0, 2), misses: [] }}
        siteName={`${first.siteName}, ${title}`}
        range={shownHours([day])}
        ticks={[]}
        nameOf={() => 'These hours suit'}
      />
    </section>
  );
}
