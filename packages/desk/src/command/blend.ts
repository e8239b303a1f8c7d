/** `tepal blend FRAME...`: a focus series in one 16-bit picture. */
import type { Command } from 'commander';
import { blendFiles, type FileChoice } from '../blend/blend.ts';
import { endExifTool } from '../deliver/exif-tool.ts';
import { DeskFault, exitStatus } from '../files/faults.ts';
import { openPool } from '../measure/pool.ts';
import { printJson, progressLine, table, terminal } from './print.ts';

interface Options {
  readonly output: string;
  readonly depth?: string;
  readonly source?: string;
  readonly reference?: string;
  readonly from?: readonly string[];
  readonly replace?: boolean;
  readonly json?: boolean;
}

export function addBlend(program: Command): void {
  program
    .command('blend')
    .description('aligns and merges a focus series into a 16-bit TIFF')
    .argument('<frames...>', 'the frames in the order they were taken; none is changed')
    .requiredOption('-o, --output <file>', 'the picture, .tif')
    .option('--depth <file>', 'map of depth, 16-bit .tif: 0 the first frame, 65535 the last')
    .option('--source <file>', 'map of sources, 8-bit .tif: which frame gave most')
    .option('--reference <frame>', 'the frame whose geometry and colours are kept; else the middle one')
    .option(
      '--from <frame@x,y,radius...>',
      'places that come from one frame each: pixels of the reference from its top left',
    )
    .option('--replace', 'replace an output that is there')
    .option('--json', 'one JSON document')
    .action(async (files: string[], options: Options) => {
      const pool = openPool({ threads: 1 });
      try {
        const document = await blendFiles({
          files,
          reference: options.reference ?? null,
          output: options.output,
          depth: options.depth ?? null,
          source: options.source ?? null,
          choices: (options.from ?? []).map(asChoice),
          replace: options.replace ?? false,
          pool,
          tell: progressLine(),
        });
        terminal.endProgress();
        if (options.json) printJson(document);
        else {
          const rows = document.frames.map((frame) => [
            frame.file,
            frame.used ? 'used' : 'left out',
            frame.shiftPx === null ? '–' : `${frame.shiftPx.x.toFixed(1)}, ${frame.shiftPx.y.toFixed(1)}`,
            frame.rotationDeg === null ? '–' : frame.rotationDeg.toFixed(2),
            frame.scale === null ? '–' : frame.scale.toFixed(4),
            frame.why ?? '',
          ]);
          terminal.out(table(['frame', '', 'shift px', 'turn °', 'scale', 'why'], rows));
          const gaps = document.gaps.length;
          terminal.out(
            `${document.output}, reference ${document.reference}, ${gaps === 0 ? 'no gap' : `${gaps} places where no frame is sharp`}.`,
          );
          const { fallback } = document;
          if (fallback?.use === 'theseFrames') {
            terminal.out(
              `Use these ${fallback.files.length}: ${fallback.files.join(', ')}; ${fallback.why}.`,
            );
          } else if (fallback) {
            terminal.out(`Use the best single frame, ${fallback.files.join(', ')}: ${fallback.why}.`);
          }
        }
        const failed = document.frames.some((frame) => !frame.used);
        process.exitCode = failed ? exitStatus.someFailed : exitStatus.done;
      } finally {
        await pool.close();
        await endExifTool();
      }
    });
}

/** @throws DeskFault when it does not read as frame@x,y,radius */
function asChoice(text: string): FileChoice {
  const found = /^(.+)@(\d+(?:\.\d+)?),(\d+(?:\.\d+)?),(\d+(?:\.\d+)?)$/.exec(text);
  const [, file, x, y, radius] = found ?? [];
  if (file === undefined || !(Number(radius) > 0)) {
    throw new DeskFault(`--from expects frame@x,y,radius in pixels but received ${text}.`);
  }
  return { file, x: Number(x), y: Number(y), radiusPx: Number(radius) };
}
