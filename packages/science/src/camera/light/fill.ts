/**
 * Reflector and diffuser: how much light they move to the shaded side of a flower. The side is a small upright face,
 * turned away from the sun; sky, ground and reflector are what it sees. Discs and flat boards; no light goes round
 * twice. A clear sky is taken as even but for the sun, so a shaded side by a bright horizon gets more than this says.
 */
import {
  requireInRange,
  requireNotNegative,
  requireOneOf,
  requirePositive,
  requireShare,
} from '../../domain-error.ts';
import {
  add,
  configurationFactor,
  discCorners,
  dot,
  scaled,
  unit,
  type Vector,
} from './configuration-factor.ts';

/** The light outdoors. */
export interface OpenSky {
  /** Overcast: brighter overhead, no sun. Clear: an even sky with the sun in it. */
  readonly kind: 'overcast' | 'clear';
  /** From the whole sky on the level [lx], > 0. */
  readonly diffuseLux: number;
  /** From the sun, on a plane facing it [lx], >= 0; not counted when overcast. */
  readonly directNormalLux: number;
  /** [degrees], 0 to 90; 0 to below 90 gives the shaded side. */
  readonly sunAltitudeDeg: number;
  /** Reflectance of the ground [0..1]. */
  readonly groundReflectance: number;
}

/** Grass. @source common practice, no source: a fifth to a quarter */
export const GRASS_REFLECTANCE = 0.2;

export const REFLECTOR_SURFACES = ['white', 'silver', 'gold'] as const;
export type ReflectorSurface = (typeof REFLECTOR_SURFACES)[number];

/**
 * Reflectance, and by how much more than a matt board a crumpled bright one sends the sun where it is aimed: one that
 * scatters mirror light into 25 degrees about the aim. Assumptions, no source.
 */
const SURFACES: Readonly<Record<ReflectorSurface, { readonly reflectance: number; readonly aimed: number }>> =
  {
    white: { reflectance: 0.85, aimed: 1 },
    silver: { reflectance: 0.85, aimed: 5 },
    gold: { reflectance: 0.7, aimed: 5 },
  };

/** A round board held at the shaded side, turned halfway between the subject and the light. */
export interface Reflector {
  readonly diameterMm: number;
  /** Subject to the middle of the board [mm], > 0. */
  readonly distanceMm: number;
  /** How far below the level of the subject it is held [degrees], -60 to 80. */
  readonly belowDeg: number;
  /** How far to the side of straight before the shaded face [degrees], 0 to 80. */
  readonly asideDeg: number;
  readonly surface: ReflectorSurface;
}

/** What a board or a screen does. Lighting ratios: lit side over shaded side. */
export interface FillResult {
  /** Light added to the shaded side [stops]; below 0 where the board hides more than it sends. */
  readonly fillStops: number;
  readonly ratioBeforeStops: number;
  readonly ratioAfterStops: number;
  /** Share of the shaded side's view that the board fills [0..1]. */
  readonly configurationFactor: number;
}

const DEGREE = Math.PI / 180;
const ORIGIN: Vector = [0, 0, 0];
/** The shaded side looks along x; the sun stands behind it. */
const SHADED: Vector = [1, 0, 0];
const LIT: Vector = [-1, 0, 0];

/**
 * The light that a reflector adds to the shaded side.
 *
 * @throws DomainError
 * @source configuration factors: Lambert; overcast luminance: Moon and Spencer 1942
 */
export function reflectorFill(sky: OpenSky, board: Reflector): FillResult {
  const light = checkedSky(sky);
  const distance = requirePositive('distanceMm', board.distanceMm, 'mm');
  const below = requireInRange('belowDeg', board.belowDeg, { unit: 'degrees', min: -60, max: 80 }) * DEGREE;
  const aside = requireInRange('asideDeg', board.asideDeg, { unit: 'degrees', min: 0, max: 80 }) * DEGREE;
  const { reflectance, aimed } = SURFACES[requireOneOf('surface', board.surface, REFLECTOR_SURFACES)];
  const towards: Vector = [
    Math.cos(below) * Math.cos(aside),
    Math.cos(below) * Math.sin(aside),
    -Math.sin(below),
  ];
  const back = scaled(towards, -1);
  const facing = unit(add(back, light.aim));
  const F = configurationFactor(
    { at: ORIGIN, normal: SHADED },
    discCorners(scaled(towards, distance), facing, board.diameterMm),
  );
  const soft = light.softLux(facing);
  const hard = light.sunLux(facing);
  const sentLux = reflectance * (soft + aimed * hard) * F;
  const hiddenLux = Math.PI * light.luminance(towards) * F;
  const before = light.faceLux(SHADED);
  return result(light.faceLux(LIT), before, before + sentLux - hiddenLux, F, light.faceLux(LIT));
}

/** A round screen held square to the sun, between it and the subject. */
export interface Diffuser {
  readonly diameterMm: number;
  readonly distanceMm: number;
  /** Share of the light that comes through, scattered evenly [0..1]. */
  readonly transmittance: number;
  /** Width that must lie in its shade [mm], >= 0. */
  readonly subjectMm: number;
}

