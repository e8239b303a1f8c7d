/** The hours that suit, the best first, with the reason for each; and what no hour gives, with the one thing missing. */
import { useSignal } from '@preact/signals';
import type { Overview, PlacedMiss, PlacedWindow } from '../compute/worker-messages.ts';
import { clockWords, dayWords, weekdayWord } from '../../words/clock.ts';
import { listed, stopped, togetherWith, weakestWords } from '../days-answer.ts';
import { WhyWindow } from './why-window.tsx';

interface ListProps {
  readonly overview: Overview;
  readonly clockMin: number | null;
  readonly nameOf: (wantedId: string) => string;
}

/** So many are listed before one asks for all. */
const first = 4;

/** Windows of the same hours at the same site stand in one line. */
export function linesOf(windows: readonly PlacedWindow[]): readonly (readonly PlacedWindow[])[] {
  const lines = new Map<string, readonly PlacedWindow[]>();
  for (const window of windows) {
    const key = `${window.site} ${window.from} ${window.to}`;
    if (!lines.has(key)) lines.set(key, togetherWith(window, windows));
  }
  return [...lines.values()];
}

export function HoursList({ overview, clockMin, nameOf }: ListProps) {
  const all = useSignal(false);
  const lines = linesOf(overview.windows);
  if (lines.length === 0) return null;
  const shown = all.value ? lines : lines.slice(0, first);
  return (
    <section class="hours-list" aria-labelledby="hours-that-suit">
      <h2 id="hours-that-suit">Hours that suit, the best first</h2>
      <ol class="list">
        {shown.map((line) => (
          <Line
            key={`${line[0]?.site} ${line[0]?.from} ${line[0]?.to}`}
            {...{ line, clockMin, nameOf, several: overview.sites.length > 1 }}
          />
        ))}
      </ol>
      {lines.length > shown.length && (
        <button class="quiet" onClick={() => (all.value = true)}>
          {overview.windowCount > overview.windows.length
            ? `The best ${lines.length}`
            : `All ${lines.length}`}
        </button>
      )}
    </section>
  );
}

function Line(props: {
  line: readonly PlacedWindow[];
  clockMin: number | null;
  nameOf: (wantedId: string) => string;
  several: boolean;
}) {
  const { line, clockMin, nameOf, several } = props;
  const [window] = line;
  if (window === undefined) return null;
  const names = line.map(({ wanted }) => nameOf(wanted));
  const offsetMin = clockMin ?? window.offsetMin;
  return (
    <li>
      <details class="suited">
        <summary>
          <span class="suited-when">{whenWords(window, offsetMin)}</span>
          <span>
            <span class="suited-what">{listed(names) + (several ? '' : '.')}</span>{' '}
            <span class="faint">
              {[
                several ? `at ${window.siteName}` : '',
                window.part === null ? '' : window.part.word,
                weakestWords(window),
              ]
                .filter(Boolean)
                .join('. ')}
            </span>
          </span>
          <span class="why-word">why</span>
        </summary>
        {line.slice(0, 4).map((one) => (
          <WhyWindow key={one.wanted} window={one} title={line.length > 1 ? nameOf(one.wanted) : null} />
        ))}
      </details>
    </li>
  );
}

/** "Thursday, 5:20 to 6:50"; past the third day "Sunday 14 June, early". */
export function whenWords(window: Pick<PlacedWindow, 'from' | 'to' | 'part'>, offsetMin: number): string {
  const fromMs = Date.parse(window.from);
  if (window.part !== null) return `${dayWords(fromMs, offsetMin)}, ${window.part.part}`;
  const hours = `${clockWords(fromMs, offsetMin)} to ${clockWords(Date.parse(window.to), offsetMin)}`;
  return `${weekdayWord(fromMs, offsetMin)}, ${hours}`;
}

export function MissesList({ overview, clockMin, nameOf }: ListProps) {
  const { misses } = overview;
  if (misses.length === 0) return null;
  const nearest = misses.toSorted((a, b) => b.value - a.value);
  const list = (
    <ul class="list">
      {nearest.map((miss) => (
        <li key={`${miss.wanted} ${miss.site}`} class="missed">
          <span class="missed-title">{nameOf(miss.wanted)}</span>{' '}
          <span class="faint">{missWords(miss, clockMin)}</span>
        </li>
      ))}
    </ul>
  );
  if (misses.length <= 4) {
    return (
      <section aria-labelledby="no-hour">
        <h2 id="no-hour">What no hour gives, and what is missing</h2>
        {list}
      </section>
    );
  }
  return (
    <details class="folded">
      <summary>{misses.length} wanted pictures that no hour gives, and what each one misses</summary>
      {list}
    </details>
  );
}

function missWords(miss: PlacedMiss, clockMin: number | null): string {
  const offsetMin = clockMin ?? miss.offsetMin;
  const bestMs = Date.parse(miss.best);
  return stopped(
    `missed by ${miss.failing}, nearest at ${miss.siteName} on ${weekdayWord(bestMs, offsetMin)} at ${clockWords(bestMs, offsetMin)}. ${miss.why}`,
  );
}
