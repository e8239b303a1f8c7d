/**
 * Raw files as values: header, preview, the sensor's samples, a developed picture. A decoder's memory only grows, so a
 * thread that has decoded pixels calls itself worn.
 */
import { checkSize, DecodeFault } from './jpeg-decoder.ts';
import type { Orientation, Rgb16, Rgb8 } from './pixels.ts';
import { withDecoder, withHeaders, type LibRawInstance } from './raw-core.ts';
import { bayerOf, type Mosaic } from './raw-mosaic.ts';
import type { DecodeRoom } from './room.ts';

export interface RawHeader {
  /** Size of the developed picture before it is brought upright [px]. */
  readonly width: number;
  readonly height: number;
  readonly orientation: Orientation;
  readonly camera: string | null;
  readonly lens: string | null;
  readonly iso: number | null;
  readonly exposureTimeS: number | null;
  readonly fNumber: number | null;
  readonly focalLengthMm: number | null;
  /** The camera's local time, ISO 8601 without an offset; null where the file gives none. */
  readonly takenAt: string | null;
  readonly preview: { readonly width: number; readonly height: number } | null;
  /** Whether each pixel has one colour of a 2 by 2 pattern, so that the mosaic alone gives luma and clipping. */
  readonly bayer: boolean;
}

/** Below this many bytes a pixel no camera compresses: the pixels of the file are missing. */
const LEAST_BYTES_PER_PIXEL = 0.08;

/** What the decoder holds beside the file and the pixels [bytes]. */
const OVERHEAD_BYTES = 64 * 2 ** 20;

/** Decodes pixels: within the threads' memory, and the thread is worn after it. */
async function withPixels<T>(
  bytes: Uint8Array,
  header: RawHeader,
  how: {
    readonly bytesPerPixel: number;
    readonly settings: Record<string, unknown>;
    readonly room: DecodeRoom;
  },
  use: (decoder: LibRawInstance) => T,
): Promise<T> {
  const { width, height } = header;
  checkSize(width, height);
  if (bytes.length < LEAST_BYTES_PER_PIXEL * width * height) {
    throw new DecodeFault(
      `The raw file is cut off: ${bytes.length} bytes cannot hold ${width} × ${height} px.`,
    );
  }
  // The file is in memory twice: as read, and in the decoder.
  const needed = 2 * bytes.length + how.bytesPerPixel * width * height;
  if (needed > how.room.memory.totalBytes) {
    throw new DecodeFault(
      `The raw file of ${width} × ${height} px has no preview of its full size, and decoding it would take ${megabytes(needed)} MB of memory; up to ${megabytes(how.room.memory.totalBytes)} are used.`,
    );
  }
  how.room.worn = true;
  return how.room.memory.hold(
    needed,
    () => withDecoder(bytes, how.settings, 'picture', use, needed + OVERHEAD_BYTES),
    true,
  );
}

const megabytes = (bytes: number) => Math.round(bytes / 2 ** 20);

/** What a raw file says of itself. @throws DecodeFault when it cannot be opened */
export function rawHeader(bytes: Uint8Array): Promise<RawHeader> {
  return withHeaders(bytes, headerOf);
}

