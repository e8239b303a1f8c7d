/** Under the ribbon: what each framed stretch is good for and why, and what the wanted pictures miss. */
import { clockWords } from '../words/clock.ts';
import type { Day } from './day-split.ts';
import { placeLabels } from './label-lanes.ts';
import type { RibbonScale } from './ribbon-scale.ts';

interface Words {
  readonly key: string;
  readonly title: string;
  readonly line: string;
  readonly timeMs: number;
  readonly suits: boolean;
}

/** Widths of a letter in the two lines, about [px]. */
const titleLetterPx = 7.9;
const lineLetterPx = 6.9;
const laneHeightPx = 48;
/** Narrower ribbons list the words below each other. */
const narrowPx = 620;

export function WindowWords(props: {
  day: Day;
  scale: RibbonScale;
  width: number;
  nameOf: (wantedId: string) => string;
}) {
  const { day, scale, width, nameOf } = props;
  const words = wordsOf(day, nameOf);
  if (words.length === 0 || width === 0) return null;
  if (width < narrowPx) {
    return (
      <ul class="window-words narrow">
        {words.map((one) => (
          <li key={one.key} class={one.suits ? 'suits' : undefined}>
            <span class="title">{one.title}</span>
            <span class="line">{one.line}</span>
          </li>
        ))}
      </ul>
    );
  }
  const widthOf = ({ title, line }: Words) =>
    Math.min(360, Math.max(title.length * titleLetterPx, line.length * lineLetterPx) + 14);
  const places = placeLabels(
    words.map((one) => ({ x: scale.xOf(one.timeMs), width: widthOf(one) })),
    { from: scale.from, to: width, gap: 18, drift: 260 },
  );
  const lanes = Math.max(...places.map(({ lane }) => lane)) + 1;
  return (
    <ul class="window-words" style={{ height: `${lanes * laneHeightPx}px` }}>
      {words.map((one, index) => {
        const place = places[index] ?? { x: 0, lane: 0 };
        const x = scale.xOf(one.timeMs);
        const atItsHour = one.suits && Math.abs(place.x - x) < 1;
        return (
          <li
            key={one.key}
            class={`${one.suits ? 'suits' : ''}${atItsHour ? ' led' : ''}`}
            style={{
              left: `${place.x}px`,
              top: `${place.lane * laneHeightPx}px`,
              maxWidth: `${widthOf(one)}px`,
              '--lead': `${86 + place.lane * laneHeightPx}px`,
            }}
          >
            <span class="title">{one.title}</span>
            <span class="line">{one.line}</span>
          </li>
        );
      })}
    </ul>
  );
}

function wordsOf(day: Day, nameOf: (wantedId: string) => string): readonly Words[] {
  const clock = (iso: string) => clockWords(Date.parse(iso), day.offsetMin);
  const suits = day.windows.map((window) => ({
    key: `${window.wanted} ${window.from}`,
    title: nameOf(window.wanted),
    // The weakest first: it is what the window hangs on.
    line: `${clock(window.from)} to ${clock(window.to)}. ${window.factors
      .toSorted((a, b) => a.value - b.value)
      .slice(0, 2)
      .map(({ why }) => why)
      .join(' ')}`,
    timeMs: Date.parse(window.from),
    suits: true,
  }));
  const missed = day.misses.map((miss) => ({
    key: `${miss.wanted} ${miss.best}`,
    title: nameOf(miss.wanted),
    line: `Missed by ${miss.failing}. ${miss.why}`,
    timeMs: Date.parse(miss.best),
    suits: false,
  }));
  return [...suits, ...missed];
}
