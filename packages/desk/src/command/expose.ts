/** `tepal expose`: what to set, with the blur budget, the odds and the frames to take. */
import { exposureAdvice, oneIn, type ExposureRequest, type LightReading } from '@tepal/advice';
import type { ExposeDocument } from '@tepal/formats';
import { shutterInWords, STEM_CLASSES, SUPPORTS, type StemClass, type Support } from '@tepal/science';
import { Option } from 'commander';
import { DeskFault, exitStatus } from '../files/faults.ts';
import { answer, type Outlet } from './outlet.ts';
import type { Register } from './program.ts';
import { deliveryValue, fixValue, meteredValue, numberValue, sizeValue, timeValue } from './values.ts';

interface ExposeOptions {
  readonly sensor: { readonly width: number; readonly height: number };
  readonly pixels: { readonly width: number; readonly height: number };
  readonly focal: number;
  readonly pupil?: number;
  readonly magnification: number;
  readonly minF?: number;
  readonly maxF?: number;
  readonly frontToSensor?: number;
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
  readonly fix?: NonNullable<ExposureRequest['fix']>;
  readonly deliver?: NonNullable<ExposureRequest['delivery']>;
  readonly slowest?: number;
  readonly isoCeiling?: number;
  readonly intervalS?: number;
  readonly json?: boolean;
}

export const registerExpose: Register = (program, outlet, end) => {
  program
    .command('expose')
    .description('aperture, shutter, ISO; blur budget; odds; frames to take')
    .requiredOption('--sensor <mm>', 'width and height, 36x24', sizeValue)
    .requiredOption('--pixels <px>', 'width and height, 6000x4000', sizeValue)
    .requiredOption('--focal <mm>', 'focal length at this focus setting', numberValue)
    .requiredOption('--magnification <number>', 'image size over subject size, 0.35', numberValue)
    .requiredOption('--subject-depth <mm>', 'how deep the part is that should be sharp', numberValue)
    .requiredOption('--background <mm>', 'how far the background is behind the subject', numberValue)
    .option('--pupil <number>', 'exit pupil over entrance pupil, 1 unless said', numberValue)
    .option('--min-f <number>', 'widest aperture, 2.8 unless said', numberValue)
    .option('--max-f <number>', 'smallest aperture, 32 unless said', numberValue)
    .option('--front-to-sensor <mm>', 'for the working distance', numberValue)
    .option('--ev100 <number>', 'light of the scene, as EV at ISO 100', numberValue)
    .option('--lux <lx>', 'light on the scene', numberValue)
    .option('--metered <reading>', 'read through the lens, f/8,1/250,800', meteredValue)
    .option('--wind <m/s>', 'at the plant', numberValue)
    .addOption(new Option('--stem <class>', 'how the plant sways').choices(STEM_CLASSES))
    .option('--sway-mm <mm>', 'how far the head swings to one side', numberValue)
    .option('--sway-hz <Hz>', 'how often it swings', numberValue)
    .addOption(new Option('--support <word>', 'what the camera rests on').choices(SUPPORTS))
    .option('--stabilisation <stops>', 'rated', numberValue)
    .option('--fix <settings>', 'what stands as given, f=8,iso=800,t=1/250', fixValue)
    .option('--deliver <size>', 'WIDTHxHEIGHTmm@DISTANCE, 420x280mm@300', deliveryValue)
    .option('--slowest <time>', 'slowest shutter to be used, 1/30', timeValue)
    .option('--iso-ceiling <ISO>', 'highest ISO to be used', numberValue)
    .option('--interval-s <s>', 'time between frames', numberValue)
    .option('--json', 'one JSON document')
    .action((options: ExposeOptions) => {
      end(expose(options, outlet));
    });
};

function expose(options: ExposeOptions, outlet: Outlet) {
  const document = exposureAdvice(requestOf(options));
  answer(outlet, options.json === true, document, () => inWords(document));
  return exitStatus.done;
}

function requestOf(options: ExposeOptions): ExposureRequest {
  const { swayMm, swayHz } = options;
  if ((swayMm === undefined) !== (swayHz === undefined)) {
    throw new DeskFault('--sway-mm and --sway-hz belong together: how far, and how often.');
  }
  return {
    sensor: { widthMm: options.sensor.width, heightMm: options.sensor.height },
    pixels: options.pixels,
    lens: {
      focalLengthMm: options.focal,
      ...given('pupilMagnification', options.pupil),
      ...given('minFNumber', options.minF),
      ...given('maxFNumber', options.maxF),
      ...given('frontToSensorMm', options.frontToSensor),
    },
    magnification: options.magnification,
    subjectDepthMm: options.subjectDepth,
    backgroundMm: options.background,
    light: lightOf(options),
    ...given('windMs', options.wind),
    ...given('stem', options.stem),
    ...(swayMm === undefined || swayHz === undefined
      ? {}
      : { sway: { amplitudeMm: swayMm, frequencyHz: swayHz } }),
    ...given('support', options.support),
    ...given('stabilisation', options.stabilisation),
    ...given('fix', options.fix),
    ...given('delivery', options.deliver),
    ...given('slowestShutterS', options.slowest),
    ...given('isoCeiling', options.isoCeiling),
    ...given('intervalS', options.intervalS),
  };
}

function lightOf({ ev100, lux, metered }: ExposeOptions): LightReading {
  const readings: LightReading[] = [];
  if (ev100 !== undefined) readings.push({ kind: 'ev100', ev100 });
  if (lux !== undefined) readings.push({ kind: 'lux', illuminanceLux: lux });
  if (metered !== undefined) readings.push(metered);
  const [light, second] = readings;
  if (light === undefined || second !== undefined) {
    throw new DeskFault(
      `One reading of the light is needed, --ev100, --lux or --metered; ${readings.length} were given.`,
    );
  }
  return light;
}

function given<K extends string, T>(key: K, value: T | undefined): Partial<Record<K, T>> {
  return value === undefined ? {} : ({ [key]: value } as Partial<Record<K, T>>);
}

function inWords({
  recommended,
  odds,
  optics,
  budget,
  alternatives,
  reasons,
  cautions,
}: ExposeDocument): string {
  const { fNumber, exposureTimeNominalS, iso } = recommended;
  const frames =
    odds.framesFor95 === null ? 'No number of frames makes it likely.' : `Take ${odds.framesFor95}.`;
  const [low, high] = odds.framesFor95Range ?? [null, null];
  const depth = optics.depthOfFieldMm === null ? 'without end' : `${optics.depthOfFieldMm.toPrecision(2)} mm`;
  return [
    `f/${fNumber}, ${shutterInWords(exposureTimeNominalS)}, ISO ${iso}`,
    `${frames} About ${oneIn(odds.sharp)} will be sharp (${low ?? 'no'} to ${high ?? 'any number of'} frames; ${odds.basis === 'yours' ? 'your hands' : 'typical hands'}).`,
    `Sharp zone ${depth}; blur ${budget.totalPx.toFixed(1)} px at the worst edge, limit ${budget.limitPx.toFixed(1)} px.`,
    ...alternatives.map(({ trade }) => `Or: ${trade}`),
    ...reasons,
    ...cautions,
  ].join('\n');
}
