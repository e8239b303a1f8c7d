/** Where a delivery goes that was given a folder and no name: named by its title or its original, never over another. */
import { deliveryName } from '@tepal/advice';
import { basename, join } from 'node:path';
import { exists } from '../files/write.ts';

/**
 * A path in a folder that is free: "Lily at dawn.jpg", then "Lily at dawn 2.jpg".
 *
 * @param end with its dot
 */
export async function freeName(
  folder: string,
  named: { readonly title: string | null; readonly original: string },
  end: string,
): Promise<string> {
  const name = deliveryName({ title: named.title, original: basename(named.original) });
  for (let n = 1; ; n += 1) {
    const path = join(folder, `${name}${n === 1 ? '' : ` ${n}`}${end}`);
    if (!(await exists(path))) return path;
  }
}
