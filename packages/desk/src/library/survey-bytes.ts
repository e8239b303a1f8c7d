/** A survey as bytes for the library, and back: a short JSON head, then the arrays one after another. */
import type { FrameSurvey } from '@tepal/imaging';

const arrays = ['gradientXX', 'gradientXY', 'gradientYY', 'detail', 'topShare', 'meanLuma'] as const;

/** Samples of the small luma are kept in sixteenths of a code: far below its noise, a half of the bytes. */
const SMALL_SCALE = 16;

export function surveyToBytes(survey: FrameSurvey): Buffer {
  const { width, height, tilePx, columns, rows, noiseSigma, smallFactor, small } = survey;
  const head = Buffer.from(
    JSON.stringify({
      ...{ width, height, tilePx, columns, rows, noiseSigma, smallFactor },
      small: { width: small.width, height: small.height },
    }),
  );
  const start = Math.ceil((4 + head.length) / 4) * 4;
  const tiles = columns * rows;
  const bytes = Buffer.alloc(start + arrays.length * tiles * 4 + small.data.length * 2);
  bytes.writeUInt32LE(head.length, 0);
  head.copy(bytes, 4);
  const { buffer, byteOffset } = bytes;
  arrays.forEach((name, i) => {
    new Float32Array(buffer, byteOffset + start + i * tiles * 4, tiles).set(survey[name]);
  });
  const codes = new Uint16Array(buffer, byteOffset + start + arrays.length * tiles * 4, small.data.length);
  for (let i = 0; i < codes.length; i += 1) codes[i] = Math.round(small.data[i]! * SMALL_SCALE);
  return bytes;
}

export function surveyFromBytes(stored: Uint8Array): FrameSurvey {
  // Typed arrays want their place on a multiple of four, and a database gives bytes anywhere.
  const bytes = stored.byteOffset % 4 === 0 ? stored : stored.slice();
  const view = new DataView(bytes.buffer, bytes.byteOffset);
  const length = view.getUint32(0, true);
  const head = JSON.parse(new TextDecoder().decode(bytes.subarray(4, 4 + length))) as Omit<
    FrameSurvey,
    (typeof arrays)[number] | 'small'
  > & { small: { width: number; height: number } };
  const start = Math.ceil((4 + length) / 4) * 4;
  const tiles = head.columns * head.rows;
  const plane = (i: number) =>
    new Float32Array(bytes.buffer, bytes.byteOffset + start + i * tiles * 4, tiles);
  const codes = new Uint16Array(
    bytes.buffer,
    bytes.byteOffset + start + arrays.length * tiles * 4,
    head.small.width * head.small.height,
  );
  let small: FrameSurvey['small'] | null = null;
  return {
    ...head,
    gradientXX: plane(0),
    gradientXY: plane(1),
    gradientYY: plane(2),
    detail: plane(3),
    topShare: plane(4),
    meanLuma: plane(5),
    // Most who read a survey want its tiles only.
    get small() {
      if (small === null) {
        const data = new Float32Array(codes.length);
        for (let i = 0; i < codes.length; i += 1) data[i] = codes[i]! / SMALL_SCALE;
        small = { ...head.small, data };
      }
      return small;
    },
  };
}
