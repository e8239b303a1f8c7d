/** `tepal deliver PICTURE`: print, screen or archive file with profile and caption, without its place; contact sheets. */
import { readRuleSet, type RuleSetDocument } from '@tepal/formats';
import { list, SENSITIVITIES, type Sensitivity } from '@tepal/notebook';
import { Option, type Command } from 'commander';
import { stat } from 'node:fs/promises';
import { contactSheet } from '../deliver/contact-sheet.ts';
import { deliverPicture } from '../deliver/deliver.ts';
import { endExifTool } from '../deliver/exif-tool.ts';
import { freeName } from '../deliver/names.ts';
import { DeskFault, exitStatus } from '../files/faults.ts';
import { readJson } from '../files/read-json.ts';
import { readSteps } from '../finish/done-list.ts';
import { OUTPUT_SPACES, type OutputSpace } from '../finish/spaces.ts';
import { readNotebook } from '../library/notebook-file.ts';
import { openPool, type Pool } from '../measure/pool.ts';
import { asCount, asNumber, asPair, oneOf } from './options.ts';
import { printJson, progressLine, terminal } from './print.ts';

interface Options {
  readonly as: 'print' | 'screen' | 'archive' | 'sheet';
  readonly output: string;
  readonly box?: { readonly width: number; readonly height: number };
  readonly size?: { readonly width: number; readonly height: number };
  readonly ppi: number;
  readonly limitKb?: number;
  readonly title?: string;
  readonly caption?: string;
  readonly creator?: string;
  readonly rights?: string;
  readonly keyword?: readonly string[];
  readonly scientificName?: string;
  readonly place: 'none' | 'exact' | 'coarse' | 'region';
  readonly sensitivity?: Sensitivity;
  readonly notebook?: string;
  readonly steps?: string;
  readonly colourSpace?: OutputSpace;
  readonly printerProfile?: string;
  readonly viewingDistance: number;
  readonly paper: 'glossy' | 'matt';
  readonly sharpen?: number;
  readonly rules?: string;
  readonly columns: number;
  readonly replace?: boolean;
  readonly json?: boolean;
}

const collect = (text: string, before: readonly string[] | undefined) => [
  ...(before ?? []),
  ...text
    .split(',')
    .map((word) => word.trim())
    .filter((word) => word !== ''),
];

export function addDeliver(program: Command): void {
  program
    .command('deliver')
    .description('print, screen or archive file with colour profile and caption, without its place')
    .argument('<pictures...>', 'a photograph or a blended picture, several for a sheet; none is changed')
    .addOption(
      new Option('--as <use>', 'print, screen, archive or (contact) sheet')
        .argParser(oneOf(['print', 'screen', 'archive', 'sheet']))
        .makeOptionMandatory(),
    )
    .requiredOption('-o, --output <file>', '.jpg or .tif; or a folder, then it is named by its title')
    .option('--box <WxH>', 'screen: longest sides in px; nothing is enlarged', asPair)
    .option('--size <WxH>', 'print: size in mm', asPair)
    .option('--ppi <n>', 'print: pixels per inch that are not exceeded', asNumber, 300)
    .option('--viewing-distance <mm>', 'print: from eye to paper', asNumber, 300)
    .option('--printer-profile <file>', 'print: ICC profile of printer and paper, to convert to')
    .addOption(
      new Option('--paper <kind>', 'print: glossy or matt, for sharpening')
        .argParser(oneOf(['glossy', 'matt']))
        .default('glossy'),
    )
    .option(
      '--sharpen <n>',
      'for its size and medium: 0 none, 1 usual, up to 2; else as the steps say',
      asNumber,
    )
    .addOption(
      new Option(
        '--colour-space <name>',
        'srgb (usual), displayP3, adobeRgb or wide; an archive keeps its own',
      ).argParser(oneOf(OUTPUT_SPACES)),
    )
    .option('--steps <file>', 'finished on the way by a file of steps')
    .option('--rules <file>', 'rules that it has to meet, tepal/rule-set/1; refused where it does not')
    .option('--columns <n>', 'sheet: pictures side by side', asCount, 4)
    .option('--limit-kb <n>', 'screen: most kilobytes (1000 bytes)', asCount)
    .option('--title <text>')
    .option('--caption <text>')
    .option('--creator <name>')
    .option('--rights <text>')
    .option(
      '--keyword, --keywords <words>',
      'keywords, parted by commas; may be given more than once',
      collect,
    )
    .option('--scientific-name <name>')
    .option(
      '--place <how>',
      'none, region, coarse or exact',
      oneOf(['none', 'region', 'coarse', 'exact']),
      'none',
    )
    .option('--sensitivity <how>', 'harm that a published place would do', oneOf(SENSITIVITIES))
    .option('--notebook <file>', 'notebook that knows how sensitive the subject is')
    .option('--replace', 'replace an output that is there')
    .option('--json', 'one JSON document')
    .action(async (pictures: string[], options: Options & { keywords?: readonly string[] }) => {
      const pool = openPool({ threads: 1 });
      try {
        if (options.as === 'sheet') await sheet(pictures, options, pool);
        else await one(pictures, options.as, options, pool);
      } finally {
        await pool.close();
        await endExifTool();
      }
    });
}

