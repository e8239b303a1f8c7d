/** Small profiles of version 4, by matrix and one curve: for the spaces that pictures are delivered in. */
import type { IccMatrix } from './icc-table.ts';

export interface ProfileToWrite {
  readonly name: string;
  /** Linear RGB to XYZ of the connection space (D50). */
  readonly toXyz: IccMatrix;
  /** XYZ under the space's own white to XYZ under D50. */
  readonly adaptation: IccMatrix;
  /** y = x^gamma, or with a straight part: (a x + b)^gamma from d on, c x below. */
  readonly curve:
    | { readonly gamma: number }
    | {
        readonly gamma: number;
        readonly a: number;
        readonly b: number;
        readonly c: number;
        readonly d: number;
      };
}

/** sRGB's curve. @source IEC 61966-2-1 */
export const SRGB_CURVE = { gamma: 2.4, a: 1 / 1.055, b: 0.055 / 1.055, c: 1 / 12.92, d: 0.04045 } as const;

const D50 = [0.9642, 1, 0.8249] as const;

/**
 * The bytes of a display profile.
 *
 * @source ICC.1:2022, 7.2 (header), 8.4.3 (three-component matrix-based display profiles)
 */
export function writeMatrixProfile(profile: ProfileToWrite): Uint8Array {
  const m = profile.toXyz;
  const curve = curveTag(profile.curve);
  const tags: readonly (readonly [string, Uint8Array])[] = [
    ['desc', textTag(profile.name)],
    ['cprt', textTag('No copyright, use freely')],
    ['wtpt', xyzTag(D50)],
    ['chad', numbersTag('sf32', profile.adaptation)],
    ['rXYZ', xyzTag([m[0], m[3], m[6]])],
    ['gXYZ', xyzTag([m[1], m[4], m[7]])],
    ['bXYZ', xyzTag([m[2], m[5], m[8]])],
    ['rTRC', curve],
    ['gTRC', curve],
    ['bTRC', curve],
  ];
  const head = 132 + 12 * tags.length;
  const places = new Map<Uint8Array, number>();
  let end = head;
  for (const [, data] of tags) {
    if (places.has(data)) continue;
    places.set(data, end);
    end += Math.ceil(data.length / 4) * 4;
  }
  const bytes = new Uint8Array(end);
  const view = new DataView(bytes.buffer);
  const text = (at: number, value: string) => {
    for (let i = 0; i < value.length; i += 1) bytes[at + i] = value.charCodeAt(i);
  };
  view.setUint32(0, end);
  view.setUint32(8, 0x04_40_00_00);
  text(12, 'mntrRGB XYZ ');
  // The day of the edition of the standard that it follows: the same profile has the same bytes.
  [2022, 5, 1, 0, 0, 0].forEach((value, i) => view.setUint16(24 + 2 * i, value));
  text(36, 'acsp');
  view.setUint32(64, 1);
  D50.forEach((value, i) => view.setInt32(68 + 4 * i, fixed(value)));
  view.setUint32(128, tags.length);
  tags.forEach(([name, data], i) => {
    const entry = 132 + 12 * i;
    const place = places.get(data) ?? 0;
    text(entry, name);
    view.setUint32(entry + 4, place);
    view.setUint32(entry + 8, data.length);
    bytes.set(data, place);
  });
  return bytes;
}

const fixed = (value: number) => Math.round(value * 65_536);

function tagOf(kind: string, size: number): { readonly bytes: Uint8Array; readonly view: DataView } {
  const bytes = new Uint8Array(size);
  for (let i = 0; i < 4; i += 1) bytes[i] = kind.charCodeAt(i);
  return { bytes, view: new DataView(bytes.buffer) };
}

function numbersTag(kind: string, values: readonly number[]): Uint8Array {
  const { bytes, view } = tagOf(kind, 8 + 4 * values.length);
  values.forEach((value, i) => view.setInt32(8 + 4 * i, fixed(value)));
  return bytes;
}

const xyzTag = (xyz: readonly [number, number, number]) => numbersTag('XYZ ', xyz);

function textTag(text: string): Uint8Array {
  const { bytes, view } = tagOf('mluc', 28 + 2 * text.length);
  view.setUint32(8, 1);
  view.setUint32(12, 12);
  view.setUint16(16, 0x656e);
  view.setUint16(18, 0x5553);
  view.setUint32(20, 2 * text.length);
  view.setUint32(24, 28);
  for (let i = 0; i < text.length; i += 1) view.setUint16(28 + 2 * i, text.charCodeAt(i));
  return bytes;
}

function curveTag(curve: ProfileToWrite['curve']): Uint8Array {
  const straight = 'a' in curve;
  const values = straight ? [curve.gamma, curve.a, curve.b, curve.c, curve.d] : [curve.gamma];
  const { bytes, view } = tagOf('para', 12 + 4 * values.length);
  view.setUint16(8, straight ? 3 : 0);
  values.forEach((value, i) => view.setInt32(12 + 4 * i, fixed(value)));
  return bytes;
}
