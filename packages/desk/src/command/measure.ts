/** `tepal measure FOLDER`: series, blur and its cause, ranking. */
import {
  deliveryInWords,
  deliveryLimitPx,
  DELIVERIES,
  frameWords,
  largestDelivery,
  outingVerdict,
  shortList,
  type Delivery,
} from '@tepal/advice';
import type { MeasureDocument, MeasuredFrame } from '@tepal/formats';
import type { Command } from 'commander';
import { stat } from 'node:fs/promises';
import { DeskFault, exitStatus } from '../files/faults.ts';
import { openLibrary, openPassingLibrary } from '../library/library.ts';
import { measureFolder } from '../measure/measure-folder.ts';
import { openPool } from '../measure/pool.ts';
import { asDelivery, asPoint, judgedFor, type DeliveryWish } from './options.ts';
import { printJson, progressLine, table, terminal } from './print.ts';

interface Options {
  readonly point?: { readonly x: number; readonly y: number };
  readonly deliver?: DeliveryWish;
  readonly map?: boolean;
  readonly library?: string;
  readonly json?: boolean;
}

export function addMeasure(program: Command): void {
  program
    .command('measure')
    .description('series, blur and its cause, exposure, ranking of the frames of a folder')
    .argument('<folder>', 'folder of photographs; nothing in it is changed')
    .option('--point <X,Y>', 'point of focus, fractions of width and height from the top left', asPoint)
    .option('--deliver <SIZE>', 'what must be sharp: WIDTHxHEIGHTmm@DISTANCE', asDelivery)
    .option('--map', 'add the map of detail, tile by tile')
    .option('--library <folder>', 'keep the measures there; without it nothing is stored')
    .option('--json', 'one JSON document')
    .action(async (folder: string, options: Options) => {
      await requireFolder(folder);
      const library = options.library === undefined ? openPassingLibrary() : openLibrary(options.library);
      const pool = openPool();
      const stop = new AbortController();
      const interrupted = () => stop.abort();
      process.once('SIGINT', interrupted);
      const delivery = options.deliver === undefined ? DELIVERIES[0]! : judgedFor(options.deliver);
      try {
        const document = await measureFolder({
          ...{ folder, library, pool, signal: stop.signal, tell: progressLine() },
          point: options.point ?? null,
          map: options.map ?? false,
          delivery,
        });
        terminal.endProgress();
        if (options.json) printJson(document);
        else terminal.out(readable(document, delivery));
        process.exitCode = statusOf(document);
      } finally {
        process.off('SIGINT', interrupted);
        await pool.close();
        library.close();
      }
    });
}

async function requireFolder(folder: string): Promise<void> {
  const found = await stat(folder).catch(() => null);
  if (found === null) throw new DeskFault(`There is no folder ${folder}.`, 3);
  if (!found.isDirectory())
    throw new DeskFault(`${folder} is a file; measure takes a folder of photographs.`, 3);
}

function statusOf({ frames, failed }: MeasureDocument): number {
  if (frames.length === 0) return exitStatus.nothingRead;
  return failed.length > 0 ? exitStatus.someFailed : exitStatus.done;
}

function readable({ frames, series, failed, limitPx }: MeasureDocument, delivery: Delivery): string {
  const limitOf = (frame: MeasuredFrame) => deliveryLimitPx(frame, delivery);
  const parts = series.map((one) => {
    const rows = frames
      .filter((frame) => frame.series === one.id)
      .sort((a, b) => (a.rank ?? Infinity) - (b.rank ?? Infinity))
      .map((frame) => [
        frame.rank === null ? '–' : String(frame.rank),
        frame.file,
        frameWords(frame, limitOf(frame)),
        largestInWords(frame),
        frame.reasons[0] ?? '',
      ]);
    const head = `${one.files.length === 1 ? '1 frame' : `${one.files.length} frames`}, ${one.kind}, best ${one.best}`;
    const saying = 'saying' in one && typeof one.saying === 'string' ? `\n${one.saying}` : '';
    return `${head}${saying}\n${table(['rank', 'file', 'blur', 'up to', 'why'], rows)}`;
  });
  const first = shortList(frames, { limitPxOf: limitOf }).map(({ frame, why }) => `${frame.file}: ${why}`);
  const faults = failed.map(({ file, reason }) => `${file}: ${reason}`);
  return [
    ...(frames.length > 0 ? [outingVerdict(frames, { delivery }).join(' ')] : []),
    ...parts,
    ...(first.length > 0 ? [`Worth looking at first:\n${first.join('\n')}`] : []),
    ...(limitPx === null || limitPx === undefined ? [] : [`Sharp up to ${limitPx.toFixed(2)} px.`]),
    ...(faults.length > 0 ? [`Not read:\n${faults.join('\n')}`] : []),
  ].join('\n\n');
}

function largestInWords(frame: MeasuredFrame): string {
  const largest = largestDelivery(frame, frame.blur.sigmaPx);
  return largest === null ? 'no size' : deliveryInWords(frame, largest);
}