async function one(
  pictures: readonly string[],
  as: 'print' | 'screen' | 'archive',
  options: Options & { keywords?: readonly string[] },
  pool: Pool,
): Promise<void> {
  const [picture, another] = pictures;
  if (picture === undefined || another !== undefined) {
    throw new DeskFault('One picture is delivered at a time; several go on a sheet (--as sheet).');
  }
  const tell = progressLine();
  const document = await deliverPicture({
    ...{ picture, as, pool, tell },
    output: await outputFor(picture, as, options),
    replace: options.replace ?? false,
    boxPx: options.box ?? null,
    sizeMm: options.size ?? null,
    ppi: options.ppi,
    limitKb: options.limitKb ?? null,
    caption: {
      ...(options.title === undefined ? {} : { title: options.title }),
      ...(options.caption === undefined ? {} : { caption: options.caption }),
      ...(options.creator === undefined ? {} : { creator: options.creator }),
      ...(options.rights === undefined ? {} : { rights: options.rights }),
      ...(options.keywords === undefined ? {} : { keywords: options.keywords }),
      ...(options.scientificName === undefined ? {} : { scientificName: options.scientificName }),
    },
    place: options.place,
    sensitivity: await sensitivityOf(options),
    steps: options.steps === undefined ? null : await readSteps(options.steps),
    space: options.colourSpace ?? null,
    printerProfile: options.printerProfile ?? null,
    viewingDistanceMm: options.viewingDistance,
    paper: options.paper === 'matt' ? 'mattPaper' : 'glossyPaper',
    sharpening: options.sharpen ?? null,
    rules: options.rules === undefined ? null : await readRules(options.rules),
  });
  terminal.endProgress();
  if (options.json) return printJson(document);
  terminal.out(
    `${document.output}: ${document.widthPx} × ${document.heightPx} px, ${document.profile}, ${Math.ceil(document.bytes / 1000)} kB.`,
  );
  for (const { what, why } of document.checks ?? []) terminal.out(`${what}: ${why}`);
  for (const note of document.notes ?? []) terminal.out(note);
  for (const line of document.withheld) terminal.out(`Left out: ${line}.`);
}

async function sheet(pictures: readonly string[], options: Options, pool: Pool): Promise<void> {
  const made = await contactSheet({
    ...{ pictures, output: options.output, columns: options.columns, pool, tell: progressLine() },
    widthPx: options.box?.width ?? 2000,
    replace: options.replace ?? false,
  });
  terminal.endProgress();
  if (options.json) printJson({ schema: 'tepal/sheet/1', ...made });
  else terminal.out(`${made.output}: ${made.pictures} pictures, ${made.widthPx} × ${made.heightPx} px.`);
  for (const { path, reason } of made.failed) process.stderr.write(`${path}: ${reason}\n`);
  process.exitCode = made.failed.length > 0 ? exitStatus.someFailed : exitStatus.done;
}

/** A folder as the output stands for a name of its own in it. */
async function outputFor(
  picture: string,
  as: 'print' | 'screen' | 'archive',
  options: Options,
): Promise<string> {
  const folder = await stat(options.output).then(
    (found) => found.isDirectory(),
    () => false,
  );
  if (!folder) return options.output;
  const end = as === 'archive' ? '.tif' : '.jpg';
  return freeName(options.output, { title: options.title ?? null, original: picture }, end);
}

async function readRules(path: string): Promise<RuleSetDocument> {
  const read = readRuleSet(await readJson(path));
  if (!read.ok) throw new DeskFault(`${path}: ${read.fault.message}`);
  return read.value;
}

/**
 * What is said on the command line counts; else what the notebook says of the subject. A notebook that does not know
 * it leaves it open, which counts as sensitive. Without either no subject is marked, and the wish stands as given.
 */
async function sensitivityOf({
  sensitivity,
  notebook,
  scientificName,
}: Options): Promise<Sensitivity | null> {
  if (sensitivity !== undefined) return sensitivity;
  if (notebook === undefined) return 'none';
  const { notebook: kept } = await readNotebook(notebook, { create: false });
  const wanted = scientificName?.trim().toLowerCase();
  const found = list(kept, 'subject').find((subject) => subject.scientificName.toLowerCase() === wanted);
  return found?.sensitivity ?? null;
}
