/** The curves of profiles, as equally spaced samples from 0 to 1. */

/** Samples of a curve that a profile gives as a formula: off by less than 1e-7 between them. */
const SAMPLES = 4096;

type Tag = { readonly view: DataView; readonly kind: string };

/**
 * A `curv` or `para` curve.
 *
 * @returns null where there is none that can be read
 * @source ICC.1:2022, 10.6 and 10.18
 */
export function readCurve(tag: Tag | undefined): Float32Array | null {
  return tag === undefined ? null : (readCurveAt(tag.view, 0)?.curve ?? null);
}

/** A curve at an offset within a tag, and how many bytes it takes; null where it does not fit or is of another kind. */
export function readCurveAt(
  view: DataView,
  start: number,
): { readonly curve: Float32Array; readonly bytes: number } | null {
  if (start + 12 > view.byteLength) return null;
  const kind = String.fromCharCode(...[0, 1, 2, 3].map((i) => view.getUint8(start + i)));
  if (kind === 'curv') {
    const count = view.getUint32(start + 8);
    if (start + 12 + 2 * count > view.byteLength) return null;
    if (count === 0) return { curve: Float32Array.from([0, 1]), bytes: 12 };
    if (count === 1) {
      const gamma = view.getUint16(start + 12) / 256;
      return { curve: sampled((x) => x ** gamma), bytes: 14 };
    }
    const curve = Float32Array.from({ length: count }, (_, i) => view.getUint16(start + 12 + 2 * i) / 65_535);
    return { curve, bytes: 12 + 2 * count };
  }
  if (kind !== 'para') return null;
  const type = view.getUint16(start + 8);
  const parameters = [1, 3, 4, 5, 7][type];
  if (parameters === undefined || start + 12 + 4 * parameters > view.byteLength) return null;
  const p = Array.from({ length: parameters }, (_, i) => view.getInt32(start + 12 + 4 * i) / 65_536);
  const [g = 1, a = 1, b = 0, c = 0, d = 0, e = 0, f = 0] = p;
  const power = (x: number) => Math.max(0, a * x + b) ** g;
  const formulas = [
    (x: number) => x ** g,
    (x: number) => (x >= -b / a ? power(x) : 0),
    (x: number) => (x >= -b / a ? power(x) + c : c),
    (x: number) => (x >= d ? power(x) : c * x),
    (x: number) => (x >= d ? power(x) + e : c * x + f),
  ];
  return { curve: sampled(formulas[type]!), bytes: 12 + 4 * parameters };
}

function sampled(formula: (x: number) => number): Float32Array {
  return Float32Array.from({ length: SAMPLES }, (_, i) =>
    Math.min(1, Math.max(0, formula(i / (SAMPLES - 1)))),
  );
}
