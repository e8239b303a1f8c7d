/** One series: its name, what there is to say of it, and its frames as crops at the point of focus, best first. */
import { useComputed, useSignal, type ReadonlySignal, type Signal } from '@preact/signals';
import {
  enginePaths,
  type EngineAnswer,
  type Job,
  type LibraryFrame,
  type LibrarySeries,
  type StoreName,
} from '@tepal/formats';
import { useEffect, useRef } from 'preact/hooks';
import { addressOf } from '../app/address.ts';
import { goTo } from '../app/navigate.ts';
import { engineOf } from '../engine/engine.ts';
import { counted } from '../words/amounts.ts';
import type { Choosing } from './choosing.ts';
import { cropAround, cropsAbreast } from './crop-around.ts';
import { FocusRing } from './focus-ring.tsx';
import { openBeside } from './frame-keys.ts';
import { AfterNaming, NamingForm, recordAddress } from './series-naming.tsx';
import { bestFirst, seriesFacts, worthWords } from './series-order.ts';

/** Between crops, and the narrowest crop on a phone and on a screen [CSS px]. */
const gapCss = 10;
const smallestCss = (row: number) => (row < 560 ? 150 : 206);

interface RowProps {
  readonly store: StoreName;
  readonly series: LibrarySeries;
  readonly byId: ReadonlySignal<ReadonlyMap<string, LibraryFrame>>;
  readonly chosen: Signal<string | null>;
  readonly beside: Signal<readonly string[]>;
  readonly choosing: Choosing;
  /** The series of which every frame is shown; kept by the page, for a row far away is not drawn. */
  readonly whole: Signal<ReadonlySet<string>>;
  /** The series above it; null for the first. */
  readonly before: string | null;
  /** Called with the work that parts or joins series. */
  readonly onRegroup: (work: Promise<EngineAnswer<Job>>) => void;
}

export function SeriesRow({
  store,
  series,
  byId,
  chosen,
  beside,
  choosing,
  whole,
  before,
  onRegroup,
}: RowProps) {
  const mat = useRef<HTMLUListElement>(null);
  const abreast = useSignal({ count: 0, sizeCss: 0 });
  const isWhole = useComputed(() => whole.value.has(series.id)).value;
  const turn = () => {
    const next = new Set(whole.value);
    if (!next.delete(series.id)) next.add(series.id);
    whole.value = next;
  };
  useEffect(() => {
    const list = mat.current;
    if (list === null) return;
    const measure = () => {
      // Rounded down: a row half a pixel too wide would lose its last crop.
      const width = Math.floor(list.getBoundingClientRect().width) - 2 * gapCss;
      const next = cropsAbreast(width, smallestCss(width), gapCss);
      if (next.sizeCss !== abreast.value.sizeCss || next.count !== abreast.value.count) abreast.value = next;
    };
    const watching = new ResizeObserver(measure);
    watching.observe(list);
    measure();
    return () => watching.disconnect();
  }, []);

  const frames = bestFirst(series, byId.value);
  const fits = abreast.value.count;
  const shown = isWhole ? frames : frames.slice(0, fits <= 2 ? 4 : fits);
  const more = frames.length - shown.length;
  return (
    <section class="series" aria-labelledby={`series-${series.id}`}>
      <SeriesHead {...{ store, series, choosing, before, onRegroup }} />
      <ul class="crops-row" ref={mat} style={{ '--crop': `${abreast.value.sizeCss}px` }}>
        {abreast.value.sizeCss > 0 &&
          shown.map((frame) => (
            <li key={frame.id}>
              <Crop
                store={store}
                frame={frame}
                sizeCss={abreast.value.sizeCss}
                best={frame.id === series.bestId && frames.length > 1}
                chosen={chosen}
                beside={beside}
              />
            </li>
          ))}
      </ul>
      {(more > 0 || isWhole) && frames.length > 1 && (
        <button class="quiet" onClick={turn} aria-expanded={isWhole}>
          {more > 0 ? `Show the ${counted(more, 'other')} that fell behind` : 'Show only the first row'}
        </button>
      )}
    </section>
  );
}

