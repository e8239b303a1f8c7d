/** `tepal expose`: what to set, what it rests on, and the odds. */
import { CAMERA_USES, exposureAdvice, oneIn, type FixedSettings, type LightReading } from '@tepal/advice';
import type { ExposeDocument } from '@tepal/formats';
import { INSECT_CLASSES, REFLECTOR_SURFACES, STEM_CLASSES, SUPPORTS } from '@tepal/science';
import { InvalidArgumentError, type Command } from 'commander';
import { DeskFault } from '../files/faults.ts';
import { asCount, asDelivery, asNumber, asPair, asSeconds, oneOf } from './options.ts';
import { cardOf, readableCard } from './exposure/card.ts';
import { learnedOf, type Learned } from './exposure/learned.ts';
import { kitOf, shutter, type ExposeOptions, type ReflectorWish } from './exposure/options.ts';
import { printJson, table, terminal } from './print.ts';

export function addExpose(program: Command): void {
  program
    .command('expose')
    .description('aperture, shutter, ISO; blur budget; odds; frames to take')
    .requiredOption('--sensor <WxH>', 'in mm', asPair)
    .requiredOption('--pixels <WxH>', 'of a frame', asPair)
    .requiredOption('--focal <mm>', 'focal length', asNumber)
    .option('--pupil <p>', 'pupil magnification', asNumber)
    .option('--magnification <m>', 'image size over subject size', asNumber)
    .option('--min-f <N>', 'widest marked aperture', asNumber)
    .option('--max-f <N>', 'narrowest marked aperture', asNumber)
    .option('--subject-depth <mm>', 'depth that must be sharp', asNumber)
    .option('--background <mm>', 'behind the plane of focus', asNumber)
    .option('--ev100 <EV>', 'light of the scene, at ISO 100', asNumber)
    .option('--lux <lx>', 'light of the scene', asNumber)
    .option('--metered <f/N,t,ISO>', 'read through the lens, such as f/8,1/250,800', asMetered)
    .option(
      '--test-shot <f/N,t,ISO,stops>',
      'and by how much too bright it came out, such as f/8,1/250,800,+0.7',
      asTestShot,
    )
    .option('--wind <m/s>', 'at the plant', asNumber)
    .option('--stem <kind>', STEM_CLASSES.join(', '), oneOf(STEM_CLASSES))
    .option('--sway-mm <A>', 'amplitude of the sway across the view', asNumber)
    .option('--sway-hz <F>', 'swings a second', asNumber)
    .option('--support <kind>', SUPPORTS.join(', '), oneOf(SUPPORTS))
    .option('--stabilisation <stops>', 'rated', asNumber)
    .option('--fix <settings>', 'what stands as given, such as f=8,iso=800,t=1/250', asFix)
    .option('--deliver <size>', 'WIDTHxHEIGHTmm@DISTANCE', asDelivery)
    .option('--interval-s <T>', 'time between frames', asNumber)
    .option('--insect <kind>', `on the plant: ${INSECT_CLASSES.join(', ')}`, oneOf(INSECT_CLASSES))
    .option(
      '--reflector <size>',
      'DIAMETERmm@DISTANCE, with its surface if not white, such as 300mm@200,silver',
      asReflector,
    )
    .option('--diffuser <size>', 'DIAMETERmm@DISTANCE, such as 500mm@300', asDisc)
    .option('--camera <use>', CAMERA_USES.join(', '), oneOf(CAMERA_USES))
    .option('--frames <n>', 'that you are willing to take for a sharp one', asCount)
    .option('--slowest-shutter <t>', 'to be used', asSeconds)
    .option('--iso-ceiling <ISO>', 'to be used', asNumber)
    .option('--notebook <file>', 'with what was learned from your frames')
    .option('--site <id>', 'of the notebook; --wind is then its forecast brought down to the plant')
    .option('--subject <id>', 'of the notebook')
    .option('--card', 'the pocket card for this kit: three magnifications by still, stirring, nodding')
    .option('--json', 'one JSON document')
    .action((options: ExposeOptions) => {
      if (options.card) {
        const card = cardOf(options);
        if (options.json) printJson(card);
        else terminal.out(readableCard(card));
        return;
      }
      const tell = (learned: Learned) => {
        const document = advise(options, learned);
        if (options.json) printJson(document);
        else terminal.out(readable(document));
      };
      const learned = learnedOf(options);
      return learned instanceof Promise ? learned.then(tell) : tell(learned);
    });
}

