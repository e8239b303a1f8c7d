/** The ribbons of the sites that are drawn, day by day; past the third day parts of days in words. */
import type { OutlookPart } from '@tepal/advice';
import type { LibraryFrame } from '@tepal/formats';
import { NearScreen } from '../frames/near-screen.tsx';
import { clockWords, dayWords } from '../words/clock.ts';
import type { SiteDays } from './compute/worker-messages.ts';
import { DayRibbon } from './ribbon/day-ribbon.tsx';
import { nearDays, offsetOf, shownHours, type Day } from './day-split.ts';
import { ticksOf } from './drawing/frame-ticks.ts';
import { InTurn } from './ribbon/in-turn.tsx';
import { OutlookTable, type FarDay } from './later/outlook-table.tsx';
import { printing } from './pack/print-page.ts';

interface DaysProps {
  readonly sites: readonly SiteDays[];
  readonly clockMin: number | null;
  readonly frames: readonly LibraryFrame[];
  readonly nameOf: (wantedId: string) => string;
}

/** So many days ahead are drawn or told. */
const mostDays = 10;
/** About how high a ribbon is with its words [CSS px]. */
const ribbonHeightPx = 330;

interface Drawn {
  readonly site: SiteDays;
  readonly day: Day;
}

export function DaysOfSites({ sites, clockMin, frames, nameOf }: DaysProps) {
  const drawn = sites
    .flatMap((site) =>
      nearDays(site.when, clockMin ?? offsetOf(site.when))
        .slice(0, mostDays)
        .map((day): Drawn => ({ site, day })),
    )
    .toSorted((a, b) => a.day.startMs - b.day.startMs);
  const range = shownHours(drawn.map(({ day }) => day));
  const far = outlookDays(sites);
  return (
    <>
      {drawn.map(({ site, day }, index) => {
        const id = `day-${site.siteId}-${day.key}`;
        const title = dayWords(day.hours[0]?.timeMs ?? day.startMs, day.offsetMin);
        return (
          <section class="day" key={id} aria-labelledby={id}>
            <div class="day-head">
              <h2 id={id}>{title}</h2>
              <p class="faint small">{[site.siteName, sunWords(site, day)].filter(Boolean).join(' · ')}</p>
            </div>
            <NearScreen
              key={String(printing.value)}
              heightCss={ribbonHeightPx}
              first={index < 2 || printing.value}
            >
              {() => (
                <InTurn now={index < 2 || printing.value} heightCss={ribbonHeightPx}>
                  {() => (
                    <DayRibbon
                      day={day}
                      siteName={`${site.siteName}, ${title}`}
                      range={range}
                      ticks={ticksOf(frames, day)}
                      nameOf={nameOf}
                    />
                  )}
                </InTurn>
              )}
            </NearScreen>
          </section>
        );
      })}
      {far.length > 0 && (
        <section class="outlook" aria-labelledby="later-days">
          <h2 id="later-days">Later days, in words</h2>
          <p class="faint small">
            Past the third day a forecast cannot tell hours apart: parts of days, good, fair or poor.
          </p>
          <OutlookTable days={far} several={sites.length > 1} nameOf={nameOf} />
        </section>
      )}
    </>
  );
}

/** When the sun comes onto the place, where something stands before it. */
function sunWords({ when }: SiteDays, { startMs, offsetMin, key }: Day): string {
  const spells = when.sunOnPlant.filter(
    ({ from }) => Date.parse(from) >= startMs && Date.parse(from) < startMs + 86_400_000,
  );
  const [spell] = spells;
  if (spell === undefined || key === '') return '';
  return `sun on the place from ${clockWords(Date.parse(spell.from), offsetMin)} to ${clockWords(Date.parse(spells.at(-1)?.to ?? spell.to), offsetMin)}`;
}

function outlookDays(sites: readonly SiteDays[]): readonly FarDay[] {
  const days = new Map<string, { date: string; siteName: string; parts: OutlookPart[] }>();
  for (const site of sites) {
    for (const part of site.when.outlook) {
      const key = `${part.date} ${site.siteId}`;
      const day = days.get(key) ?? { date: part.date, siteName: site.siteName, parts: [] };
      day.parts.push(part);
      days.set(key, day);
    }
  }
  const inOrder = [...days.values()].toSorted((a, b) => (a.date < b.date ? -1 : a.date > b.date ? 1 : 0));
  const dates = [...new Set(inOrder.map(({ date }) => date))].slice(0, mostDays - 3);
  return inOrder.filter(({ date }) => dates.includes(date));
}
