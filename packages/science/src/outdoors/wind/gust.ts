/** How unsteady the wind is: turbulence, gusts, the spread of speeds. */
import { requireInRange, requireNotNegative, requirePositive } from '../../domain-error.ts';

/**
 * Turbulence intensity over open ground: Iu = 1 / ln(z/z0).
 *
 * @param heightM z [m], above z0
 * @param roughnessLengthM z0 [m], above 0
 * @returns su/U [1]
 * @throws DomainError outside the ranges
 * @source EN 1991-1-4:2005, eq. 4.7, with co = 1 and kI = 1
 */
export function turbulenceIntensityOverGround(heightM: number, roughnessLengthM: number): number {
  const z0 = requirePositive('roughnessLengthM', roughnessLengthM, 'm');
  const z = requireInRange('heightM', heightM, { what: 'a height', unit: 'm', min: z0, minExclusive: true });
  return 1 / Math.log(z / z0);
}

/** Turbulence intensity at the top of a stand [1]: 0.55, from memory of Raupach, Finnigan and Brunet 1996. */
export const turbulenceIntensityAtCanopyTop = 0.55;

/**
 * Peak factor: how many standard deviations the largest of n independent crossings lies above the mean.
 *
 *   g = sqrt(2 ln(nu T)) + 0.5772 / sqrt(2 ln(nu T))
 *
 * @param cycles nu T, crossings in the period [1], above 1
 * @returns g [1]
 * @throws DomainError outside the range
 * @source Davenport 1964, Proc. Inst. Civ. Eng. 28, 187
 */
export function peakFactorDavenport1964(cycles: number): number {
  const n = requireInRange('cycles', cycles, { what: 'a number of crossings', min: 1, minExclusive: true });
  const root = Math.sqrt(2 * Math.log(n));
  return root + 0.5772 / root;
}

/**
 * Gust over mean: 1 + g Iu.
 *
 * @param turbulenceIntensity Iu [1], at least 0
 * @param peakFactor g [1], at least 0
 */
export function gustFactor(turbulenceIntensity: number, peakFactor: number): number {
  return (
    1 +
    requireNotNegative('peakFactor', peakFactor) *
      requireNotNegative('turbulenceIntensity', turbulenceIntensity)
  );
}

/** Wind speeds with a Weibull spread: P(V < c) = 1 - exp[-(c/lambda)^k]. */
export interface WeibullSpeeds {
  /** lambda [m/s], above 0. */
  readonly scaleMs: number;
  /** k [1], above 0. */
  readonly shape: number;
}

/**
 * The Weibull spread with a given mean: lambda = mean / Gamma(1 + 1/k).
 *
 * @param meanMs [m/s], above 0
 * @param shape k [1], 0.5 to 20
 * @throws DomainError outside the ranges
 */
export function weibullOfMean(meanMs: number, shape: number): WeibullSpeeds {
  const k = requireInRange('shape', shape, { what: 'a Weibull shape', min: 0.5, max: 20 });
  return { scaleMs: requirePositive('meanMs', meanMs, 'm/s') / gamma(1 + 1 / k), shape: k };
}

/**
 * The Weibull spread with a given mean and turbulence intensity: k = Iu^-1.086.
 *
 * @param turbulenceIntensity Iu [1], 0.05 to 1.5
 * @source Justus et al. 1978, J. Appl. Meteorol. 17, 350 (from memory)
 */
export function weibullOfTurbulence(meanMs: number, turbulenceIntensity: number): WeibullSpeeds {
  const Iu = requireInRange('turbulenceIntensity', turbulenceIntensity, { min: 0.05, max: 1.5 });
  return weibullOfMean(meanMs, Math.min(20, Iu ** -1.086));
}

/** Share of the time that the wind is below a speed [0..1]. @param speedMs c [m/s], at least 0 */
export function weibullShareBelow(speeds: WeibullSpeeds, speedMs: number): number {
  return -Math.expm1(-((requireNotNegative('speedMs', speedMs, 'm/s') / speeds.scaleMs) ** speeds.shape));
}

/** Gamma function for x from 1 to 3 (here 1 + 1/k), within 1e-13. Lanczos 1964, g = 7, nine terms. */
function gamma(x: number): number {
  const p = [
    676.5203681218851, -1259.1392167224028, 771.3234287776531, -176.6150291621406, 12.507343278686905,
    -0.13857109526572012, 9.984369578019572e-6, 1.5056327351493116e-7,
  ];
  const y = x - 1;
  const sum = p.reduce((total, term, i) => total + term / (y + i + 1), 0.9999999999998099);
  const t = y + 7.5;
  return Math.sqrt(2 * Math.PI) * t ** (y + 0.5) * Math.exp(-t) * sum;
}
