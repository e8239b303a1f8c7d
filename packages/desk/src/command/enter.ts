/** `tepal enter ENTRY`: ordered, titled pictures fitted to the rules of an exhibition or a club, named as it asks. */
import type { Command } from 'commander';
import { dirname, join } from 'node:path';
import { endExifTool } from '../deliver/exif-tool.ts';
import { enterPictures } from '../entry/enter.ts';
import { exitStatus } from '../files/faults.ts';
import { openPool } from '../measure/pool.ts';
import { printJson, progressLine, terminal } from './print.ts';

interface Options {
  readonly output: string;
  readonly originals?: readonly string[];
  readonly remembered?: string;
  readonly json?: boolean;
}

export function addEnter(program: Command): void {
  program
    .command('enter')
    .description(
      'pictures entered somewhere: fitted to its rules, named as it asks, with their originals as proof',
    )
    .argument('<entry>', 'rules, deadline and ordered, titled pictures, tepal/entry/1')
    .requiredOption('-o, --output <folder>', 'the folder of the entry is made in it')
    .option('--originals <folder...>', 'further folders that the originals may lie in')
    .option(
      '--remembered <file>',
      'what was entered before; entered-before.json beside the entry unless given',
    )
    .option('--json', 'one JSON document')
    .action(async (file: string, options: Options) => {
      const pool = openPool({ threads: 1 });
      try {
        const entered = await enterPictures({
          ...{ file, folder: options.output, pool, tell: progressLine() },
          remembered: options.remembered ?? join(dirname(file), 'entered-before.json'),
          originalsIn: options.originals ?? [],
          nowMs: Date.now(),
        });
        terminal.endProgress();
        if (options.json) printJson(entered);
        else {
          terminal.out(`${entered.entry}: ${entered.folder}`);
          if (entered.deadline !== null) terminal.out(entered.deadline);
          for (const { title, output, done, why, warnings } of entered.pictures) {
            terminal.out(
              output === null
                ? `"${title}" refused: ${why ?? ''}`
                : `"${title}": ${output}. Done: ${done ?? ''}.`,
            );
            for (const warning of warnings) terminal.out(`  ${warning}`);
          }
        }
        const refused = entered.pictures.filter(({ output }) => output === null).length;
        process.exitCode =
          refused === 0
            ? exitStatus.done
            : refused < entered.pictures.length
              ? exitStatus.someFailed
              : exitStatus.nothingRead;
      } finally {
        await pool.close();
        await endExifTool();
      }
    });
}
