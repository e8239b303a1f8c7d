/** The distribution of a sum of squares of independent normal variables with different weights. */

/** Nodes of the contour; 12 give seven digits. */
const M = 12;
const R_NODE = (2 * M) / 5;
interface Node {
  readonly re: number;
  readonly im: number;
  /** exp(node) (1 + i sigma) r/M, the weight of the contour, already divided by the node. */
  readonly wRe: number;
  readonly wIm: number;
}
const NODES: readonly Node[] = Array.from({ length: M }, (_, k) => {
  if (k === 0) return { re: R_NODE, im: 0, wRe: (0.5 * Math.exp(R_NODE)) / M, wIm: 0 };
  const theta = (k * Math.PI) / M;
  const cot = 1 / Math.tan(theta);
  const re = R_NODE * theta * cot;
  const im = R_NODE * theta;
  const sigma = theta + (theta * cot - 1) * cot;
  const e = (Math.exp(re) * R_NODE) / M;
  // exp(s) (1 + i sigma) / s
  const a = e * (Math.cos(im) - sigma * Math.sin(im));
  const b = e * (Math.sin(im) + sigma * Math.cos(im));
  const d = re * re + im * im;
  return { re, im, wRe: (a * re + b * im) / d, wIm: (b * re - a * im) / d };
});

/** Below this share of the limit the sum cannot reach it: 1/(2 x 0.01) is 50 nepers away. */
const NEGLIGIBLE = 0.01;
/** A weight of this share of the limit moves the chance by less than the method's own error. */
const UNFELT = 1e-9;

/**
 * P(sum of weight Z^2 <= limit), Z independent and standard normal, by numeric inversion of the Laplace transform
 * prod 1/sqrt(1 + 2 w s) on Talbot's contour: deterministic, about seven decimals.
 *
 * @param weights finite, >= 0, in the unit of the limit
 * @param limit when not above 0, 0 is returned: the sum is never negative
 * @returns 0 to 1; never rises as a weight grows
 * @source Abate & Valko 2004, Int. J. Numer. Meth. Engng 60, 979, fixed Talbot (from memory)
 */
export function probabilityWithin(weights: readonly number[], limit: number): number {
  if (!(limit > 0)) return 0;
  const felt: number[] = [];
  let total = 0;
  for (const weight of weights) {
    total += weight;
    if (weight > UNFELT * limit) felt.push((2 * weight) / limit);
  }
  if (total <= NEGLIGIBLE * limit) return 1;
  let sum = 0;
  for (const node of NODES) {
    let fRe = 1;
    let fIm = 0;
    // Two factors share one root. On the upper half of the contour each lies in the upper half-plane, so their product
    // has turned past the root's cut exactly when it shows up below the real axis.
    for (let i = 0; i < felt.length; i += 2) {
      const a = felt[i]!;
      const b = felt[i + 1] ?? 0;
      const aRe = 1 + a * node.re;
      const aIm = a * node.im;
      const bRe = 1 + b * node.re;
      const bIm = b * node.im;
      const zRe = aRe * bRe - aIm * bIm;
      const zIm = aRe * bIm + aIm * bRe;
      const modulus = Math.sqrt(zRe * zRe + zIm * zIm);
      const past = zIm < 0 ? -1 : 1;
      const rootRe = past * Math.sqrt(Math.max(0, (modulus + zRe) / 2));
      const rootIm = Math.sqrt(Math.max(0, (modulus - zRe) / 2));
      const re = (fRe * rootRe + fIm * rootIm) / modulus;
      fIm = (fIm * rootRe - fRe * rootIm) / modulus;
      fRe = re;
    }
    sum += node.wRe * fRe - node.wIm * fIm;
  }
  return Math.min(1, Math.max(0, sum));
}
