/** The full picture by its steps, made at the desk in the background, and the small copy that a page works on. */
import { proxyBytes, type FinishStepsDocument, type PictureSource } from '@tepal/formats';
import { mkdir } from 'node:fs/promises';
import { dirname } from 'node:path';
import { finishFile } from '../../finish/finish.ts';
import type { Pool } from '../../measure/pool.ts';
import type { JobWork } from '../jobs.ts';
import type { Store } from '../stores.ts';
import { withPool } from '../work.ts';
import { besideFile, openedSource, sourceFile } from './picture-files.ts';

/** The full picture, in sRGB for looking at; deliveries are made from the original by the same steps. */
export function finishWork(store: Store, of: PictureSource, steps: FinishStepsDocument): JobWork {
  return async (signal, tell) => {
    const { path } = openedSource(store, of);
    const output = besideFile(store, of, 'finished.tif');
    await mkdir(dirname(output), { recursive: true });
    tell({ done: 0, total: 0, saying: 'Making the full picture.' });
    const made = await withPool(signal, 1, (pool) =>
      finishFile({
        ...{ frame: path, steps, output, space: 'srgb', replace: true, pool },
        tell: ({ done, total, saying }) => tell({ done, total, saying }),
      }),
    );
    return { saying: made.notes[0] ?? 'The full picture is here.' };
  };
}

/** A small copy in linear light. @throws DeskFault where it cannot be read */
export async function proxyOf(store: Store, of: PictureSource, pool: Pool): Promise<Uint8Array> {
  const { picture, origin } = await pool.run('proxy', await sourceFile(store, of));
  return proxyBytes({ ...picture, origin });
}
