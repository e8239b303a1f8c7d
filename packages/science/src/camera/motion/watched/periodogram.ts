/** Which frequencies stand out of displacements at uneven moments. */
import type { SeenPath } from './swing-path.ts';

/** A frequency that stands out. */
export interface PeriodogramPeak {
  readonly frequencyHz: number;
  /** Share of the variance that a sinusoid of it takes away [0..1]. */
  readonly power: number;
}

/**
 * The generalised Lomb-Scargle periodogram: at each frequency the share of variance that the best sinusoid with a
 * constant takes away, by least squares.
 *
 *   p(f) = (YY_C^2 / CC + YY_S^2 / SS) / YY, about the phase that makes cosine and sine orthogonal
 *
 * @param lowestHz, highestHz range searched, in steps of a tenth of one over the span
 * @returns the peaks of at least half the strongest's power, strongest first
 * @source Zechmeister & Kürster 2009, Astron. Astrophys. 496, 577, eqs. 4 to 5 (from memory)
 */
export function periodogram(
  { timesS, along }: SeenPath,
  lowestHz: number,
  highestHz: number,
): readonly PeriodogramPeak[] {
  const n = timesS.length;
  const spanS = timesS[n - 1]! - timesS[0]!;
  const count = Math.max(3, Math.ceil((highestHz - lowestHz) * spanS * 10) + 1);
  const frequency = (i: number): number => lowestHz + ((highestHz - lowestHz) * i) / (count - 1);
  const mean = along.reduce((sum, value) => sum + value, 0) / n;
  const centred = along.map((value) => value - mean);
  const YY = centred.reduce((sum, value) => sum + value * value, 0);
  const powers = Float64Array.from({ length: count }, (_, i) =>
    YY > 0 ? powerAt(timesS, centred, YY, 2 * Math.PI * frequency(i)) : 0,
  );
  const step = (highestHz - lowestHz) / (count - 1);
  const most = powers.reduce((a, b) => Math.max(a, b), 0);
  const peaks: PeriodogramPeak[] = [];
  powers.forEach((power, i) => {
    const [left = -1, right = -1] = [powers[i - 1], powers[i + 1]];
    if (!(power > left && power >= right && power > most / 2)) return;
    // Narrowed down by thirds to a ten-thousandth of a step.
    let [low, high] = [Math.max(lowestHz, frequency(i) - step), Math.min(highestHz, frequency(i) + step)];
    const at = (f: number) => powerAt(timesS, centred, YY, 2 * Math.PI * f);
    for (let k = 0; k < 25; k++) {
      const third = (high - low) / 3;
      if (at(low + third) < at(high - third)) low += third;
      else high -= third;
    }
    const frequencyHz = (low + high) / 2;
    peaks.push({ frequencyHz, power: at(frequencyHz) });
  });
  return peaks.sort((one, other) => other.power - one.power);
}

function powerAt(timesS: Float64Array, y: Float64Array, YY: number, w: number): number {
  const n = timesS.length;
  let [C, S, YC, YS, CC, CS] = [0, 0, 0, 0, 0, 0];
  for (let i = 0; i < n; i++) {
    const c = Math.cos(w * timesS[i]!);
    const s = Math.sin(w * timesS[i]!);
    C += c;
    S += s;
    YC += y[i]! * c;
    YS += y[i]! * s;
    CC += c * c;
    CS += c * s;
  }
  const SS = n - CC - (S * S) / n;
  CC -= (C * C) / n;
  CS -= (C * S) / n;
  const D = CC * SS - CS * CS;
  // Where cosine and sine are one and the same at all moments, there is nothing to tell.
  if (!(D > 1e-9 * n * n)) return 0;
  return (SS * YC * YC + CC * YS * YS - 2 * CS * YC * YS) / (YY * D);
}