function advise(options: ExposeOptions, learned: Learned): ExposeDocument {
  const { swayMm, swayHz } = options;
  if ((swayMm === undefined) !== (swayHz === undefined)) {
    throw new DeskFault('Sway needs both --sway-mm and --sway-hz.');
  }
  return exposureAdvice({
    ...kitOf(options),
    magnification: given('--magnification', options.magnification),
    subjectDepthMm: given('--subject-depth', options.subjectDepth),
    backgroundMm: given('--background', options.background),
    light: lightOf(options),
    ...(options.wind === undefined ? {} : { windMs: options.wind }),
    ...(options.stem === undefined ? {} : { stem: options.stem }),
    ...(swayMm === undefined || swayHz === undefined
      ? {}
      : { sway: { amplitudeMm: swayMm, frequencyHz: swayHz } }),
    ...(options.fix === undefined ? {} : { fix: options.fix }),
    ...(options.intervalS === undefined ? {} : { intervalS: options.intervalS }),
    ...(options.insect === undefined ? {} : { insect: options.insect }),
    modifiers: {
      ...(options.reflector === undefined ? {} : { reflector: options.reflector }),
      ...(options.diffuser === undefined ? {} : { diffuser: options.diffuser }),
    },
    ...(options.camera === undefined ? {} : { camera: options.camera }),
    learned,
  });
}

/** What only the card can do without. */
function given(option: string, value: number | undefined): number {
  if (value === undefined) throw new DeskFault(`expected ${option} but received none.`);
  return value;
}

function lightOf({ ev100, lux, metered, testShot }: ExposeOptions): LightReading {
  const readings: LightReading[] = [
    ...(ev100 === undefined ? [] : [{ kind: 'ev100' as const, ev100 }]),
    ...(lux === undefined ? [] : [{ kind: 'lux' as const, illuminanceLux: lux }]),
    ...(metered === undefined ? [] : [metered]),
    ...(testShot === undefined ? [] : [testShot]),
  ];
  const [light, second] = readings;
  if (light === undefined || second !== undefined) {
    throw new DeskFault(
      `expected one of --ev100, --lux, --metered and --test-shot for the light but received ${readings.length === 0 ? 'none' : readings.length}.`,
    );
  }
  return light;
}

function asMetered(text: string): LightReading {
  return { kind: 'metered', ...asCameraSetting(text) };
}

function asCameraSetting(text: string) {
  const found = /^f\/?(\d+(?:\.\d+)?)\s*,\s*([^,]+?)\s*,\s*(?:ISO\s*)?(\d+(?:\.\d+)?)$/i.exec(text.trim());
  if (!found?.[2]) {
    throw new InvalidArgumentError(`expected f/N,TIME,ISO, such as f/8,1/250,800, but received ${text}.`);
  }
  return {
    fNumber: Number(found[1]),
    exposureTimeS: asSeconds(found[2]),
    iso: Number(found[3]),
  };
}

function asTestShot(text: string): LightReading {
  const found = /^([^,]+,[^,]+,[^,]+),\s*([+-]?\d+(?:\.\d+)?)$/.exec(text.trim());
  if (!found?.[1] || !found[2]) {
    throw new InvalidArgumentError(
      `expected f/N,TIME,ISO,STOPS, such as f/8,1/250,800,+0.7, but received ${text}.`,
    );
  }
  return { ...asCameraSetting(found[1]), kind: 'testShot', brighterByStops: Number(found[2]) };
}

/** "300mm@200" as diameter and distance. */
function asDisc(text: string): { readonly diameterMm: number; readonly distanceMm: number } {
  const found = /^(\d+(?:\.\d+)?)\s*mm\s*@\s*(\d+(?:\.\d+)?)(?:\s*mm)?$/i.exec(text.trim());
  const [diameterMm, distanceMm] = [Number(found?.[1]), Number(found?.[2])];
  if (diameterMm > 0 && distanceMm > 0) return { diameterMm, distanceMm };
  throw new InvalidArgumentError(`expected DIAMETERmm@DISTANCE, such as 300mm@200, but received ${text}.`);
}

function asReflector(text: string): ReflectorWish {
  const [disc = '', surface] = text.split(',').map((part) => part.trim());
  return {
    ...asDisc(disc),
    ...(surface === undefined ? {} : { surface: oneOf(REFLECTOR_SURFACES)(surface) }),
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

function readable({
  recommended,
  alternatives,
  budget,
  odds,
  camera,
  changes = [],
  reasons,
  cautions,
}: ExposeDocument): string {
  const frames = odds.framesFor95 === null ? 'more frames than make sense' : `${odds.framesFor95} frames`;
  return [
    `f/${recommended.fNumber}  ${shutter(recommended.exposureTimeNominalS)}  ISO ${recommended.iso}  ${frames} for a sharp one (each ${oneIn(odds.sharp)})`,
    ...(camera === undefined ? [] : [camera.words]),
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
    ...changes.slice(1).map((one) => `Or: ${one.change} ${Math.round(one.sharp * 100)} % would be sharp.`),
    ...cautions,
  ].join('\n');
}
