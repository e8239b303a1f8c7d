/**
 * Raws as the camera saw them: black taken away, the mosaic filled in by the decoder, neither balanced nor turned to
 * another space. What is made of it is developed in imaging.
 */
import type { CameraPicture } from '@tepal/imaging';
import { DecodeFault, checkSize } from './jpeg-decoder.ts';
import { withDecoder, type LibRawInstance } from './raw-core.ts';

type Three = readonly [number, number, number];
type Nine = CameraPicture['xyzToCamera'];

/** sRGB's primaries under D65: what cameras without a known matrix are taken for. @source IEC 61966-2-1 */
const XYZ_TO_SRGB: Nine = [
  ...[3.2404542, -1.5371385, -0.4985314],
  ...[-0.969266, 1.8760108, 0.041556],
  ...[0.0556434, -0.2040259, 1.0572252],
] as unknown as Nine;

export interface LinearRaw {
  readonly camera: CameraPicture;
  /** Where the matrix comes from; "none" where neither file nor decoder knew the camera. */
  readonly matrixFrom: 'file' | 'decoder' | 'none';
}

/** No curve. All six numbers of the decoder's own array are needed: a shorter one is passed over without a word. */
const STRAIGHT = [1, 1, 0, 0, 0, 0];

/** The decoder's number for the interpolation named DHT: the nearest to the truth of those measured (decision 0011). */
const DHT = 11;

/**
 * The linear channels of a raw.
 *
 * The mosaic is filled in on balanced channels (the interpolation compares them), and the balance is taken out again
 * by `whiteAt`. The decoder's habit of lowering the white level to the brightest pixel is switched off: it would make
 * every frame of a series brighter by another amount.
 *
 * @throws DecodeFault with a sentence
 */
export async function rawLinear(bytes: Uint8Array): Promise<LinearRaw> {
  const colours = await withDecoder(bytes, {}, 'headers', coloursOf);
  const most = Math.max(...colours.balance);
  const whiteAt = colours.balance.map((gain) => (65_535 * gain) / most) as unknown as Three;
  const [r, g, b] = colours.balance;
  const settings = {
    ...{ outputBps: 16, outputColor: 0, gamm: STRAIGHT, noAutoBright: true, highlight: 1 },
    ...{ userFlip: 0, userQual: DHT, adjustMaximumThr: 0, userMul: [r, g, b, g] },
  };
  return withDecoder(bytes, settings, 'picture', (decoder) => {
    const header = decoder.metadata(false);
    checkSize(Number(header?.['width'] ?? 0), Number(header?.['height'] ?? 0));
    const { width, height, colors, data } = decoder.imageData();
    if (colors !== 3 || data.length !== width * height * 3) {
      throw new DecodeFault(`The raw file's picture has ${colors} colours; three are needed.`);
    }
    const samples = Uint16Array.from(data);
    const camera: CameraPicture = {
      ...{ width, height, data: samples, whiteAt },
      clipsAt: clippingLevels(samples, whiteAt),
      xyzToCamera: colours.matrix,
      asShotNeutral: colours.asShot,
    };
    return { camera, matrixFrom: colours.matrixFrom };
  });
}

function coloursOf(decoder: LibRawInstance) {
  const found = (decoder.metadata(true)?.['color_data'] ?? {}) as {
    readonly cam_mul?: readonly number[];
    readonly pre_mul?: readonly number[];
    readonly cam_xyz?: readonly (readonly number[])[];
    readonly dng_color?: readonly {
      readonly illuminant: number;
      readonly colormatrix: readonly (readonly number[])[];
    }[];
    readonly rgb_cam?: readonly (readonly number[])[];
  };
  const three = (list: readonly number[] | undefined): Three | null => {
    const [r, g, b] = list ?? [];
    const usable = [r, g, b].every((value) => value !== undefined && value > 0 && Number.isFinite(value));
    return usable ? [r! / g!, 1, b! / g!] : null;
  };
  const asShotGains = three(found.cam_mul);
  // Gains of exactly 1 are what a file without any says.
  const said = asShotGains !== null && !asShotGains.every((gain) => gain === 1);
  const inFile = dngMatrix(found.dng_color ?? []);
  const known = nine(found.cam_xyz);
  const matrix = inFile ?? known ?? XYZ_TO_SRGB;
  const matrixFrom = inFile !== null ? 'file' : known !== null ? 'decoder' : 'none';
  return {
    matrix,
    matrixFrom,
    balance: (said ? asShotGains : null) ?? three(found.pre_mul) ?? ([1, 1, 1] as const),
    asShot: said ? (asShotGains.map((gain) => 1 / gain) as unknown as Three) : null,
  } as const;
}

/** EXIF's number of the light that a DNG's matrix was measured under: D65. */
const D65_LIGHT = 21;

function dngMatrix(
  lights: readonly {
    readonly illuminant: number;
    readonly colormatrix: readonly (readonly number[])[];
  }[],
): Nine | null {
  const usable = lights.flatMap(({ illuminant, colormatrix }) => {
    const matrix = nine(colormatrix);
    return matrix === null ? [] : [{ illuminant, matrix }];
  });
  return (usable.find(({ illuminant }) => illuminant === D65_LIGHT) ?? usable[0])?.matrix ?? null;
}

function nine(rows: readonly (readonly number[])[] | undefined): Nine | null {
  const flat = (rows ?? []).slice(0, 3).flatMap((row) => row.slice(0, 3));
  const sound = flat.length === 9 && flat.every(Number.isFinite) && flat.some((value) => value !== 0);
  if (!sound) return null;
  const [a, b, c, d, e, f, g, h, i] = flat as unknown as Nine;
  const determinant = a * (e * i - f * h) - b * (d * i - f * g) + c * (d * h - e * g);
  return Math.abs(determinant) > 1e-6 ? (flat as unknown as Nine) : null;
}

/** A top level this near to white may be where the sensor fills; so many samples must lie on it. */
const NEAR_WHITE = 0.8;
const PILED_UP = 200;

/**
 * Where the channels clip: at white, or below it where samples pile up at their top, for some sensors fill before
 * their converter does. Full is full for all channels alike, so the highest share that any of them shows counts.
 */
function clippingLevels(samples: Uint16Array, whiteAt: Three): Three {
  const tops = [0, 0, 0];
  for (let i = 0; i < samples.length; i += 3) {
    for (let c = 0; c < 3; c += 1) if (samples[i + c]! > tops[c]!) tops[c] = samples[i + c]!;
  }
  const piled = [0, 0, 0];
  for (let i = 0; i < samples.length; i += 3) {
    for (let c = 0; c < 3; c += 1) if (samples[i + c]! >= tops[c]! * 0.999) piled[c] = piled[c]! + 1;
  }
  const shares = tops
    .map((top, c) => (piled[c]! >= PILED_UP ? top / whiteAt[c]! : 0))
    .filter((share) => share >= NEAR_WHITE && share < 1);
  const share = shares.length === 0 ? 1 : Math.max(...shares);
  return whiteAt.map((white) => white * share) as unknown as Three;
}
