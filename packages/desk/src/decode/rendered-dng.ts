/** A small invented DNG for tests: an uncompressed mosaic with a black and a white level of known samples. */

export interface RenderedDng {
  readonly width: number;
  readonly height: number;
  readonly blackLevel: number;
  readonly whiteLevel: number;
  /** EXIF orientation. */
  readonly orientation?: number;
  /** The sample at a place; colours lie red, green, green, blue. */
  sampleAt(x: number, y: number, colour: 0 | 1 | 2): number;
}

const SHORT = 3;
const LONG = 4;
const RATIONAL = 5;
const SIGNED_RATIONAL = 10;
const BYTE = 1;
const ASCII = 2;

type Entry = readonly [tag: number, type: number, values: readonly number[] | string];

/** @source TIFF 6.0, section 2; DNG specification 1.4.0.0, chapters 3 and 4 (tags and their defaults) */
export function renderDng({
  width,
  height,
  blackLevel,
  whiteLevel,
  orientation = 1,
  sampleAt,
}: RenderedDng): Buffer {
  const samples = Buffer.alloc(width * height * 2);
  for (let y = 0; y < height; y += 1) {
    for (let x = 0; x < width; x += 1) {
      const colour = ((x & 1) + (y & 1)) as 0 | 1 | 2;
      samples.writeUInt16LE(Math.round(sampleAt(x, y, colour)), 2 * (y * width + x));
    }
  }
  const strip = (at: number): readonly Entry[] => [
    [254, LONG, [0]],
    [256, LONG, [width]],
    [257, LONG, [height]],
    [258, SHORT, [16]],
    [259, SHORT, [1]],
    [262, SHORT, [32_803]],
    [271, ASCII, 'Invented\0'],
    [272, ASCII, 'Close-up 20\0'],
    [273, LONG, [at]],
    [274, SHORT, [orientation]],
    [277, SHORT, [1]],
    [278, LONG, [height]],
    [279, LONG, [samples.length]],
    [33_421, SHORT, [2, 2]],
    [33_422, BYTE, [0, 1, 1, 2]],
    [50_706, BYTE, [1, 4, 0, 0]],
    [50_708, ASCII, 'Invented Close-up 20\0'],
    [50_714, LONG, [blackLevel]],
    [50_717, LONG, [whiteLevel]],
    [50_721, SIGNED_RATIONAL, [3, 1, -1, 1, 0, 1, -1, 1, 2, 1, 0, 1, 0, 1, 0, 1, 1, 1]],
    [50_728, RATIONAL, [1, 1, 1, 1, 1, 1]],
    [50_778, SHORT, [21]],
  ];
  const head = directory(strip(0));
  return Buffer.concat([directory(strip(head.length)), samples]);
}

const sizes: Readonly<Record<number, number>> = {
  [BYTE]: 1,
  [ASCII]: 1,
  [SHORT]: 2,
  [LONG]: 4,
  [RATIONAL]: 4,
  [SIGNED_RATIONAL]: 4,
};

/** Header, directory and the values that do not fit into it. */
function directory(entries: readonly Entry[]): Buffer {
  const start = 8 + 2 + entries.length * 12 + 4;
  const head = Buffer.alloc(start);
  head.write('II*\0', 0, 'latin1');
  head.writeUInt32LE(8, 4);
  head.writeUInt16LE(entries.length, 8);
  const outside: Buffer[] = [];
  let at = start;
  entries.forEach(([tag, type, values], i) => {
    const bytes = typeof values === 'string' ? Buffer.from(values, 'latin1') : numbers(values, sizes[type]!);
    const entry = 10 + 12 * i;
    const rational = type === RATIONAL || type === SIGNED_RATIONAL;
    head.writeUInt16LE(tag, entry);
    head.writeUInt16LE(type, entry + 2);
    head.writeUInt32LE(rational ? values.length / 2 : values.length, entry + 4);
    if (bytes.length <= 4) bytes.copy(head, entry + 8);
    else {
      head.writeUInt32LE(at, entry + 8);
      const padded = Buffer.concat([bytes, Buffer.alloc(bytes.length % 2)]);
      outside.push(padded);
      at += padded.length;
    }
  });
  return Buffer.concat([head, ...outside]);
}

function numbers(values: readonly number[], size: number): Buffer {
  const bytes = Buffer.alloc(values.length * size);
  values.forEach((value, i) => {
    if (size === 1) bytes.writeUInt8(value, i);
    else if (size === 2) bytes.writeUInt16LE(value, 2 * i);
    else bytes.writeInt32LE(value, 4 * i);
  });
  return bytes;
}
