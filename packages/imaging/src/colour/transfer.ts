/** Transfer functions: encoded values to light and back, extended by odd symmetry beyond black. */

/** How a space encodes light. */
export type Transfer = 'srgb' | 'adobeRgb' | 'romm' | 'linear';

/** @source Adobe RGB (1998) Color Image Encoding, 4.3.1.2: 563/256 */
const ADOBE_GAMMA = 563 / 256;

const odd = (value: number, positive: (v: number) => number) =>
  value < 0 ? -positive(-value) : positive(value);

/** @source IEC 61966-2-1 (OI 8.1) */
const srgbDecode = (V: number) => (V <= 0.04045 ? V / 12.92 : ((V + 0.055) / 1.055) ** 2.4);
const srgbEncode = (L: number) => (L <= 0.0031308 ? 12.92 * L : 1.055 * L ** (1 / 2.4) - 0.055);

/** @source ANSI/I3A IT10.7666 (ROMM RGB): slope 16 below 1/512 */
const rommDecode = (V: number) => (V < 16 / 512 ? V / 16 : V ** 1.8);
const rommEncode = (L: number) => (L < 1 / 512 ? 16 * L : L ** (1 / 1.8));

const decoders: Readonly<Record<Transfer, (V: number) => number>> = {
  srgb: srgbDecode,
  adobeRgb: (V) => V ** ADOBE_GAMMA,
  romm: rommDecode,
  linear: (V) => V,
};

const encoders: Readonly<Record<Transfer, (L: number) => number>> = {
  srgb: srgbEncode,
  adobeRgb: (L) => L ** (1 / ADOBE_GAMMA),
  romm: rommEncode,
  linear: (L) => L,
};

/** Encoded value (0 black, 1 white, beyond allowed) to light. */
export function decodeTransfer(transfer: Transfer, encoded: number): number {
  return odd(encoded, decoders[transfer]);
}

/** Light (0 black, 1 white, beyond allowed) to its encoded value. */
export function encodeTransfer(transfer: Transfer, light: number): number {
  return odd(light, encoders[transfer]);
}

/** Light of each of `size` equally spaced codes from black to white. */
export function decodingTable(transfer: Transfer, size: number): Float32Array {
  return Float32Array.from({ length: size }, (_, code) => decodeTransfer(transfer, code / (size - 1)));
}

/** Steps of the square root of light in `createEncoder`'s table: fine enough for 16-bit codes. */
const STEPS = 16_384;

/**
 * A quick encoder for many samples: a table over the square root of light with straight lines between, off by less
 * than a third of a 16-bit code. What is darker than black or brighter than white is cut.
 *
 * @returns light in, encoded value 0 to 1 out
 */
export function createEncoder(transfer: Transfer): (light: number) => number {
  const table = Float64Array.from({ length: STEPS + 2 }, (_, i) =>
    encodeTransfer(transfer, Math.min(1, (i / STEPS) ** 2)),
  );
  return (light) => {
    if (!(light > 0)) return 0;
    if (light >= 1) return 1;
    const at = Math.sqrt(light) * STEPS;
    const i = Math.trunc(at);
    const low = table[i]!;
    return low + (table[i + 1]! - low) * (at - i);
  };
}
