/** Crops at 100 % and previews: the frames looked at last stay decoded, so that the next crop comes at once. */
import sharp from 'sharp';
import { cropRound, cutOut, type Rgb8 } from '../decode/pixels.ts';
import type { PhotographKind } from '../files/kinds.ts';
import type { Pool } from '../measure/pool.ts';

export interface Viewer {
  crop(
    frame: FrameToView,
    wanted: { readonly x: number; readonly y: number; readonly width: number; readonly height: number },
  ): Promise<Buffer>;
  /** The pixels of such a crop. */
  pixels(
    frame: FrameToView,
    wanted: { readonly x: number; readonly y: number; readonly width: number; readonly height: number },
  ): Promise<Rgb8>;
  preview(frame: FrameToView, longEdgePx: number): Promise<Buffer>;
}

export interface FrameToView {
  readonly id: string;
  readonly path: string;
  readonly kind: PhotographKind;
}

/** Decoded frames are kept up to so many bytes: five of 20 megapixels. */
const KEPT_BYTES = 320_000_000;
const KEPT_JPEG_BYTES = 48_000_000;

/** @param pool threads of its own, so that looking does not wait for measuring */
export function openViewer(pool: Pool): Viewer {
  const frames = newKeeper<Promise<Rgb8>>(KEPT_BYTES);
  const jpegs = newKeeper<Promise<Buffer>>(KEPT_JPEG_BYTES);

  const decoded = (frame: FrameToView): Promise<Rgb8> =>
    frames.get(
      frame.id,
      async () => pool.run('decode', { path: frame.path, kind: frame.kind }),
      (rgb) => rgb.data.length,
    );

  const once = (key: string, make: () => Promise<Buffer>) => jpegs.get(key, make, (bytes) => bytes.length);

  return {
    crop: (frame, wanted) =>
      once(`${frame.id} ${wanted.x} ${wanted.y} ${wanted.width} ${wanted.height}`, async () => {
        const picture = await decoded(frame);
        const part = cutOut(picture, 3, cropRound(picture, wanted, wanted));
        return encode(part, 92);
      }),
    pixels: async (frame, wanted) => {
      const picture = await decoded(frame);
      return cutOut(picture, 3, cropRound(picture, wanted, wanted));
    },
    preview: (frame, longEdgePx) =>
      once(`${frame.id} ${longEdgePx}`, async () => {
        const picture = await decoded(frame);
        return sharp(picture.data, { raw: { width: picture.width, height: picture.height, channels: 3 } })
          .resize({ width: longEdgePx, height: longEdgePx, fit: 'inside', withoutEnlargement: true })
          .jpeg({ quality: 85 })
          .toBuffer();
      }),
  };
}

function encode(picture: Rgb8, quality: number): Promise<Buffer> {
  return sharp(picture.data, { raw: { width: picture.width, height: picture.height, channels: 3 } })
    .jpeg({ quality, chromaSubsampling: '4:4:4' })
    .toBuffer();
}

/** Keeps what was asked for last, up to a number of bytes; what fails is not kept. */
function newKeeper<P extends Promise<unknown>>(mostBytes: number) {
  const kept = new Map<string, { value: P; bytes: number }>();
  let total = 0;
  const drop = (key: string) => {
    total -= kept.get(key)?.bytes ?? 0;
    kept.delete(key);
  };
  return {
    get(key: string, make: () => P, sizeOf: (value: Awaited<P>) => number): P {
      const found = kept.get(key);
      if (found !== undefined) {
        kept.delete(key);
        kept.set(key, found);
        return found.value;
      }
      const value = make();
      const entry = { value, bytes: 0 };
      kept.set(key, entry);
      value.then(
        (made) => {
          if (kept.get(key) !== entry) return;
          entry.bytes = sizeOf(made as Awaited<P>);
          total += entry.bytes;
          for (const oldest of kept.keys()) {
            if (total <= mostBytes || oldest === key) break;
            drop(oldest);
          }
        },
        () => drop(key),
      );
      return value;
    },
  };
}
