/** Days: when to go. The first sentence is the answer; below it the hours by rank, then a ribbon for each day and site. */
import { useComputed, useSignal, type ReadonlySignal } from '@preact/signals';
import type { LibraryFrame, StoreName } from '@tepal/formats';
import type { Position } from '@tepal/notebook';
import { useEffect } from 'preact/hooks';
import type { PageProps } from '../app/page-props.ts';
import { standing } from '../app/standing.ts';
import { engineOf } from '../engine/engine.ts';
import { placeClock, readPlaceClock } from '../field/place-clock.ts';
import { ageWords, clockWords, readersOffsetMin } from '../words/clock.ts';
import { HoursList, MissesList } from './answer/hours-list.tsx';
import { NowWords, StandHere } from './answer/now-here.tsx';
import { fetchForecasts, forecasting, listsOf, overviewOf, readDays, siteDays } from './compute/days-here.ts';
import type { Overview, SiteDays } from './compute/worker-messages.ts';
import { answerFrom } from './days-answer.ts';
import { DaysOfSites } from './days-of-sites.tsx';
import { FirstSteps } from './first-steps.tsx';
import { FetchButton } from './forecast/fetch-button.tsx';
import { AskFreeHours } from './free/free-hours.tsx';
import { KeptBelow } from './kept-below.tsx';
import { TakeAlong } from './pack/take-along.tsx';
import { PlacesDrawn, sitesInOrder } from './places/places-drawn.tsx';
import { RibbonKey } from './ribbon/ribbon-key.tsx';
import { SeasonBands } from './season/season-bands.tsx';

/** So many sites are drawn before one chooses. */
const drawnAtFirst = 3;
/** Forecasts older than this are fetched anew by themselves, once they were fetched by hand [h]. */
const fetchAfterH = 6;

export function DaysPage({ store }: PageProps) {
  const frames = useSignal<readonly LibraryFrame[]>([]);
  const newAt = useSignal<Position | null>(null);
  useEffect(() => {
    void readDays(store).then(() => fetchIfOld(store));
    void engineOf(store)
      .frames()
      .then((answer) => {
        if (!answer.ok) return;
        frames.value = answer.value.frames;
        readPlaceClock(store, answer.value.frames);
      });
  }, [store]);
  const asked = overviewOf(store).value;
  const lists = listsOf(store).value;
  const names = useComputed(
    () => new Map((listsOf(store).value?.wantedPictures ?? []).map(({ id, title }) => [id, title])),
  );
  const nameOf = (wantedId: string) => names.value.get(wantedId) ?? readable(wantedId);
  const clockMin = placeClock(store).value;
  useEffect(() => {
    standing.value = asked.at === 'here' ? forecastWords(asked.value, clockMin) : '';
  }, [asked, clockMin]);

  if (asked.at === 'asking') return <h1>Working out the days.</h1>;
  if (asked.at === 'fault' || lists === null) {
    return (
      <>
        <h1>The days cannot be shown.</h1>
        <p class="told" role="alert">
          {asked.at === 'fault' ? asked.message : 'The notebook is not here.'}
        </p>
      </>
    );
  }
  const overview = asked.value;
  const below = store === 'mine' && <KeptBelow {...{ lists, overview, newAt: newAt.value }} />;
  const keepHere = (position: Position) => {
    newAt.value = position;
    document.getElementById('kept-places')?.scrollIntoView();
  };
  const stand = store === 'mine' && <StandHere onKeep={keepHere} />;
  const answer = answerFrom(overview, nameOf, clockMin);
  if (answer === null) {
    return (
      <FirstSteps {...{ store, lists, newAt: newAt.value }}>
        {stand}
        {lists.sites.length > 0 && below}
      </FirstSteps>
    );
  }
  const known = sitesInOrder(overview).filter(({ forecast }) => forecast !== null);
  const without = overview.sites.filter(({ forecast }) => forecast === null);
  const cautions = [...new Set(known.slice(0, drawnAtFirst).flatMap((site) => site.cautions))];
  const first = known[0];
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
      {store === 'mine' && first !== undefined && first.here !== null && (
        <NowWords here={first.here} where={first.siteName} />
      )}
      {stand}
      {without.length > 0 && (
        <p class="told caution">
          {without.length === 1
            ? without[0]?.fault
            : `${without.length} places have no forecast yet: ${without
                .slice(0, 3)
                .map(({ siteName }) => siteName)
                .join(', ')}${without.length > 3 ? ' and others' : ''}.`}
        </p>
      )}
      <HoursList {...{ overview, clockMin, nameOf }} />
      <TakeAlong {...{ store, overview }} />
      {store === 'mine' && <AskFreeHours lists={lists} />}
      <MissesList {...{ overview, clockMin, nameOf }} />
      <Drawn {...{ overview, clockMin, nameOf, frames }} />
      <RibbonKey />
      <SeasonBands seasons={overview.seasons} nowMs={nowOf(store, overview)} />
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
      {first?.forecast?.credit !== undefined && <p class="faint small credit">{first.forecast.credit}</p>}
      {store === 'mine' && <FetchButton first={false} />}
      {below}
    </>
  );
}

