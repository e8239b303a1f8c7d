/** `tepal deliver PICTURE`: print, screen or archive file with profile and caption, without its place. */
import { list, SENSITIVITIES, type Sensitivity } from '@tepal/notebook';
import { Option, type Command } from 'commander';
import { deliverPicture } from '../deliver/deliver.ts';
import { endExifTool } from '../deliver/exif-tool.ts';
import { readNotebook } from '../library/notebook-file.ts';
import { asCount, asNumber, asPair, oneOf } from './options.ts';
import { printJson, terminal } from './print.ts';

interface Options {
  readonly as: 'print' | 'screen' | 'archive';
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
    .argument('<picture>', 'a photograph or a blended picture; it is not changed')
    .addOption(
      new Option('--as <use>', 'print, screen or archive')
        .argParser(oneOf(['print', 'screen', 'archive']))
        .makeOptionMandatory(),
    )
    .requiredOption('-o, --output <file>', '.jpg or .tif')
    .option('--box <WxH>', 'screen: longest sides in px; nothing is enlarged', asPair)
    .option('--size <WxH>', 'print: size in mm', asPair)
    .option('--ppi <n>', 'print: pixels per inch that are not exceeded', asNumber, 300)
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
    .action(async (picture: string, options: Options & { keywords?: readonly string[] }) => {
      try {
        const document = await deliverPicture({
          picture,
          output: options.output,
          as: options.as,
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
        });
        if (options.json) printJson(document);
        else {
          terminal.out(
            `${document.output}: ${document.widthPx} × ${document.heightPx} px, ${document.profile}, ${Math.ceil(document.bytes / 1000)} kB.`,
          );
          const notes = document['notes'];
          if (Array.isArray(notes)) for (const note of notes) terminal.out(String(note));
          for (const line of document.withheld) terminal.out(`Left out: ${line}.`);
        }
      } finally {
        await endExifTool();
      }
    });
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
