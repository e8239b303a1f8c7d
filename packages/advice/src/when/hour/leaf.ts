/** A leaf's balance: what it gains by radiation, how fast it dries or gathers dew, how far it is off the air. */
import { clearNetLongwaveWm2, dryLeafDifferenceK, evaporationWm2, waterRateMmH } from '@tepal/science';

/** Emissivity of leaves, share of sunlight that they take up. FAO-56 for the albedo. */
const leafEmissivity = 0.97;
const leafAbsorption = 0.77;
/** What a closed cloud takes off the loss by long waves. Common practice, no source. */
const cloudBlanket = 0.85;
/** Width of a petal or leaf [m], and the least air that moves about it [m/s]. Ours. */
const leafWidthM = 0.03;
const leastAirMs = 0.05;

/** What a leaf feels; null where the forecast does not say. */
export interface AirAtLeaf {
  readonly temperatureC: number | null;
  readonly relativeHumidity: number | null;
  readonly windAtPlantMs: number | null;
  /** Sun and sky on the level [W/m²]. */
  readonly radiationWm2: number | null;
  /** Cover of the sky that counts for radiation [0..1]. */
  readonly cover: number | null;
  /** Share of the sky that it sees [0..1]. */
  readonly openSky: number;
}

export interface LeafBalance {
  /** Negative at night [W/m²]. */
  readonly netRadiationWm2: number;
  /** Of the air about the leaf [s/m]. */
  readonly airResistanceSm: number;
  /** Of a wet leaf; negative is dew [mm/h]. */
  readonly evaporationMmH: number;
  /** Of a dry leaf, which gives its heat to the air on both sides [°C]. */
  readonly surfaceTemperatureC: number;
}

/**
 * The balance of a leaf; null where an input is not known.
 *
 * Long waves after Brutsaert, damped by cloud and by what stands round; the leaf's own air resistance is 151
 * sqrt(width / wind) s/m (Campbell and Norman 1998, from memory). A living leaf in sun cools itself by what it
 * evaporates, and is up to half as warm above the air as this.
 *
 * @source Penman-Monteith with rs = 0 for wet leaves; Brutsaert 1975
 */
export function leafBalance(air: AirAtLeaf): LeafBalance | null {
  const { temperatureC, relativeHumidity, windAtPlantMs, radiationWm2, cover } = air;
  if (temperatureC === null || relativeHumidity === null || windAtPlantMs === null) return null;
  if (radiationWm2 === null || cover === null) return null;
  const humidity = Math.max(0.01, relativeHumidity);
  const longwave =
    clearNetLongwaveWm2(temperatureC, humidity, leafEmissivity) * (1 - cloudBlanket * cover) * air.openSky;
  const netRadiationWm2 = leafAbsorption * radiationWm2 + longwave;
  const airResistanceSm = 151 * Math.sqrt(leafWidthM / Math.max(leastAirMs, windAtPlantMs));
  const flux = evaporationWm2({ netRadiationWm2, temperatureC, relativeHumidity: humidity, airResistanceSm });
  return {
    netRadiationWm2,
    airResistanceSm,
    evaporationMmH: waterRateMmH(flux, temperatureC),
    surfaceTemperatureC:
      temperatureC + dryLeafDifferenceK(netRadiationWm2, temperatureC, airResistanceSm / 2),
  };
}
