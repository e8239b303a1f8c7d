/** A folder of the library as the Frames page draws it. */
import {
  DELIVERIES,
  deliveryInWords,
  deliveryLimitPx,
  frameWords,
  IDENTIFICATION_VIEWS,
  largestDelivery,
  missingViews,
  outingVerdict,
  shortList,
  type FrameCircumstances,
  type NamedSeries,
} from '@tepal/advice';
import type { Decision, FramesAnswer, LibraryFrame, LibrarySeries, MeasuredFrame } from '@tepal/formats';
import { existsSync } from 'node:fs';
import type { Store } from './stores.ts';

const judged = DELIVERIES[0]!;

export function framesAnswer(store: Store): FramesAnswer {
  const { library } = store;
  const folder = store.photographs();
  const { frames, series, failed } = library.measuring(folder ?? '');
  const decisions = library.decisions();
  const names = library.names(folder ?? '');
  const shows = library.shows(folder ?? '');
  const outing = library.outing(folder ?? '');
  const circumstances = circumstancesOf(outing);
  const usual = usualNames(series);
  const named = series.map(({ id }): NamedSeries & { id: string } => {
    const shown = shows.get(id);
    return {
      id,
      name: names.get(id) ?? '',
      shows: IDENTIFICATION_VIEWS.find((view) => view === shown) ?? null,
    };
  });
  const answered = frames.map(({ id, measured }) =>
    libraryFrame({ id, measured }, decisions.get(id) ?? null, circumstances),
  );
  const idOf = new Map(answered.map((frame) => [frame.file, frame.id]));
  const first = answered[0];
  return {
    folder,
    folders: library.folders(),
    gone: folder !== null && frames.length > 0 && !existsSync(folder),
    limitPx: first === undefined ? 1 : limitOf(first),
    outing,
    shortList: shortList<LibraryFrame>(answered, {
      limitPxOf: limitOf,
      subjectOf: (frame) => names.get(frame.series) ?? null,
    }).map(({ frame, why }) => ({ frameId: frame.id, why })),
    verdict: outingVerdict(answered, circumstances),
    series: series.map(({ files, best, ...one }, i): LibrarySeries => {
      const name = names.get(one.id);
      return {
        ...one,
        name: name ?? usual.get(one.id) ?? one.id,
        named: name !== undefined,
        shows: named[i]?.shows ?? null,
        lacks: name === undefined ? [] : missingViews(named, name),
        frameIds: files.flatMap((file) => idOf.get(file) ?? []),
        bestId: idOf.get(best) ?? '',
      };
    }),
    frames: answered,
    failed,
  };
}

/** One frame of the folder that is open; null where that folder does not hold it. */
export function frameAnswer(store: Store, id: string): LibraryFrame | null {
  const folder = store.photographs() ?? '';
  const measured = store.library.measured(folder, id);
  if (measured === null) return null;
  const circumstances = circumstancesOf(store.library.outing(folder));
  return libraryFrame({ id, measured }, store.library.decision(id), circumstances);
}

/** The largest sharp sigma of a frame for what all are judged for [px]. */
export const limitOf = (frame: { widthPx: number; heightPx: number }) => deliveryLimitPx(frame, judged);

/** Hands are what moved only where nothing else held the camera. */
function circumstancesOf({ support }: FramesAnswer['outing']): Pick<FrameCircumstances, 'held'> {
  if (support === null) return {};
  return { held: support === 'tripod' || support === 'beanbag' ? 'support' : 'hand' };
}

function libraryFrame(
  { id, measured }: { readonly id: string; readonly measured: MeasuredFrame },
  decision: Decision | null,
  circumstances: FrameCircumstances,
): LibraryFrame {
  const largest = largestDelivery(measured, measured.blur.sigmaPx);
  return {
    ...measured,
    id,
    words: frameWords(measured, limitOf(measured), circumstances),
    largestDelivery: largest === null ? null : deliveryInWords(measured, largest),
    decision,
  };
}

const months = [
  ...['January', 'February', 'March', 'April', 'May', 'June', 'July'],
  ...['August', 'September', 'October', 'November', 'December'],
];

/** "11 June, no. 3": counted within the day, for the page gives the times; by its first file without a time. */
function usualNames(series: readonly { readonly id: string; readonly startedAt: string | null }[]) {
  const counted = new Map<string, number>();
  return new Map(
    series.map(({ id, startedAt }) => {
      if (startedAt === null) return [id, id] as const;
      const [, month = '1', day = '1'] = startedAt.slice(0, 10).split('-');
      const date = `${Number(day)} ${months[Number(month) - 1]}`;
      const number = (counted.get(date) ?? 0) + 1;
      counted.set(date, number);
      return [id, `${date}, no. ${number}`] as const;
    }),
  );
}
