/** The light on the sides of something upright, a flower: the side towards the sun against the side away from it. */
import { requireInRange, requireNotNegative, requireShare } from '../../domain-error.ts';
import { overcastUprightOverLevel } from './overcast.ts';

/** Light on the two sides of an upright thing. */
export interface UprightLight {
  /** On the side that faces the sun [lx]. */
  readonly litLux: number;
  /** On the side away from it [lx]. */
  readonly shadedLux: number;
  /** log2 of the two [stops], 0 for no difference. */
  readonly stops: number;
}

/** Share of light that grass sends back; 0.23 is FAO-56's reference crop, by radiation. */
export const grassReflectance = 0.23;
/** An even sky lights an upright face half as much as the level. */
const evenUprightOverLevel = 0.5;
/** Lowest altitude of the sun that the level's light is divided by [°]. */
const lowestSunDeg = 2;

/**
 * Light on the lit and on the shaded side of something upright in the open.
 *
 *   lit = E_dn cos a + f E_d + rho E_g / 2;   shaded = f E_d + rho E_g / 2;   E_dn = (E_g - E_d) / sin a
 *
 * f goes from one half (even sky) to 0.396 (overcast after Moon and Spencer) with the diffuse share. A clear sky is
 * brighter near the sun than opposite, which would widen the ratio by up to a stop; it is taken as even.
 *
 * @param light.illuminanceLux E_g on the level [lx], at least 0
 * @param light.diffuseShare E_d / E_g [0..1]
 * @param light.sunAltitudeDeg a [°], -90 to 90; below 2° the light of 2° is taken
 * @param groundReflectance rho [0..1]
 * @throws DomainError outside the ranges
 * @source FS 2.2 and 2.5; Moon and Spencer 1942 for the overcast share
 */
export function uprightLight(
  light: {
    readonly illuminanceLux: number;
    readonly diffuseShare: number;
    readonly sunAltitudeDeg: number;
  },
  groundReflectance: number = grassReflectance,
): UprightLight {
  const Eg = requireNotNegative('illuminanceLux', light.illuminanceLux, 'lx');
  const share = requireShare('diffuseShare', light.diffuseShare);
  const rho = requireShare('groundReflectance', groundReflectance);
  const altitude = requireInRange('sunAltitudeDeg', light.sunAltitudeDeg, {
    what: "the sun's altitude",
    unit: 'degrees',
    min: -90,
    max: 90,
  });
  const a = (Math.max(lowestSunDeg, altitude) * Math.PI) / 180;
  const f = evenUprightOverLevel + (overcastUprightOverLevel - evenUprightOverLevel) * share ** 4;
  const shadedLux = Eg * (f * share + rho / 2);
  const litLux = shadedLux + (Eg * (1 - share)) / Math.tan(a);
  return { litLux, shadedLux, stops: shadedLux > 0 ? Math.log2(litLux / shadedLux) : 0 };
}
