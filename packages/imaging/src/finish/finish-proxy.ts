/** The steps on a small copy, quickly and again and again, for a page whose controls must answer at once. */
import { RGB_SPACES, type RgbSpace } from '../colour/rgb-space.ts';
import { createGamutMapper } from '../colour/gamut.ts';
import { createEncoder } from '../colour/transfer.ts';
import { copyPicture, type LinearPicture } from '../develop/linear-picture.ts';
import { JUST_SEEN } from '../develop/rendered.ts';
import { finishPicture, type FinishContext, type FinishSteps } from './finish-picture.ts';

/** What the page draws: pixels for a canvas, and where they are not what the picture holds. */
export interface ProxyView {
  readonly width: number;
  readonly height: number;
  /** Red, green, blue, 255: encoded for the space. */
  readonly rgba: Uint8ClampedArray;
  /** For each pixel 0 as it is; 1 colour that the space cannot show; 2 brighter than white. */
  readonly warnings: Uint8Array;
  readonly notes: readonly string[];
}

export interface ProxyFinisher {
  /**
   * The proxy finished by some steps. What comes before the first step that differs from the last call is not done
   * again. Noise is left as it is: on a small copy it is averaged away already.
   *
   * @throws DomainError if a step is out of its range
   */
  view(steps: FinishSteps, space?: RgbSpace): ProxyView;
}

/** The steps in three groups, as they follow one another; the last is the quickest and changes most often. */
const GROUPS: readonly (readonly (keyof FinishSteps)[])[] = [
  ['spots', 'whiteBalance', 'exposureStops', 'framing'],
  ['fillShade', 'background'],
  ['tone'],
];

/**
 * A finisher for one proxy, which is kept as it is.
 *
 * For cameras the proxy is developed with the white balance wished; for rendered pictures it is turned here.
 */
export function createProxyFinisher(proxy: LinearPicture, context: FinishContext): ProxyFinisher {
  const kept: { key: string; picture: LinearPicture; notes: readonly string[] }[] = [];
  return {
    view(steps, space = RGB_SPACES.srgb) {
      let picture = proxy;
      let key = '';
      const notes: string[] = [];
      GROUPS.forEach((names, n) => {
        const part = Object.fromEntries(
          names.flatMap((name) => (steps[name] === undefined ? [] : [[name, steps[name]]])),
        ) as FinishSteps;
        key += JSON.stringify(part);
        const known = kept[n];
        if (known?.key === key) {
          picture = known.picture;
          notes.push(...known.notes);
          return;
        }
        const empty = Object.keys(part).length === 0;
        const done = empty ? { picture, notes: [] } : finishPicture(picture, part, context);
        picture = done.picture;
        notes.push(...done.notes);
        kept[n] = { key, picture, notes: done.notes };
      });
      return { ...encodeForScreen(picture, space, steps.petals?.ease ?? 0), notes };
    },
  };
}

function encodeForScreen(picture: LinearPicture, space: RgbSpace, ease: number): Omit<ProxyView, 'notes'> {
  const { width, height, red, green, blue } = picture;
  const rgba = new Uint8ClampedArray(width * height * 4);
  const warnings = new Uint8Array(width * height);
  const mapper = createGamutMapper(space, { ease });
  const hard = ease === 0 ? mapper : createGamutMapper(space);
  const codes = codesOfRoots(space);
  const last = codes.length - 1;
  const out = new Float64Array(3);
  for (let i = 0, at = 0; i < warnings.length; i += 1, at += 4) {
    const r = red[i]!;
    const g = green[i]!;
    const b = blue[i]!;
    let reduced = mapper.map(r, g, b, out);
    rgba[at] = codes[Math.trunc(Math.sqrt(out[0]!) * last + 0.5)]!;
    rgba[at + 1] = codes[Math.trunc(Math.sqrt(out[1]!) * last + 0.5)]!;
    rgba[at + 2] = codes[Math.trunc(Math.sqrt(out[2]!) * last + 0.5)]!;
    rgba[at + 3] = 255;
    if (ease > 0 && reduced > JUST_SEEN) reduced = hard.map(r, g, b, out);
    if (r > 0.98 && g > 0.98 && b > 0.98 && (r > 1.02 || g > 1.02 || b > 1.02)) warnings[i] = 2;
    else if (reduced > JUST_SEEN) warnings[i] = 1;
  }
  return { width, height, rgba, warnings };
}

/** 8-bit codes of the space over the square root of light: a step is far below one code. */
function codesOfRoots(space: RgbSpace): Uint8Array {
  const encode = createEncoder(space.transfer);
  return Uint8Array.from({ length: 4096 }, (_, i) => Math.round(encode((i / 4095) ** 2) * 255));
}

/** Proxies are at most so large [px along the longer side]: a control then answers within a tenth of a second. */
export const PROXY_SIDE_PX = 1000;

/** A copy of a picture no longer than `sidePx`, each pixel the mean of those it stands for. */
export function makeProxy(picture: LinearPicture, sidePx = PROXY_SIDE_PX): LinearPicture {
  const factor = Math.ceil(Math.max(picture.width, picture.height) / sidePx);
  if (factor <= 1) return copyPicture(picture);
  const width = Math.floor(picture.width / factor) || 1;
  const height = Math.floor(picture.height / factor) || 1;
  const mean = (plane: Float32Array) => {
    const out = new Float32Array(width * height);
    for (let y = 0; y < height; y += 1) {
      for (let x = 0; x < width; x += 1) {
        let sum = 0;
        for (let v = 0; v < factor; v += 1) {
          const row = Math.min(picture.height - 1, y * factor + v) * picture.width;
          for (let u = 0; u < factor; u += 1)
            sum += plane[row + Math.min(picture.width - 1, x * factor + u)]!;
        }
        out[y * width + x] = sum / factor ** 2;
      }
    }
    return out;
  };
  return { width, height, red: mean(picture.red), green: mean(picture.green), blue: mean(picture.blue) };
}
