/** `tepal learn`: what the measured frames say about hands, sites, plants and lenses. */
import { learnDocument } from '@tepal/advice';
import type { LearnDocument } from '@tepal/formats';
import type { Command } from 'commander';
import { takeEvidence } from '../library/evidence.ts';
import { openLibrary } from '../library/library.ts';
import { readNotebook, writeNotebook } from '../library/notebook-file.ts';
import { printJson, table, terminal } from './print.ts';

interface Options {
  readonly notebook: string;
  readonly library?: string;
  readonly json?: boolean;
}

export function addLearn(program: Command): void {
  program
    .command('learn')
    .description('what the measured frames say about hands, focus, sites, plants and lenses')
    .requiredOption('--notebook <file>', 'notebook with outings, set-ups and what was measured before')
    .option('--library <folder>', 'library whose measured frames are taken into the notebook first')
    .option('--json', 'one JSON document')
    .action(async (options: Options) => {
      const { path, notebook } = await readNotebook(options.notebook, {
        create: options.library !== undefined,
      });
      let now = notebook;
      if (options.library !== undefined) {
        const library = openLibrary(options.library);
        try {
          const taken = takeEvidence(notebook, library, Date.now());
          now = taken.notebook;
          if (taken.fresh > 0) await writeNotebook(path, now);
        } finally {
          library.close();
        }
      }
      const document = learnDocument(now);
      if (options.json) printJson(document);
      else terminal.out(readable(document));
    });
}

function readable({ parameters, frames, unused }: LearnDocument): string {
  const range = ([low, high]: readonly [number, number]) => `${low.toPrecision(2)} to ${high.toPrecision(2)}`;
  const rows = parameters.map(({ name, prior, posterior, frames: behind }) => [
    name,
    posterior.median.toPrecision(2),
    range(posterior.interval90),
    range(prior.interval90),
    String(behind),
  ]);
  return [
    frames === undefined || frames === 0
      ? 'Nothing was learned yet: these are the typical figures.'
      : `From ${frames} of your frames; 1 is typical.`,
    table(['what', 'times typical', '90 %', 'before', 'frames'], rows),
    ...(unused ?? []).map(({ why, frames: count }) => `${count} frames were not used: ${why}.`),
  ].join('\n');
}
