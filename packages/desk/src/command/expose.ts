/** `tepal expose`: what to set, what it rests on, and the odds. */
import { exposureAdvice, oneIn, type FixedSettings, type LightReading } from '@tepal/advice';
import type { ExposeDocument } from '@tepal/formats';
import { STEM_CLASSES, SUPPORTS, type StemClass, type Support } from '@tepal/science';
import { InvalidArgumentError, type Command } from 'commander';
import { DeskFault } from '../files/faults.ts';
import { asDelivery, asNumber, asPair, asSeconds, oneOf, type DeliveryWish } from './options.ts';
import { printJson, table, terminal } from './print.ts';

interface Options {
  readonly sensor: { readonly width: number; readonly height: number };
  readonly pixels: { readonly width: number; readonly height: number };
  readonly focal: number;
  readonly pupil?: number;
  readonly magnification: number;
  readonly minF?: number;
  readonly maxF?: number;
  readonly subjectDepth: number;
  readonly background: number;
  readonly ev100?: number;
  readonly lux?: number;
  readonly metered?: LightReading;
  readonly wind?: number;
  readonly stem?: StemClass;
  readonly swayMm?: number;
  readonly swayHz?: number;
  readonly support?: Support;
  readonly stabilisation?: number;
  readonly fix?: FixedSettings;
  readonly deliver?: DeliveryWish;
  readonly intervalS?: number;
  readonly json?: boolean;
}

export function addExpose(program: Command): void {
  program
    .command('expose')
    .description('aperture, shutter, ISO; blur budget; odds; frames to take')
    .requiredOption('--sensor <WxH>', 'in mm', asPair)
    .requiredOption('--pixels <WxH>', 'of a frame', asPair)
    .requiredOption('--focal <mm>', 'focal length', asNumber)
    .option('--pupil <p>', 'pupil magnification', asNumber)
    .requiredOption('--magnification <m>', 'image size over subject size', asNumber)
    .option('--min-f <N>', 'widest marked aperture', asNumber)
    .option('--max-f <N>', 'narrowest marked aperture', asNumber)
    .requiredOption('--subject-depth <mm>', 'depth that must be sharp', asNumber)
    .requiredOption('--background <mm>', 'behind the plane of focus', asNumber)
    .option('--ev100 <EV>', 'light of the scene, at ISO 100', asNumber)
    .option('--lux <lx>', 'light of the scene', asNumber)
    .option('--metered <f/N,t,ISO>', 'read through the lens, such as f/8,1/250,800', asMetered)
    .option('--wind <m/s>', 'at the plant', asNumber)
    .option('--stem <kind>', STEM_CLASSES.join(', '), oneOf(STEM_CLASSES))
    .option('--sway-mm <A>', 'amplitude of the sway across the view', asNumber)
    .option('--sway-hz <F>', 'swings a second', asNumber)
    .option('--support <kind>', SUPPORTS.join(', '), oneOf(SUPPORTS))
    .option('--stabilisation <stops>', 'rated', asNumber)
    .option('--fix <settings>', 'what stands as given, such as f=8,iso=800,t=1/250', asFix)
    .option('--deliver <size>', 'WIDTHxHEIGHTmm@DISTANCE', asDelivery)
    .option('--interval-s <T>', 'time between frames', asNumber)
    .option('--json', 'one JSON document')
    .action((options: Options) => {
      const document = advise(options);
      if (options.json) printJson(document);
      else terminal.out(readable(document));
    });
}

