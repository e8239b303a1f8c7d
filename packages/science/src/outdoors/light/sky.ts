/** The light at a place from the sun's altitude and the cloud: how bright, and how soft. */
import { requireInRange, requireNotNegative, requireShare } from '../../domain-error.ts';
import {
  clearSkyRadiationKastenCzeplak1980,
  cloudTransmissionKastenCzeplak1980,
  cloudTransmissionOfLayers,
  coverOfTransmission,
  diffuseShareErbs1982,
  diffuseShareKastenCzeplak1980,
  type LayeredCover,
} from './cloud.ts';
import { clearTwilightLux, iesDaylight, twilightFitTopDeg } from './daylight.ts';
import { lightOfRadiationPerez1990, solarConstantWm2 } from './luminous-efficacy.ts';

/** Cloud as the forecast gives it: by layer, or only in all [0..1]. */
export type CloudCover = LayeredCover | { readonly total: number };

/** Light on level ground in the open. */
export interface SkyLight {
  /** From sun and sky [lx], at least 0. */
  readonly illuminanceLux: number;
  /** Share of it from the sky [0..1]; 1 when no sun comes through. */
  readonly diffuseShare: number;
  /** log2 of all the light over the sky's alone [stops]: 0 soft, above 1.5 hard. */
  readonly lightingRatioStops: number;
  /** Radiation from sun and sky on the level [W/m²], at least 0. */
  readonly radiationWm2: number;
  /** The cover, as one closed figure, that dims as these clouds do [0..1]. */
  readonly cover: number;
}

const degree = Math.PI / 180;

/**
 * The light on level ground in the open.
 *
 * Cloudless radiation by Kasten and Czeplak, reduced by the layers after Shapiro or by the total cover; its diffuse
 * share from the IES clear sky at that altitude, raised by cloud as Kasten and Czeplak do; then to light after Perez.
 * Below 5° the radiation formula ends: the light there falls as the clear sky's does through sunset and twilight
 * (Seidelmann), from the value at 5°; the joining is ours. Long-run means: an instant may be half or twice as bright.
 *
 * @param sky.sunAltitudeDeg geometric [°], -90 to 90
 * @param sky.dayOfYear 1 to 366
 * @param sky.cloud covers [0..1]
 * @param sky.dewPointC [°C], -60 to 40; changes the result by a few per cent
 * @throws DomainError outside the ranges
 * @source the parts' own, see cloud.ts, daylight.ts, luminous-efficacy.ts
 */
export function skyLight(sky: {
  readonly sunAltitudeDeg: number;
  readonly dayOfYear: number;
  readonly cloud: CloudCover;
  readonly dewPointC: number;
}): SkyLight {
  const h = requireInRange('sunAltitudeDeg', sky.sunAltitudeDeg, {
    what: "the sun's altitude",
    unit: 'degrees',
    min: -90,
    max: 90,
  });
  const modelled = Math.max(h, twilightFitTopDeg);
  const sinA = Math.sin(modelled * degree);
  const transmission =
    'total' in sky.cloud
      ? cloudTransmissionKastenCzeplak1980(requireShare('total', sky.cloud.total))
      : cloudTransmissionOfLayers(sky.cloud, sinA);
  const cover = coverOfTransmission(transmission);
  const G = clearSkyRadiationKastenCzeplak1980(modelled) * transmission;
  const share = diffuseShareKastenCzeplak1980(cover, cloudlessDiffuseShare(modelled, sky.dayOfYear));
  const light = lightOfRadiationPerez1990({
    directNormalWm2: (G * (1 - share)) / sinA,
    diffuseWm2: G * share,
    zenithDeg: 90 - modelled,
    dewPointC: sky.dewPointC,
  });
  const fall =
    h >= twilightFitTopDeg ? 1 : Math.min(1, clearTwilightLux(h) / clearTwilightLux(twilightFitTopDeg));
  const soft = Math.min(1, light.diffuseLux / light.globalLux);
  const diffuseShare = h >= twilightFitTopDeg ? soft : softer(soft, share, cover, h, sky.dayOfYear);
  return {
    illuminanceLux: light.globalLux * fall,
    diffuseShare,
    lightingRatioStops: Math.max(0, -Math.log2(diffuseShare)),
    radiationWm2: G * fall,
    cover,
  };
}

