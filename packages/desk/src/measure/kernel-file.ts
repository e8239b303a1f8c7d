/** Finds the kernel of the imaging room: beside the bundle, or in the source tree. */
import { loadKernel, type Kernel } from '@tepal/imaging';
import { readFile } from 'node:fs/promises';
import { DeskFault } from '../files/faults.ts';

const places = ['./kernel.wasm', '../../../imaging/build/kernel.wasm', '../../imaging/build/kernel.wasm'];

/** @throws DeskFault when it has not been built */
export async function openKernel(): Promise<Kernel> {
  for (const place of places) {
    try {
      return await loadKernel(await readFile(new URL(place, import.meta.url)));
    } catch (error) {
      if ((error as { code?: string }).code !== 'ENOENT') throw error;
    }
  }
  throw new DeskFault('The kernel is not built; run "npm run build" in the folder of the clone.', 3);
}
