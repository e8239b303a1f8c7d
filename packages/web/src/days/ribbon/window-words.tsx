/** Under the ribbon: what each framed stretch is good for and why, and what the wanted pictures miss. */
import { clockWords } from '../../words/clock.ts';
import type { Day } from '../day-split.ts';
import { listed } from '../days-answer.ts';
import { placeLabels } from '../drawing/label-lanes.ts';
import type { RibbonScale } from '../drawing/ribbon-scale.ts';

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
const widestPx = 390;
/** A ribbon carries the words of so many stretches and misses; the rest stands in the lists above. */
const mostSuits = 5;
const mostMisses = 3;
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
    Math.min(widestPx, Math.max(title.length * titleLetterPx, line.length * lineLetterPx) + 14);
  const places = placeLabels(
    words.map((one) => ({ x: scale.xOf(one.timeMs), width: widthOf(one) })),
    { from: scale.from, to: width, gap: 18, drift: 420 },
  );
  const laneCount = Math.max(...places.map(({ lane }) => lane)) + 1;
  const heights = Array.from({ length: laneCount }, (_, lane) =>
    Math.max(...words.map((one, index) => (places[index]?.lane === lane ? heightOf(one) : 0))),
  );
  const topOf = (lane: number) => heights.slice(0, lane).reduce((sum, height) => sum + height, 0);
  return (
    <ul class="window-words" style={{ height: `${topOf(laneCount)}px` }}>
      {words.map((one, index) => {
        const place = places[index] ?? { x: 0, lane: 0 };
        const x = scale.xOf(one.timeMs);
        // Further down a line to its hour would run through other words.
        const atItsHour = one.suits && place.lane === 0 && Math.abs(place.x - x) < 1;
        return (
          <li
            key={one.key}
            class={`${one.suits ? 'suits' : ''}${atItsHour ? ' led' : ''}`}
            style={{
              left: `${place.x}px`,
              top: `${topOf(place.lane)}px`,
              maxWidth: `${widthOf(one)}px`,
              '--lead': `${86 + topOf(place.lane)}px`,
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

/** How high a label stands, from the lines that its words take [px]. */
const heightOf = ({ title, line }: Words) =>
  Math.ceil((title.length * titleLetterPx) / widestPx) * 22 +
  Math.ceil((line.length * lineLetterPx) / widestPx) * 19 +
  10;

function wordsOf(day: Day, nameOf: (wantedId: string) => string): readonly Words[] {
  const clock = (iso: string) => clockWords(Date.parse(iso), day.offsetMin);
  // Pictures that the same hours suit stand together.
  const hours = [...new Set(day.windows.map(({ from, to }) => `${from} ${to}`))];
  const suits = hours.flatMap((key) => {
    const those = day.windows.filter(({ from, to }) => `${from} ${to}` === key);
    const [first] = those;
    if (first === undefined) return [];
    const title = listed(those.map(({ wanted }) => nameOf(wanted)));
    const line = `${clock(first.from)} to ${clock(first.to)}. ${weakestFirst(those).join(' ')}`;
    return [{ key, title, line, timeMs: Date.parse(first.from), suits: true }];
  });
  const missed = day.misses.map((miss) => ({
    key: `${miss.wanted} ${miss.best}`,
    title: nameOf(miss.wanted),
    line: `Missed by ${miss.failing}. ${miss.why}`,
    timeMs: Date.parse(miss.best),
    suits: false,
  }));
  return [...suits.slice(0, mostSuits), ...fewMisses(day.misses, missed)];
}

/** The nearest misses; of the others only how many, for their reasons stand in the list above. */
function fewMisses(misses: Day['misses'], words: readonly Words[]): readonly Words[] {
  const value = (key: string) => misses.find(({ wanted, best }) => `${wanted} ${best}` === key)?.value ?? 0;
  return words
    .toSorted((a, b) => value(b.key) - value(a.key))
    .slice(0, mostMisses)
    .toSorted((a, b) => a.timeMs - b.timeMs);
}

/** What speaks most of a field morning, where factors are equally good. */
const telling = ['stillness', 'drops', 'light', 'insects'];

/** The two sentences that the hours hang on: the weakest factors first. */
function weakestFirst(windows: Day['windows']): readonly string[] {
  const place = (name: string) => (telling.includes(name) ? telling.indexOf(name) : telling.length);
  const factors = windows.flatMap((window) => window.factors);
  const sentences = factors
    .toSorted((a, b) => a.value - b.value || place(a.name) - place(b.name))
    .map(({ why }) => why);
  return [...new Set(sentences)].slice(0, 2);
}
