/**
 * A stem with a head on it: its stiffness, its own frequency, and the wind's drag on it. One mode, straight stem. No
 * regression from wind to flower speed is published, so the classes are our assumptions; a few observed swings are
 * worth more than any of them.
 */
import { requireInRange, requireNotNegative, requirePositive } from '../../domain-error.ts';

/** Density of air [kg/m^3] and the drag coefficient of a bluff head [1]. */
const AIR_DENSITY = 1.2;
const DRAG_COEFFICIENT = 1;
/** From here on plants fold and shelter themselves [m/s]: force grows as U^(2 + B). */
const FOLDING_FROM_MS = 1;

/** A stem with a head, in SI units. */
export interface Stem {
  /** E [Pa]. */
  readonly elasticModulusPa: number;
  /** d [m]. */
  readonly diameterM: number;
  /** L [m]. */
  readonly lengthM: number;
  /** [kg/m^3]. */
  readonly densityKgM3: number;
  /** M [kg]. */
  readonly headMassKg: number;
  /** Of a disc across the wind [m]. */
  readonly headDiameterM: number;
  /** Damping ratio in still air, zeta_s [1]. */
  readonly structuralDamping: number;
  /** Vogel exponent B [1], <= 0; typical herbs -0.5 to -1. */
  readonly vogelExponent: number;
}

export const STEM_CLASSES = ['stiff', 'medium', 'wand'] as const;
export type StemClass = (typeof STEM_CLASSES)[number];

/**
 * Three stems to choose from by eye. `medium` is the worked stem of FS P-1 (a scabious); `stiff` a short thick one
 * (an orchid), `wand` a long thin one (a grass). Assumptions, no source.
 */
export const STEMS: Readonly<Record<StemClass, Stem>> = {
  stiff: stem({ diameterM: 0.003, lengthM: 0.3, headMassKg: 0.0005, headDiameterM: 0.03 }),
  medium: stem({ diameterM: 0.002, lengthM: 0.4, headMassKg: 0.0005, headDiameterM: 0.03 }),
  wand: stem({ diameterM: 0.0014, lengthM: 0.45, headMassKg: 0.0002, headDiameterM: 0.02 }),
};

/** A stem as an oscillator. */
export interface Oscillator {
  /** I [m^4]. */
  readonly secondMomentM4: number;
  /** me, head and 33/140 of the stem [kg]. */
  readonly effectiveMassKg: number;
  /** k [N/m]. */
  readonly stiffnessNM: number;
  /** f0 [Hz]. */
  readonly naturalFrequencyHz: number;
}

/**
 * Cantilever with a mass at its tip: k = 3 E I/L^3, me = M + (33/140) m, f0 = sqrt(k/me)/(2 pi), I = pi d^4/64.
 *
 * @throws DomainError
 * @source Rayleigh's method; 1.5 % high without a tip mass (FS P-2)
 */
export function oscillatorOfStem(s: Stem): Oscillator {
  const E = requirePositive('elasticModulusPa', s.elasticModulusPa, 'Pa');
  const d = requirePositive('diameterM', s.diameterM, 'm');
  const L = requirePositive('lengthM', s.lengthM, 'm');
  const mass = requirePositive('densityKgM3', s.densityKgM3, 'kg/m3') * (Math.PI / 4) * d ** 2 * L;
  const me = requireNotNegative('headMassKg', s.headMassKg, 'kg') + (33 / 140) * mass;
  const I = (Math.PI * d ** 4) / 64;
  const k = (3 * E * I) / L ** 3;
  return {
    secondMomentM4: I,
    effectiveMassKg: me,
    stiffnessNM: k,
    naturalFrequencyHz: Math.sqrt(k / me) / (2 * Math.PI),
  };
}

/**
 * Drag on the head, 0.5 rho Cd A U^2, growing as U^(2 + B) above 1 m/s.
 *
 * @param windSpeedMs U at the head [m/s], 0 to 40
 * @returns force [N]
 * @throws DomainError
 * @source Vogel exponents: de Langre 2008, Annu. Rev. Fluid Mech. 40, 141
 */
export function dragN(s: Stem, windSpeedMs: number): number {
  const U = requireInRange('windSpeedMs', windSpeedMs, {
    what: 'a wind speed',
    unit: 'm/s',
    min: 0,
    max: 40,
  });
  return 0.5 * dragPerSpeed(s, U) * U;
}

/** Static bend of the head [mm]: F/k. @throws DomainError */
export function staticBendMm(s: Stem, windSpeedMs: number): number {
  return (1000 * dragN(s, windSpeedMs)) / oscillatorOfStem(s).stiffnessNM;
}

/**
 * rho Cd A U, softened above the wind from which plants fold.
 *
 * @param U wind at the head [m/s], >= 0
 * @returns [N s/m]
 * @throws DomainError
 */
export function dragPerSpeed(s: Stem, U: number): number {
  const A = (Math.PI / 4) * requirePositive('headDiameterM', s.headDiameterM, 'm') ** 2;
  const folding = U > FOLDING_FROM_MS ? (U / FOLDING_FROM_MS) ** s.vogelExponent : 1;
  return AIR_DENSITY * DRAG_COEFFICIENT * A * U * folding;
}

function stem(own: Pick<Stem, 'diameterM' | 'lengthM' | 'headMassKg' | 'headDiameterM'>): Stem {
  return { elasticModulusPa: 1e9, densityKgM3: 1000, structuralDamping: 0.1, vogelExponent: -0.7, ...own };
}
