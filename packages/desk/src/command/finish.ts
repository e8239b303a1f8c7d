/** `tepal finish FRAME`: a raw or a blended picture to a finished one, by a file of steps. */
import { Option, type Command } from 'commander';
import { endExifTool } from '../deliver/exif-tool.ts';
import { readSteps } from '../finish/done-list.ts';
import { finishFile } from '../finish/finish.ts';
import { OUTPUT_SPACES, type OutputSpace } from '../finish/spaces.ts';
import { openPool } from '../measure/pool.ts';
import { oneOf } from './options.ts';
import { printJson, progressLine, terminal } from './print.ts';

interface Options {
  readonly steps: string;
  readonly output: string;
  readonly colourSpace: OutputSpace;
  readonly replace?: boolean;
  readonly json?: boolean;
}

export function addFinish(program: Command): void {
  program
    .command('finish')
    .description('one photograph finished by a file of steps, as a 16-bit TIFF')
    .argument('<frame>', 'a raw, TIFF, JPEG or PNG; it is not changed')
    .requiredOption('--steps <file>', 'what is to be done, tepal/finish-steps/1')
    .requiredOption('-o, --output <file>', 'the picture, .tif; the list of what was done goes beside it')
    .addOption(
      new Option('--colour-space <name>', 'space of the output: wide, srgb, displayP3 or adobeRgb')
        .argParser(oneOf(OUTPUT_SPACES))
        .default('wide'),
    )
    .option('--replace', 'replace an output that is there')
    .option('--json', 'one JSON document')
    .action(async (frame: string, options: Options) => {
      const pool = openPool({ threads: 1 });
      try {
        const document = await finishFile({
          ...{ frame, output: options.output, space: options.colourSpace, pool },
          steps: await readSteps(options.steps),
          replace: options.replace ?? false,
          tell: progressLine(),
        });
        terminal.endProgress();
        if (options.json) printJson(document);
        else {
          terminal.out(
            `${document.output}: ${document.widthPx} × ${document.heightPx} px, ${document.profile}.`,
          );
          for (const done of document.done) terminal.out(`Done: ${done}.`);
          for (const note of document.notes) terminal.out(note);
        }
      } finally {
        await pool.close();
        await endExifTool();
      }
    });
}