/** The sites that are drawn: the best few, until one chooses. */
function Drawn(props: {
  overview: Overview;
  clockMin: number | null;
  nameOf: (wantedId: string) => string;
  frames: ReadonlySignal<readonly LibraryFrame[]>;
}) {
  const { overview, clockMin, nameOf, frames } = props;
  const chosen = useSignal<readonly string[] | null>(null);
  const drawn = useSignal<readonly SiteDays[]>([]);
  const known = sitesInOrder(overview).filter(({ forecast }) => forecast !== null);
  const ids = (chosen.value ?? known.slice(0, drawnAtFirst).map(({ siteId }) => siteId)).filter((id) =>
    known.some(({ siteId }) => siteId === id),
  );
  useEffect(() => {
    let wanted = true;
    void Promise.all(ids.map(siteDays)).then((sites) => {
      if (wanted) drawn.value = sites.filter((site) => site !== null);
    });
    return () => {
      wanted = false;
    };
  }, [overview, ids.join()]);
  return (
    <>
      <PlacesDrawn
        {...{ overview, clockMin, nameOf, drawn: ids }}
        onDrawn={(siteIds) => (chosen.value = siteIds)}
      />
      <DaysOfSites sites={drawn.value} {...{ clockMin, nameOf }} frames={frames.value} />
    </>
  );
}

/** Newer forecasts, where the photographer has asked for some before and those here are old. */
function fetchIfOld(store: StoreName): void {
  const asked = overviewOf(store).peek();
  if (store !== 'mine' || asked.at !== 'here' || !forecasting.peek().byItself || !navigator.onLine) return;
  const old = asked.value.sites.some(
    ({ forecast }) => forecast === null || (forecast.ageH ?? 0) > fetchAfterH,
  );
  if (old) void fetchForecasts();
}

/** The invented outing has a day of its own. */
function nowOf(store: StoreName, { madeAtMs, sites }: Overview): number {
  const issued = store === 'invented' ? sites[0]?.forecast?.issuedAt : null;
  return issued === null || issued === undefined ? madeAtMs : Date.parse(issued);
}

/** "field-scabious-with-drops" as one would say it, until the notebook tells the title. */
function readable(id: string): string {
  const words = id.replaceAll(/[-_]+/g, ' ').trim();
  return words.charAt(0).toUpperCase() + words.slice(1);
}

/** The age of the oldest forecast that the answer rests on. */
function forecastWords({ sites }: Overview, clockMin: number | null): string {
  const known = sites.flatMap(({ forecast, offsetMin }) =>
    forecast === null ? [] : [{ forecast, offsetMin }],
  );
  const oldest = known.toSorted((a, b) => (b.forecast.ageH ?? 0) - (a.forecast.ageH ?? 0))[0];
  if (oldest === undefined) return '';
  const { issuedAt, ageH } = oldest.forecast;
  if (issuedAt === null) return 'forecast of an unknown hour';
  const issuedMs = Date.parse(issuedAt);
  const offsetMin = clockMin ?? oldest.offsetMin ?? readersOffsetMin(issuedMs);
  return `forecast of ${clockWords(issuedMs, offsetMin)}${ageH === null ? '' : `, ${ageWords(ageH)}`}`;
}
