/** One day at one site: hours along it, light as hatching, wind as a line, the hours that suit framed. */
import { useSignal } from '@preact/signals';
import { plantMotion } from '@tepal/science';
import { useMemo } from 'preact/hooks';
import { useWidth } from '../../app/use-width.ts';
import { oneDecimal } from '../../words/amounts.ts';
import { clockWords } from '../../words/clock.ts';
import { lightWord } from '../../words/light.ts';
import { between, type Day, type Timed } from '../day-split.ts';
import { tellableTicks, type FrameTick } from '../drawing/frame-ticks.ts';
import { hatch } from '../drawing/hatching.ts';
import { HourDetails } from './hour-details.tsx';
import { placeLabels } from '../drawing/label-lanes.ts';
import {
  ribbonScale,
  ribbonTop,
  windLines,
  writtenHours,
  type RibbonScale,
} from '../drawing/ribbon-scale.ts';
import { skyWords } from '../drawing/sky-words.ts';
import { windLine } from '../drawing/wind-line.ts';
import { WindowWords } from './window-words.tsx';

interface RibbonProps {
  readonly day: Day;
  readonly siteName: string;
  readonly range: { readonly from: number; readonly to: number };
  readonly ticks: readonly FrameTick[];
  readonly nameOf: (wantedId: string) => string;
}

const hourMs = 3_600_000;

export function DayRibbon({ day, siteName, range, ticks, nameOf }: RibbonProps) {
  const { ref, width } = useWidth<HTMLDivElement>();
  const chosen = useSignal<number | null>(null);
  const fromMs = day.startMs + range.from * hourMs;
  const toMs = day.startMs + range.to * hourMs;
  const scale = ribbonScale(width.value, fromMs, toMs);
  const shown = day.hours.filter(({ timeMs }) => timeMs >= fromMs && timeMs <= toMs);
  const at = chosen.value === null ? null : (shown[chosen.value] ?? null);
  const nearest = (x: number) => {
    const timeMs = scale.timeOf(x);
    const gaps = shown.map((one) => Math.abs(one.timeMs - timeMs));
    return gaps.indexOf(Math.min(...gaps));
  };
  const onKey = (event: KeyboardEvent) => {
    const now = chosen.value ?? -1;
    const next: Record<string, number> = {
      ArrowRight: Math.min(shown.length - 1, now + 1),
      ArrowLeft: Math.max(0, now - 1),
      Home: 0,
      End: shown.length - 1,
    };
    const to = next[event.key];
    if (event.key === 'Escape') chosen.value = null;
    else if (to !== undefined) {
      event.preventDefault();
      chosen.value = to;
    }
  };
  return (
    <div class="ribbon" ref={ref}>
      {width.value > 0 && (
        <div
          class="ribbon-drawing"
          role="slider"
          tabIndex={0}
          aria-label={`Hours at ${siteName}`}
          aria-valuemin={0}
          aria-valuemax={Math.max(0, shown.length - 1)}
          aria-valuenow={chosen.value ?? 0}
          aria-valuetext={at === null ? 'no hour opened' : hourWords(at, day.offsetMin)}
          onKeyDown={onKey}
          onClick={(event) => {
            const index = nearest(event.clientX - event.currentTarget.getBoundingClientRect().left);
            chosen.value = chosen.value === index ? null : index;
          }}
        >
          <Drawing day={day} scale={scale} range={range} width={width.value} ticks={ticks} chosen={at} />
        </div>
      )}
      <WindowWords day={day} scale={scale} width={width.value} nameOf={nameOf} />
      {at !== null && (
        <HourDetails
          timed={at}
          offsetMin={day.offsetMin}
          onClose={() => (chosen.value = null)}
          onStep={(by) => (chosen.value = Math.min(shown.length - 1, Math.max(0, (chosen.value ?? 0) + by)))}
        />
      )}
    </div>
  );
}

/** "6:00, soft light, stirring, 0.4 m/s, 9 °C". */
function hourWords({ timeMs, hour }: Timed, offsetMin: number): string {
  const wind = hour.wind.atPlantMs;
  const degrees = hour.air.temperatureC;
  return [
    clockWords(timeMs, offsetMin),
    lightWord(hour.light.illuminanceLux, hour.light.diffuseShare),
    wind === null ? 'wind not known' : `${plantMotion(wind)}, ${oneDecimal(wind)} m/s at the plant`,
    degrees === null ? '' : `${Math.round(degrees)} °C`,
  ]
    .filter(Boolean)
    .join(', ');
}