/** The header, and the bytes of the embedded JPEG preview; null where there is none. */
export function rawPreview(
  bytes: Uint8Array,
): Promise<{ readonly header: RawHeader; readonly preview: Buffer | null }> {
  return withHeaders(bytes, (decoder) => {
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

/** Sensor samples in the decoder and copied out of it, and the luma made of them. */
const MOSAIC_BYTES_PER_PIXEL = 5;
/** Four 16-bit samples a pixel in the decoder, the developed picture in it and copied out of it. */
const DEVELOPED_BYTES_PER_PIXEL = { 8: 14, 16: 20 } as const;

/**
 * The sensor's samples as they are, with black and white level.
 *
 * @throws DecodeFault when the pixels are damaged, or have no 2 by 2 pattern of colours
 */
export function rawMosaic(bytes: Uint8Array, header: RawHeader, room: DecodeRoom): Promise<Mosaic> {
  return withPixels(
    bytes,
    header,
    { bytesPerPixel: MOSAIC_BYTES_PER_PIXEL, settings: {}, room },
    (decoder) => {
      const sensor = decoder.rawImageData();
      const found = decoder.metadata(true);
      const colours = found === undefined ? null : bayerOf(found['filters'], found['cdesc']);
      if (sensor === undefined || colours === null) {
        throw new DecodeFault("The raw file's sensor has no plain pattern of colours.");
      }
      return {
        ...{ width: sensor.width, height: sensor.height, data: sensor.data, stride: sensor.raw_width },
        start: sensor.top_margin * sensor.raw_width + sensor.left_margin,
        colours,
        ...levelsOf(found?.['color_data']),
      };
    },
  );
}

/** Levels as the decoder has them once the pixels are unpacked: black then holds what it measured in masked pixels. */
function levelsOf(color: unknown) {
  const found = (typeof color === 'object' && color !== null ? color : {}) as Record<string, unknown>;
  const number = (key: string) => (typeof found[key] === 'number' ? (found[key] as number) : 0);
  const list = (key: string) => (Array.isArray(found[key]) ? (found[key] as unknown[]) : []);
  const whole = (factors: readonly unknown[]) => {
    const [red, green, blue] = factors.map(Number);
    return red! > 0 && green! > 0 && blue! > 0 ? ([red!, green!, blue!] as const) : null;
  };
  const balance = whole(list('cam_mul')) ?? whole(list('pre_mul')) ?? ([1, 1, 1] as const);
  const blackLevel = Math.max(0, number('black'));
  return { blackLevel, whiteLevel: Math.max(blackLevel + 1, number('maximum')), balance };
}

/** Developed to 8-bit sRGB as shot, without automatic brightening, before it is brought upright. */
export function rawRgb8(bytes: Uint8Array, header: RawHeader, room: DecodeRoom): Promise<Rgb8> {
  const settings = { ...asShot, outputBps: 8, userQual: QUALITY_FAST };
  return withPixels(
    bytes,
    header,
    { bytesPerPixel: DEVELOPED_BYTES_PER_PIXEL[8], settings, room },
    (decoder) => {
      const { width, height, data } = pictureOf(decoder);
      return { width, height, data: data instanceof Uint8Array ? data : Uint8Array.from(data) };
    },
  );
}

/** Developed to 16-bit sRGB as shot, without automatic brightening, before it is brought upright. */
export function rawRgb16(bytes: Uint8Array, header: RawHeader, room: DecodeRoom): Promise<Rgb16> {
  const settings = { ...asShot, outputBps: 16, userQual: QUALITY_FULL };
  return withPixels(
    bytes,
    header,
    { bytesPerPixel: DEVELOPED_BYTES_PER_PIXEL[16], settings, room },
    (decoder) => {
      const { width, height, data } = pictureOf(decoder);
      return { width, height, data: data instanceof Uint16Array ? data : Uint16Array.from(data) };
    },
  );
}

/** LibRaw's numbers for how the colours between are found: linear, and along edges. */
const QUALITY_FAST = 0;
const QUALITY_FULL = 3;

/**
 * Camera's white balance, sRGB's primaries and curve (IEC 61966-2-1: power 1/2.4, slope 12.92), not turned. The decoder
 * takes the curve as six numbers and drops a shorter list without a word. Its habit of lowering the white level to the
 * brightest pixel is off: it would make each frame of a series brighter by another amount.
 */
const asShot = {
  useCameraWb: true,
  noAutoBright: true,
  adjustMaximumThr: 0,
  outputColor: 1,
  gamm: [1 / 2.4, 12.92, 0, 0, 0, 0],
  userFlip: 0,
};

function pictureOf(decoder: LibRawInstance) {
  const picture = decoder.imageData();
  if (picture.colors !== 3 || picture.data.length !== picture.width * picture.height * 3) {
    throw new DecodeFault(`The raw file's picture has ${picture.colors} colours; three are needed.`);
  }
  return picture;
}

/** Significant digits of settings: a 32-bit float is good for seven. */
const DIGITS = 6;

function headerOf(decoder: LibRawInstance): RawHeader {
  const found = decoder.metadata(true);
  if (found === undefined) throw new DecodeFault("The raw file's headers cannot be read.");
  const number = (key: string) => (typeof found[key] === 'number' ? (found[key] as number) : 0);
  // The decoder holds 32-bit floats; a camera writes fractions of fewer digits.
  const positive = (key: string) =>
    number(key) > 0 && Number.isFinite(number(key)) ? Number(number(key).toPrecision(DIGITS)) : null;
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
    lens: lensOf(found['lens']),
    iso: positive('iso_speed'),
    exposureTimeS: blank ? null : positive('shutter'),
    fNumber: blank ? null : positive('aperture'),
    focalLengthMm: positive('focal_len'),
    takenAt: localTime(number('timestamp')),
    preview: preview.width > 0 && preview.height > 0 ? preview : null,
    bayer: bayerOf(found['filters'], found['cdesc']) !== null,
  };
}

/** The lens by its name in the file, else as the maker's own tags give it. */
function lensOf(block: unknown): string | null {
  const found = (typeof block === 'object' && block !== null ? block : {}) as Record<string, unknown>;
  const inside = (found['makernotes'] ?? {}) as Record<string, unknown>;
  const names = [found['Lens'], inside['Lens']].map((name) => (typeof name === 'string' ? name.trim() : ''));
  return names.find((name) => name !== '') ?? null;
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