interface CropProps {
  readonly store: StoreName;
  readonly frame: LibraryFrame;
  readonly sizeCss: number;
  readonly best: boolean;
  readonly chosen: Signal<string | null>;
  readonly beside: Signal<readonly string[]>;
}

function Crop({ store, frame, sizeCss, best, chosen, beside }: CropProps) {
  const isChosen = useComputed(() => chosen.value === frame.id).value;
  const isBeside = useComputed(() => beside.value.includes(frame.id)).value;
  const { point } = frame;
  const crop = cropAround(
    { width: frame.widthPx, height: frame.heightPx },
    point,
    { width: sizeCss, height: sizeCss },
    devicePixelRatio,
  );
  const classes = ['crop', best && 'best', frame.decision === 'out' && 'out', isChosen && 'chosen'];
  return (
    <button
      class={classes.filter(Boolean).join(' ')}
      data-frame={frame.id}
      aria-pressed={isChosen}
      title={frame.reasons.join(' ')}
      onClick={(event) => {
        // A second click, or Enter on the chosen frame, opens it.
        if (isChosen && (event.detail === 0 || event.detail === 2)) openBeside(store, [frame.id]);
        chosen.value = frame.id;
      }}
      onDblClick={() => openBeside(store, [frame.id])}
      onFocus={() => (chosen.value = frame.id)}
    >
      <span class="window">
        <img
          loading="lazy"
          decoding="async"
          draggable={false}
          alt=""
          src={enginePaths.crop(store, frame.id, {
            x: crop.x,
            y: crop.y,
            width: crop.width,
            height: crop.height,
          })}
          style={{
            left: `${crop.leftCss}px`,
            top: `${crop.topCss}px`,
            width: `${crop.widthCss}px`,
            height: `${crop.heightCss}px`,
          }}
        />
        {(best || isChosen) && (
          <FocusRing x={sizeCss / 2} y={sizeCss / 2} guessed={point.origin === 'guessed'} />
        )}
      </span>
      <span class="words">{frame.words}</span>{' '}
      <span class="worth">
        {worthWords(frame)}
        {isBeside && ' · beside'}
        {best && point.origin === 'guessed' && ' · point guessed'}
      </span>
      <span class="unseen">
        {best && ', best of this set'}, {frame.file}
      </span>
    </button>
  );
}

type HeadProps = Pick<RowProps, 'store' | 'series' | 'choosing' | 'before' | 'onRegroup'>;

function SeriesHead({ store, series, choosing, before, onRegroup }: HeadProps) {
  const naming = useSignal(false);
  const named = useSignal(false);
  const engine = engineOf(store);
  const blend = async () => {
    const answer = await engine.blend({ frameIds: series.frameIds, title: series.name });
    choosing.fault.value = answer.ok ? null : answer.fault.message;
    if (answer.ok) goTo(addressOf(store, 'picture', { blending: answer.value.id, from: series.bestId }));
  };
  return (
    <div class="series-head">
      <h2 id={`series-${series.id}`}>{series.name}</h2>
      <p class="faint small">{seriesFacts(series)}</p>
      <div class="series-acts">
        {(series.blendSuggested || series.kind === 'focus') && series.frameIds.length > 1 && (
          <button class="quiet" onClick={() => void blend()}>
            {series.blendSuggested ? <strong class="advised">Blend this series</strong> : 'Blend this series'}
          </button>
        )}
        <a class="quiet-link" href={recordAddress(store, series, choosing)}>
          Record<span class="unseen"> the subject of {series.name}</span>
        </a>
        {before !== null && (
          <button class="quiet" onClick={() => onRegroup(engine.joinSeries(before, series.id))}>
            Join to the one above<span class="unseen">: {series.name}</span>
          </button>
        )}
        {naming.value ? (
          <NamingForm
            {...{ store, series, choosing }}
            done={() => {
              naming.value = false;
              named.value = true;
            }}
          />
        ) : (
          <button class="quiet" onClick={() => (naming.value = true)}>
            {series.named ? 'Rename' : 'Name'}
            <span class="unseen"> the series {series.name}</span>
          </button>
        )}
      </div>
      {named.value && <AfterNaming {...{ store, series, choosing }} />}
    </div>
  );
}