interface DrawingProps {
  readonly day: Day;
  readonly scale: RibbonScale;
  readonly range: { readonly from: number; readonly to: number };
  readonly width: number;
  readonly ticks: readonly FrameTick[];
  readonly chosen: Timed | null;
}

function Drawing({ day, scale, range, width, ticks, chosen }: DrawingProps) {
  const { light, lightEnd } = ribbonTop;
  const { strokes, wind } = useMemo(() => {
    const numberAt = (x: number, read: Parameters<typeof between>[2]) =>
      between(day.around, scale.timeOf(x), read);
    return {
      strokes: hatch({ from: scale.from, to: scale.to, top: light + 6, bottom: lightEnd }, (x) => {
        const illuminanceLux = numberAt(x, (hour) => hour.light.illuminanceLux);
        const diffuseShare = numberAt(x, (hour) => hour.light.diffuseShare);
        return illuminanceLux === null ? null : { illuminanceLux, diffuseShare: diffuseShare ?? 1 };
      }),
      wind: windLine(
        { from: scale.from, to: scale.to, seed: Math.round(day.startMs / 86_400_000) },
        (x) => {
          const meanMs = numberAt(x, (hour) => hour.wind.atPlantMs);
          const gustMs = numberAt(x, (hour) => hour.wind.gustAtPlantMs);
          return meanMs === null ? null : { meanMs, gustMs: gustMs ?? meanMs };
        },
        scale.yOfWind,
      ),
    };
  }, [day, width, range.from, range.to]);

  const words = skyWords(day.hours, scale.timeOf(scale.from), scale.timeOf(scale.to));
  const places = placeLabels(
    words.map((word) => ({ x: scale.xOf(word.timeMs), width: word.words.length * 7.1 })),
    { from: scale.from + 4, to: scale.to, gap: 14, drift: 90 },
  );
  return (
    <svg width={width} height={ribbonTop.height} aria-hidden="true">
      <g class="hours">
        {writtenHours(range.from, range.to, scale.to - scale.from).map((hour) => (
          <text
            key={hour}
            x={scale.xOf(day.startMs + hour * hourMs)}
            y={ribbonTop.hours}
            text-anchor="middle"
          >
            {hour}:00
          </text>
        ))}
        <path class="hairline" d={`M${scale.from} ${ribbonTop.axis}H${scale.to}`} />
      </g>
      {words.map((word, index) => {
        const place = places[index];
        // The ribbon has one line of words; what finds no room in it stands in the hour's details.
        return place === undefined || place.lane > 0 ? null : (
          <text key={word.timeMs} class="sky" x={place.x} y={ribbonTop.words}>
            {word.words}
          </text>
        );
      })}
      {strokes.map(({ ink, path }) => (
        <path key={ink} d={path} class="hatch" style={{ opacity: ink }} />
      ))}
      {windLines(scale).map(({ word, y }) => (
        <g key={word} class="wind-word">
          <path d={`M${scale.from} ${y}H${scale.to}`} />
          <text x={scale.to + 8} y={y + 4}>
            {word}
          </text>
        </g>
      ))}
      <path class="wind" d={wind} />
      {day.windows.map((window) => {
        const x = scale.xOf(Date.parse(window.from));
        return (
          <rect
            key={`${window.wanted} ${window.from}`}
            class="window-frame"
            x={x}
            y={light}
            width={Math.max(6, scale.xOf(Date.parse(window.to)) - x)}
            height={lightEnd - light + 6}
          />
        );
      })}
      {tellableTicks(ticks, scale.xOf).map(({ id, timeMs, sharp }) => (
        <path
          key={id}
          class={sharp ? 'tick sharp' : 'tick'}
          d={`M${scale.xOf(timeMs).toFixed(1)} ${lightEnd + 2}v${sharp ? -22 : -9}`}
        />
      ))}
      {chosen !== null && (
        <path
          class="chosen-hour"
          d={`M${scale.xOf(chosen.timeMs).toFixed(1)} ${ribbonTop.axis}V${ribbonTop.height}`}
        />
      )}
    </svg>
  );
}