/** Lowest altitude of the sun for which a forecast's radiation is split into sun and sky [°]; below, cloud tells more. */
export const lowestSunForRadiationDeg = 5;

/**
 * The light on level ground from forecast radiation: split into sun and sky after Erbs, turned into light after Perez.
 *
 * A clearness above that of a cloudless sky counts as cloudless. `cover` is the one that would let this much through.
 *
 * @param sky.radiationWm2 G, from sun and sky on the level [W/m²], at least 0
 * @param sky.sunAltitudeDeg a at the middle of the time that G is a mean of [°], from 5 to 90
 * @param sky.dewPointC [°C], -60 to 40
 * @throws DomainError outside the ranges
 * @source Erbs et al. 1982; Perez et al. 1990
 */
export function skyLightOfRadiation(sky: {
  readonly radiationWm2: number;
  readonly sunAltitudeDeg: number;
  readonly dewPointC: number;
}): SkyLight {
  const h = requireInRange('sunAltitudeDeg', sky.sunAltitudeDeg, {
    what: "the sun's altitude",
    unit: 'degrees',
    min: lowestSunForRadiationDeg,
    max: 90,
  });
  const G = requireNotNegative('radiationWm2', sky.radiationWm2, 'W/m²');
  const sinA = Math.sin(h * degree);
  const share = diffuseShareErbs1982(G / (solarConstantWm2 * sinA));
  const light = lightOfRadiationPerez1990({
    directNormalWm2: (G * (1 - share)) / sinA,
    diffuseWm2: G * share,
    zenithDeg: 90 - h,
    dewPointC: sky.dewPointC,
  });
  const diffuseShare = light.globalLux > 0 ? Math.min(1, light.diffuseLux / light.globalLux) : 1;
  return {
    illuminanceLux: light.globalLux,
    diffuseShare,
    lightingRatioStops: Math.max(0, -Math.log2(diffuseShare)),
    radiationWm2: G,
    cover: coverOfTransmission(Math.min(1, G / clearSkyRadiationKastenCzeplak1980(h))),
  };
}

/**
 * The light where hills, hedges or trees stand round: the sky's share cut to what is open, the sun's gone while it
 * stands behind them.
 *
 * Light that the surroundings themselves send back is left out, so a walled place is a little brighter than this.
 *
 * @param light in the open
 * @param place.openSky share of the sky's light that reaches the place [0..1]
 * @param place.sunClears whether the sun stands above the horizon there
 * @throws DomainError if the share is out of range
 */
export function lightUnderHorizon(
  light: SkyLight,
  place: { readonly openSky: number; readonly sunClears: boolean },
): SkyLight {
  const open = requireShare('openSky', place.openSky);
  const direct = place.sunClears ? 1 - light.diffuseShare : 0;
  const left = light.diffuseShare * open + direct;
  const diffuseShare = direct === 0 || left === 0 ? 1 : (light.diffuseShare * open) / left;
  return {
    ...light,
    illuminanceLux: light.illuminanceLux * left,
    diffuseShare,
    lightingRatioStops: Math.max(0, -Math.log2(Math.max(1e-3, diffuseShare))),
    radiationWm2: light.radiationWm2 * left,
  };
}

function cloudlessDiffuseShare(sunAltitudeDeg: number, dayOfYear: number): number {
  const { diffuseLux, globalLux } = iesDaylight(sunAltitudeDeg, dayOfYear, 'clear');
  return diffuseLux / globalLux;
}

/** The diffuse share below 5°: from its value there to 1 at the horizon, in step with the clear sky's. */
function softer(soft: number, share: number, cover: number, altitudeDeg: number, dayOfYear: number): number {
  const here = diffuseShareKastenCzeplak1980(cover, cloudlessDiffuseShare(altitudeDeg, dayOfYear));
  const left = share < 1 ? (1 - here) / (1 - share) : 0;
  return 1 - (1 - soft) * Math.min(1, Math.max(0, left));
}