function advise(options: Options): ExposeDocument {
  const { sensor, pixels, swayMm, swayHz } = options;
  if ((swayMm === undefined) !== (swayHz === undefined)) {
    throw new DeskFault('Sway needs both --sway-mm and --sway-hz.');
  }
  return exposureAdvice({
    sensor: { widthMm: sensor.width, heightMm: sensor.height },
    pixels,
    lens: {
      focalLengthMm: options.focal,
      ...(options.pupil === undefined ? {} : { pupilMagnification: options.pupil }),
      ...(options.minF === undefined ? {} : { minFNumber: options.minF }),
      ...(options.maxF === undefined ? {} : { maxFNumber: options.maxF }),
    },
    magnification: options.magnification,
    subjectDepthMm: options.subjectDepth,
    backgroundMm: options.background,
    light: lightOf(options),
    ...(options.wind === undefined ? {} : { windMs: options.wind }),
    ...(options.stem === undefined ? {} : { stem: options.stem }),
    ...(swayMm === undefined || swayHz === undefined
      ? {}
      : { sway: { amplitudeMm: swayMm, frequencyHz: swayHz } }),
    ...(options.support === undefined ? {} : { support: options.support }),
    ...(options.stabilisation === undefined ? {} : { stabilisation: options.stabilisation }),
    ...(options.fix === undefined ? {} : { fix: options.fix }),
    ...(options.deliver === undefined ? {} : { delivery: options.deliver }),
    ...(options.intervalS === undefined ? {} : { intervalS: options.intervalS }),
  });
}

function lightOf({ ev100, lux, metered }: Options): LightReading {
  const readings: LightReading[] = [
    ...(ev100 === undefined ? [] : [{ kind: 'ev100' as const, ev100 }]),
    ...(lux === undefined ? [] : [{ kind: 'lux' as const, illuminanceLux: lux }]),
    ...(metered === undefined ? [] : [metered]),
  ];
  const [light, second] = readings;
  if (light === undefined || second !== undefined) {
    throw new DeskFault(
      `expected one of --ev100, --lux and --metered for the light but received ${readings.length === 0 ? 'none' : readings.length}.`,
    );
  }
  return light;
}

function asMetered(text: string): LightReading {
  const found = /^f\/?(\d+(?:\.\d+)?)\s*,\s*([^,]+?)\s*,\s*(?:ISO\s*)?(\d+(?:\.\d+)?)$/i.exec(text.trim());
  if (!found?.[2]) {
    throw new InvalidArgumentError(`expected f/N,TIME,ISO, such as f/8,1/250,800, but received ${text}.`);
  }
  return {
    kind: 'metered',
    fNumber: Number(found[1]),
    exposureTimeS: asSeconds(found[2]),
    iso: Number(found[3]),
  };
}

function asFix(text: string): FixedSettings {
  const fixed: { fNumber?: number; exposureTimeS?: number; iso?: number } = {};
  for (const part of text.split(',')) {
    const [name, value = ''] = part.split('=').map((piece) => piece.trim());
    if (name === 'f') fixed.fNumber = asNumber(value);
    else if (name === 'iso') fixed.iso = asNumber(value);
    else if (name === 't') fixed.exposureTimeS = asSeconds(value);
    else
      throw new InvalidArgumentError(
        `expected f=, iso= or t=, such as f=8,iso=800,t=1/250, but received ${part}.`,
      );
  }
  return fixed;
}

const shutter = (seconds: number) => (seconds >= 0.4 ? `${seconds} s` : `1/${Math.round(1 / seconds)} s`);

function readable({ recommended, alternatives, budget, odds, reasons, cautions }: ExposeDocument): string {
  const frames = odds.framesFor95 === null ? 'more frames than make sense' : `${odds.framesFor95} frames`;
  return [
    `f/${recommended.fNumber}  ${shutter(recommended.exposureTimeNominalS)}  ISO ${recommended.iso}  ${frames} for a sharp one (each ${oneIn(odds.sharp)})`,
    `Blur at the worst edge ${budget.totalPx.toFixed(2)} px, limit ${budget.limitPx.toFixed(2)} px.`,
    table(
      ['otherwise', 'shutter', 'ISO', 'sharp', 'trade'],
      alternatives.map((one) => [
        `f/${one.fNumber}`,
        shutter(one.exposureTimeNominalS),
        String(one.iso),
        `${Math.round(one.sharp * 100)} %`,
        one.trade,
      ]),
    ),
    ...reasons,
    ...cautions,
  ].join('\n');
}
