/** A folder measured: every frame surveyed, grouped into series, looked at again at the point, ranked. */
import { deliveryLimitPx, DELIVERIES, keepOwnSeries, type Delivery } from '@tepal/advice';
import type { MeasureDocument } from '@tepal/formats';
import { resolve } from 'node:path';
import { DeskFault } from '../files/faults.ts';
import { surveyFromBytes } from '../library/survey-bytes.ts';
import { groupFrames } from './grouping.ts';
import { measureSeries, type SeriesResult } from './measure-series.ts';
import { openWindows, type WindowStore } from './second-look/windows.ts';
import { inTurn, surveyFolder, type PassOptions, type SurveyedFrame } from './survey-pass.ts';

export interface MeasureOptions extends PassOptions {
  readonly delivery?: Delivery;
  /** Marked on the command line: in the first frame of each series, and carried. */
  readonly point: { readonly x: number; readonly y: number } | null;
  readonly map: boolean;
}

/**
 * @returns the measure document; the measuring is kept in the library as well
 * @throws DeskFault with status 3 when nothing could be read
 */
export async function measureFolder(
  options: MeasureOptions,
): Promise<MeasureDocument & { readonly map?: readonly BlurMap[] }> {
  const windows = openWindows();
  try {
    return await measureWith({ ...options, windows });
  } finally {
    windows.close();
  }
}

async function measureWith(options: MeasureOptions & { readonly windows: WindowStore }) {
  const { library, signal, tell } = options;
  const delivery = options.delivery ?? DELIVERIES[0]!;
  const pass = await surveyFolder(options);
  const failed = [...pass.failed];
  if (pass.frames.length === 0) {
    library.putMeasuring(resolve(options.folder), { frames: [], series: [], failed }, now());
    if (failed.length === 0)
      throw new DeskFault(`There are no frames in ${options.folder}, only what Tepal made itself.`, 3);
  }
  const own = library.ownSeries(resolve(options.folder));
  const groups = keepOwnSeries(await groupFrames(pass.frames, options), ({ id }) => own.get(id) ?? null);
  const marks = library.points();
  let done = 0;
  tell({ done, total: pass.frames.length, saying: 'Measuring at the point of focus.' });
  // Series do not depend on one another: as many at a time as there are threads.
  const results: SeriesResult[] = [];
  await inTurn(groups, options.pool.size, async (group, i) => {
    const stored = group.frames.find(({ id }) => marks.has(id));
    const mark = stored === undefined ? null : { frameId: stored.id, ...marks.get(stored.id)! };
    results[i] = await measureSeries(group.id, group.frames, {
      ...{ library, pool: options.pool, windows: options.windows, signal, delivery },
      marked: options.point === null ? mark : { frameId: group.frames[0]!.id, ...options.point },
      step: () => {
        done += 1;
        tell({ done });
      },
    });
  });
  const frames = results.flatMap((result) => result.frames);
  const series = results.flatMap((result) => (result.series === null ? [] : [result.series]));
  failed.push(...results.flatMap((result) => result.failed));
  library.putMeasuring(resolve(options.folder), { frames, series, failed }, now());
  const largest = [...pass.frames].sort(
    (a, b) => b.facts.widthPx * b.facts.heightPx - a.facts.widthPx * a.facts.heightPx,
  )[0];
  return {
    schema: 'tepal/measure/1' as const,
    limitPx: largest === undefined ? null : deliveryLimitPx(largest.facts, delivery),
    frames: frames.map(({ measured }) => measured),
    series,
    failed,
    ...(options.map ? { map: pass.frames.map((frame) => blurMap(frame, options)) } : {}),
  };
}

const now = () => new Date().toISOString();

/** Where a frame is sharp, tile by tile: fine detail over gradient energy, larger is sharper. */
export interface BlurMap {
  readonly file: string;
  readonly tilePx: number;
  readonly columns: number;
  readonly rows: number;
  readonly detail: readonly number[];
  readonly gradient: readonly number[];
}

function blurMap(frame: SurveyedFrame, { library }: Pick<MeasureOptions, 'library'>): BlurMap {
  const bytes = library.survey(frame.id);
  if (bytes === null) throw new DeskFault(`The survey of ${frame.file} is lost; measure again.`, 3);
  const { tilePx, columns, rows, detail, gradientXX, gradientYY } = surveyFromBytes(bytes);
  const short = (value: number) => Math.round(value * 100) / 100;
  return {
    ...{ file: frame.file, tilePx, columns, rows },
    detail: Array.from(detail, short),
    gradient: Array.from(gradientXX, (xx, i) => short(xx + gradientYY[i]!)),
  };
}
