/** `tepal sway FOLDER`: how a flower swayed over the frames of a burst. */
import type { SwayDocument } from '@tepal/formats';
import { change, find } from '@tepal/notebook';
import { DEFAULT_DELIVERY } from '@tepal/science';
import type { Command } from 'commander';
import { DeskFault, exitStatus } from '../files/faults.ts';
import { readNotebook, writeNotebook } from '../library/notebook-file.ts';
import { swayOfFolder, type SwayScale } from '../sway/sway-of-folder.ts';
import { asDelivery, asNumber, asPair, asPoint, type DeliveryWish } from './options.ts';
import { printJson, progressLine, table, terminal } from './print.ts';

interface Options {
  readonly magnification?: number;
  readonly sensor?: { readonly width: number; readonly height: number };
  readonly pixels?: { readonly width: number; readonly height: number };
  readonly point?: { readonly x: number; readonly y: number };
  readonly head?: number;
  readonly intervalS?: number;
  readonly fastestHz?: number;
  readonly deliver?: DeliveryWish;
  readonly notebook?: string;
  readonly subject?: string;
  readonly json?: boolean;
}

export function addSway(program: Command): void {
  program
    .command('sway')
    .description('how far and how fast a flower sways, from the frames of one burst')
    .argument('<folder>', 'folder with the frames of one burst; nothing in it is changed')
    .option('--magnification <m>', 'image size over subject size: lengths in mm at the subject', asNumber)
    .option('--sensor <WxH>', 'in mm', asPair)
    .option('--pixels <WxH>', 'of the full frame, where the frames are cut out of it', asPair)
    .option('--point <X,Y>', 'middle of the flower, fractions of width and height from the top left', asPoint)
    .option('--head <share>', 'width of the flower head as a share of the frame, 0.25 unless given', asNumber)
    .option('--interval-s <T>', 'even time between frames, where the camera wrote none', asNumber)
    .option('--fastest-hz <F>', 'fastest swing thought of, 6 unless given', asNumber)
    .option('--deliver <size>', 'what must be sharp: WIDTHxHEIGHTmm@DISTANCE', asDelivery)
    .option('--notebook <file>', 'notebook whose subject keeps the sway')
    .option('--subject <id>', 'that subject')
    .option('--json', 'one JSON document')
    .action(async (folder: string, options: Options) => {
      const scale = scaleOf(options);
      if ((options.notebook === undefined) !== (options.subject === undefined)) {
        throw new DeskFault('Keeping the sway needs both --notebook and --subject.');
      }
      if (options.notebook !== undefined && scale === null) {
        throw new DeskFault('A subject keeps its sway in mm: give --magnification and --sensor.');
      }
      if (options.intervalS !== undefined && !(options.intervalS > 0)) {
        throw new DeskFault(`expected a time above 0 s for --interval-s but received ${options.intervalS}.`);
      }
      const found = await swayOfFolder({
        ...{ folder, scale, tell: progressLine(), delivery: options.deliver ?? DEFAULT_DELIVERY },
        ...{ point: options.point ?? null, headShare: options.head ?? null },
        ...{ intervalS: options.intervalS ?? null, fastestHz: options.fastestHz ?? null },
      });
      terminal.endProgress();
      const savedTo = await keep(found, options);
      const document: SwayDocument = { ...found, savedTo };
      if (options.json) printJson(document);
      else terminal.out(readable(document));
      process.exitCode = document.failed.length > 0 ? exitStatus.someFailed : exitStatus.done;
    });
}

function scaleOf({ magnification, sensor, pixels }: Options): SwayScale | null {
  if (magnification === undefined) return null;
  if (!(magnification > 0)) {
    throw new DeskFault(`expected a number above 0 for --magnification but received ${magnification}.`);
  }
  if (sensor === undefined) throw new DeskFault('--magnification needs --sensor, such as --sensor 36x24.');
  return { magnification, sensorMm: sensor, pixels: pixels ?? null };
}

/** @returns the subject's identifier, null where nothing was to be kept or there is no swing to keep */
async function keep({ amplitude, frequencyHz }: SwayDocument, { notebook: file, subject }: Options) {
  if (file === undefined || subject === undefined) return null;
  const { path, notebook } = await readNotebook(file, { create: false });
  if (find(notebook, 'subject', subject) === null) {
    throw new DeskFault(`expected a subject of the notebook for --subject but received ${subject}.`);
  }
  if (!amplitude || typeof amplitude.mm !== 'number' || frequencyHz === null) return null;
  const sway = { amplitudeMm: amplitude.mm, frequencyHz: frequencyHz.observed };
  const note = { message: 'sway from a burst', timeMs: Date.now() };
  await writeNotebook(
    path,
    change(notebook, note, (pen) => pen.patch('subject', subject, { sway })),
  );
  return subject;
}

const digits = (value: number) => String(Number(value.toPrecision(3)));

function readable(document: SwayDocument): string {
  const { displacement, amplitude, speedPerS, frequencyHz, freezingTimeS, savedTo } = document;
  const row = (what: string, one: { px: number; mm: number | null } | null) =>
    one === null ? [] : [[what, digits(one.px), one.mm === null ? '–' : digits(one.mm)]];
  const rows = [
    ...row('either way', amplitude),
    ...row('standard deviation', displacement),
    ...row('speed, a second', speedPerS),
  ];
  return [
    ...(frequencyHz === null ? [] : [`It swings ${digits(frequencyHz.observed)} times a second.`]),
    ...(rows.length === 0 ? [] : [table(['sway', 'px', 'mm'], rows)]),
    ...(freezingTimeS === null ? [] : [`A shutter of ${digits(freezingTimeS)} s freezes it in mid-swing.`]),
    ...document.reasons,
    ...document.cautions,
    ...(savedTo === null ? [] : [`Kept with ${savedTo}.`]),
    ...document.failed.map(({ file, reason }) => `${file}: ${reason}`),
  ].join('\n');
}
