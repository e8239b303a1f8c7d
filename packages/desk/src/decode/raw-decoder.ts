/**
 * Raw files by LibRaw, compiled to WebAssembly: the one file that knows it. Each job gets a fresh decoder, since the
 * settings of one job cling to the next, and its opaque errors become sentences here.
 */
import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { checkSize, DecodeFault } from './jpeg-decoder.ts';
import type { Orientation, Rgb16, Rgb8 } from './pixels.ts';

export interface RawHeader {
  /** Size of the developed picture before it is brought upright [px]. */
  readonly width: number;
  readonly height: number;
  readonly orientation: Orientation;
  readonly camera: string | null;
  readonly iso: number | null;
  readonly exposureTimeS: number | null;
  readonly fNumber: number | null;
  readonly focalLengthMm: number | null;
  /** The camera's local time, ISO 8601 without an offset; null where the file gives none. */
  readonly takenAt: string | null;
  readonly preview: { readonly width: number; readonly height: number } | null;
}

interface LibRawInstance {
  open(bytes: Uint8Array, settings: Record<string, unknown>): void;
  metadata(full: boolean): Record<string, unknown> | undefined;
  imageData(): { width: number; height: number; colors: number; bits: number; data: ArrayLike<number> };
  thumbnailData(): { data: Uint8Array; width: number; height: number; format: string } | undefined;
  delete(): void;
}

interface LibRawModule {
  readonly LibRaw: new () => LibRawInstance;
}

type LibRawCore = (options: { wasmBinary: Uint8Array }) => Promise<LibRawModule>;

let core: Promise<{ start: LibRawCore; wasmBinary: Uint8Array }> | undefined;

/** The package's own entry wants a browser's Worker; its core module runs anywhere when handed the bytes. */
function loadCore() {
  core ??= (async () => {
    const folder = dirname(createRequire(import.meta.url).resolve('libraw-wasm'));
    const { default: start } = (await import(pathToFileURL(join(folder, 'libraw.js')).href)) as {
      default: LibRawCore;
    };
    return { start, wasmBinary: await readFile(join(folder, 'libraw.wasm')) };
  })();
  return core;
}

async function withDecoder<T>(
  bytes: Uint8Array,
  settings: Record<string, unknown>,
  what: string,
  use: (decoder: LibRawInstance) => T,
): Promise<T> {
  if (bytes.length === 0) throw new DecodeFault('The raw file is empty (0 bytes).');
  const { start, wasmBinary } = await loadCore();
  const { LibRaw } = await start({ wasmBinary });
  const decoder = new LibRaw();
  try {
    decoder.open(bytes, settings);
    return use(decoder);
  } catch (error) {
    if (error instanceof DecodeFault) throw error;
    throw new DecodeFault(
      `The raw file's ${what} cannot be decoded: it is cut off, damaged or not supported.`,
    );
  } finally {
    try {
      decoder.delete();
    } catch {
      // A decoder that failed may not be whole enough to be deleted; its memory goes with the module.
    }
  }
}

/** What a raw file says of itself. @throws DecodeFault when it cannot be opened */
export function rawHeader(bytes: Uint8Array): Promise<RawHeader> {
  return withDecoder(bytes, {}, 'headers', headerOf);
}

/** The header, and the bytes of the embedded JPEG preview; null where there is none. */
export function rawPreview(
  bytes: Uint8Array,
): Promise<{ readonly header: RawHeader; readonly preview: Buffer | null }> {
  return withDecoder(bytes, {}, 'headers', (decoder) => {
    const header = headerOf(decoder);
    return { header, preview: previewOf(decoder) };
  });
}

function previewOf(decoder: LibRawInstance): Buffer | null {
  try {
    const found = decoder.thumbnailData();
    return found?.format === 'jpeg' && found.data.length > 0 ? Buffer.from(found.data) : null;
  } catch {
    return null;
  }
}

/** Developed to 8-bit sRGB as shot, without automatic brightening, before it is brought upright. */
export function rawRgb8(bytes: Uint8Array): Promise<Rgb8> {
  return withDecoder(bytes, { ...asShot, outputBps: 8 }, 'picture', (decoder) => {
    const { width, height, data } = pictureOf(decoder);
    return { width, height, data: Uint8Array.from(data) };
  });
}

/** Developed to 16-bit sRGB as shot, without automatic brightening, before it is brought upright. */
export function rawRgb16(bytes: Uint8Array): Promise<Rgb16> {
  return withDecoder(bytes, { ...asShot, outputBps: 16 }, 'picture', (decoder) => {
    const { width, height, data } = pictureOf(decoder);
    return { width, height, data: Uint16Array.from(data) };
  });
}

/** Camera's white balance, sRGB's primaries and curve (IEC 61966-2-1: power 1/2.4, slope 12.92), not turned. */
const asShot = {
  useCameraWb: true,
  noAutoBright: true,
  outputColor: 1,
  gamm: [2.4, 12.92],
  userFlip: 0,
  userQual: 3,
};

function pictureOf(decoder: LibRawInstance) {
  const header = headerOf(decoder);
  checkSize(header.width, header.height);
  const picture = decoder.imageData();
  if (picture.colors !== 3 || picture.data.length !== picture.width * picture.height * 3) {
    throw new DecodeFault(`The raw file's picture has ${picture.colors} colours; three are needed.`);
  }
  return picture;
}

function headerOf(decoder: LibRawInstance): RawHeader {
  const found = decoder.metadata(false);
  if (found === undefined) throw new DecodeFault("The raw file's headers cannot be read.");
  const number = (key: string) => (typeof found[key] === 'number' ? (found[key] as number) : 0);
  const positive = (key: string) => (number(key) > 0 && Number.isFinite(number(key)) ? number(key) : null);
  const text = (key: string) => (typeof found[key] === 'string' ? (found[key] as string).trim() : '');
  const camera = `${text('camera_make')} ${text('camera_model')}`.trim();
  const preview = { width: number('thumb_width'), height: number('thumb_height') };
  // A DNG without settings is reported with an exposure of 1 s at f/1 and no ISO: that is no exposure at all.
  const blank = number('shutter') === 1 && number('aperture') === 1 && number('iso_speed') === 0;
  return {
    width: number('width'),
    height: number('height'),
    orientation: orientationOf(number('flip')),
    camera: camera === '' ? null : camera,
    iso: positive('iso_speed'),
    exposureTimeS: blank ? null : positive('shutter'),
    fNumber: blank ? null : positive('aperture'),
    focalLengthMm: positive('focal_len'),
    takenAt: localTime(number('timestamp')),
    preview: preview.width > 0 && preview.height > 0 ? preview : null,
  };
}

/** LibRaw's flip (0, 3 upside down, 5 and 6 on its side) as EXIF orientation. */
function orientationOf(flip: number): Orientation {
  return flip === 3 ? 3 : flip === 5 ? 8 : flip === 6 ? 6 : 1;
}

/** LibRaw makes its time stamp from the camera's local time by this computer's zone; the same zone takes it back. */
function localTime(timestampS: number): string | null {
  if (!(timestampS > 0)) return null;
  const t = new Date(timestampS * 1000);
  const two = (n: number) => String(n).padStart(2, '0');
  const day = `${t.getFullYear()}-${two(t.getMonth() + 1)}-${two(t.getDate())}`;
  return `${day}T${two(t.getHours())}:${two(t.getMinutes())}:${two(t.getSeconds())}`;
}
