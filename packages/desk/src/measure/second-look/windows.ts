/**
 * Windows of luma that the first pass leaves round each frame's guessed point, in a passing file on the disk: memory
 * stays flat however many frames there are, and the second look need not decode again.
 */
import { closeSync, mkdtempSync, openSync, readSync, rmSync, writeSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { cropRound, cutOut, type Crop, type Luma8, type PixelSize } from '../../decode/pixels.ts';

/** A window and where it lies in its frame. */
export interface LumaWindow {
  readonly place: Crop;
  readonly data: Uint8Array;
}

/** Side of a window [px]: a crop and room for the point to be carried elsewhere. */
export const WINDOW_PX = 1024;

/** All windows together [bytes]; frames beyond are decoded a second time. */
const MOST_BYTES = 2 ** 30;

export function windowRound(luma: Luma8, point: { readonly x: number; readonly y: number }): LumaWindow {
  const place = cropRound(luma, point, { width: WINDOW_PX, height: WINDOW_PX });
  return { place, data: cutOut(luma, 1, place).data };
}

export interface WindowStore {
  put(id: string, window: LumaWindow): void;
  /** @returns luma round a place, as if cut from the frame; null where the window does not hold it all */
  cut(
    id: string,
    frame: PixelSize,
    place: { readonly x: number; readonly y: number },
    wanted: PixelSize,
  ): { readonly crop: Luma8; readonly place: Crop } | null;
  close(): void;
}

export function openWindows(): WindowStore {
  const kept = new Map<string, { place: Crop; at: number }>();
  let file: { descriptor: number; folder: string } | null = null;
  let length = 0;
  const open = () => {
    const folder = mkdtempSync(join(tmpdir(), 'tepal-'));
    const path = join(folder, 'windows');
    const opened = { descriptor: openSync(path, 'w+'), folder };
    // Where the system allows it the file has no name from now on, and goes with the program however that ends.
    if (process.platform !== 'win32') rmSync(folder, { recursive: true, force: true });
    return opened;
  };
  return {
    put(id, { place, data }) {
      if (length + data.length > MOST_BYTES) return;
      try {
        file ??= open();
        writeSync(file.descriptor, data, 0, data.length, length);
      } catch {
        // Without room for it the frame is decoded a second time.
        return;
      }
      kept.set(id, { place, at: length });
      length += data.length;
    },
    cut(id, frame, point, wanted) {
      const window = kept.get(id);
      if (window === undefined || file === null) return null;
      const crop = cropRound(frame, point, wanted);
      const { place, at } = window;
      const [x, y] = [crop.left - place.left, crop.top - place.top];
      const inside = x >= 0 && y >= 0 && x + crop.width <= place.width && y + crop.height <= place.height;
      if (!inside) return null;
      const rows = Buffer.allocUnsafe(place.width * crop.height);
      const read = readSync(file.descriptor, rows, 0, rows.length, at + y * place.width);
      if (read < rows.length) return null;
      const strip = {
        width: place.width,
        height: crop.height,
        data: new Uint8Array(rows.buffer, rows.byteOffset, rows.length),
      };
      const data = cutOut(strip, 1, { left: x, top: 0, width: crop.width, height: crop.height });
      return { crop: data, place: crop };
    },
    close() {
      if (file === null) return;
      closeSync(file.descriptor);
      rmSync(file.folder, { recursive: true, force: true });
      file = null;
      kept.clear();
    },
  };
}