/** What a screen does, seen from the face that looks at the sun. */
export interface DiffuserResult extends FillResult {
  /** Light lost by the face that looks at the sun [stops]. */
  readonly lostStops: number;
  /** Whether the whole width lies in the shade. */
  readonly covers: boolean;
}

/**
 * A screen between sun and subject. The sun's half degree eats into its shade at the edge. Fill is 0: it lowers the
 * lit side. Under an overcast sky it only takes light.
 *
 * @throws DomainError
 */
export function diffuserEffect(sky: OpenSky, screen: Diffuser): DiffuserResult {
  const light = checkedSky(sky);
  const d = requirePositive('distanceMm', screen.distanceMm, 'mm');
  const tau = requireShare('transmittance', screen.transmittance);
  const width = requirePositive('diameterMm', screen.diameterMm, 'mm');
  const subject = requireNotNegative('subjectMm', screen.subjectMm, 'mm');
  const corners = discCorners(scaled(light.aim, d), light.aim, width);
  const through = (normal: Vector): { readonly lux: number; readonly factor: number } => {
    const factor = configurationFactor({ at: ORIGIN, normal }, corners);
    const onScreen = light.softLux(light.aim) + light.sunLux(light.aim);
    const hidden = Math.PI * light.luminance(light.aim) * factor;
    return { lux: light.faceLux(normal) - light.sunLux(normal) - hidden + tau * onScreen * factor, factor };
  };
  const [lit, shaded] = [light.faceLux(LIT), light.faceLux(SHADED)];
  const [litAfter, shadedAfter] = [through(LIT), through(SHADED)];
  const sunward = through(light.aim);
  return {
    ...result(lit, shaded, shadedAfter.lux, sunward.factor, litAfter.lux),
    lostStops: Math.log2((light.softLux(light.aim) + light.sunLux(light.aim)) / sunward.lux),
    covers: width - d * SUN_WIDTH >= subject,
  };
}

/** Width of the sun over its distance. */
const SUN_WIDTH = 2 * Math.tan(0.266 * DEGREE);

function result(lit: number, before: number, after: number, factor: number, litAfter: number): FillResult {
  return {
    fillStops: Math.log2(after / before),
    ratioBeforeStops: Math.log2(lit / before),
    ratioAfterStops: Math.log2(litAfter / after),
    configurationFactor: factor,
  };
}

/** The sky as luminances and illuminances. */
interface Light {
  /** Where light is to be caught from: the sun, or straight up. */
  readonly aim: Vector;
  /** Of sky or ground in a direction [cd/m^2]. */
  luminance(direction: Vector): number;
  /** Without the sun [lx]. */
  softLux(normal: Vector): number;
  sunLux(normal: Vector): number;
  /** All of it [lx]. */
  faceLux(normal: Vector): number;
}

function checkedSky(sky: OpenSky): Light {
  const diffuse = requirePositive('diffuseLux', sky.diffuseLux, 'lx');
  const altitude =
    requireInRange('sunAltitudeDeg', sky.sunAltitudeDeg, { unit: 'degrees', min: 0, max: 90 }) * DEGREE;
  const direct = requireNotNegative('directNormalLux', sky.directNormalLux, 'lx');
  const overcast = requireOneOf('kind', sky.kind, ['overcast', 'clear']) === 'overcast';
  const sun: Vector = [-Math.cos(altitude), 0, Math.sin(altitude)];
  const sunNormalLux = overcast ? 0 : direct;
  const global = diffuse + sunNormalLux * sun[2];
  const ground = (requireShare('groundReflectance', sky.groundReflectance) * global) / Math.PI;
  const luminance = (direction: Vector): number => {
    if (direction[2] <= 0) return ground;
    return overcast ? ((diffuse * 9) / (7 * Math.PI)) * ((1 + 2 * direction[2]) / 3) : diffuse / Math.PI;
  };
  const softLux = (normal: Vector): number => gathered(normal, luminance);
  const sunLux = (normal: Vector): number => sunNormalLux * Math.max(0, dot(normal, sun));
  return {
    aim: overcast ? [0, 0, 1] : sun,
    luminance,
    softLux,
    sunLux,
    faceLux: (normal) => softLux(normal) + sunLux(normal),
  };
}

/** Illuminance from all directions: even bands of height, even steps round, both by the midpoint. */
function gathered(normal: Vector, luminance: (direction: Vector) => number): number {
  const [BANDS, STEPS] = [40, 48];
  let sum = 0;
  for (let i = 0; i < BANDS; i++) {
    const z = -1 + (2 * (i + 0.5)) / BANDS;
    const level = Math.sqrt(1 - z * z);
    for (let j = 0; j < STEPS; j++) {
      const azimuth = (2 * Math.PI * (j + 0.5)) / STEPS;
      const direction: Vector = [level * Math.cos(azimuth), level * Math.sin(azimuth), z];
      const cosine = dot(direction, normal);
      if (cosine > 0) sum += cosine * luminance(direction);
    }
  }
  return (sum * 4 * Math.PI) / (BANDS * STEPS);
}
