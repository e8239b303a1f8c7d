/** From the forecast's wind to the wind at the plant, with every factor on the way named. */
import {
  blendingFactor,
  blendingHeightM,
  gustFactor,
  logProfileFactor,
  lullsBelow,
  peakFactorDavenport1964,
  plantMotionBoundsMs,
  roughnessOfVegetation,
  speedUpTaylorLee1984,
  turbulenceIntensityAtCanopyTop,
  weibullOfTurbulence,
  weibullShareBelow,
  windExtinction,
  windInsideCanopyFactor,
  type TaylorLeeForm,
} from '@tepal/science';
import type { PlantPlace, ShelterWord } from './place.ts';

export interface SourcedFactor {
  readonly name: string;
  readonly value: number;
  readonly source: string;
}

/** Roughness of the forecast's own ground where it does not say: open grass [m]. WMO-No. 8. */
const forecastRoughnessM = 0.03;
/** The lowest stand the profile is asked for [m]; bare ground counts as this. Ours. */
const lowestStandM = 0.02;
/** Up-crossings of the median at flower scale [Hz]: the middle of 0.1 to 0.3, from memory (FS 3.4). */
const zeroCrossingRateHz = 0.2;
/** A minute's gust at the plant: 60 crossings. */
const peakFactor = peakFactorDavenport1964(60);

/** Wind at which the speed-up over a landform begins to count, and from which it counts in full [m/s at 10 m]. */
const speedUpFromMs = 6;
const speedUpFullMs = 8;

/** What is left of the wind behind each kind of shelter. Ours, within what is measured behind hedges and in woods. */
const shelterFactors: Record<ShelterWord, number> = {
  open: 1,
  grassy: 1,
  hedged: 0.75,
  wooded: 0.4,
  hollow: 0.6,
};

const taylorLeeForms: Partial<Record<PlantPlace['landform']['kind'], TaylorLeeForm>> = {
  crest: 'ridge',
  hill: 'hill',
  escarpment: 'escarpment',
};

/** What of the way down is the same in every hour. */
export interface WayDown {
  readonly factors: readonly SourcedFactor[];
  /** Their product [1]. */
  readonly factor: number;
  /** Fractional speed-up of the landform at the plant in strong wind [1], 0 for none. */
  readonly speedUp: number;
  /** su/U at the plant [1]. */
  readonly turbulenceIntensity: number;
}

/**
 * The way down from the forecast's height to the plant.
 *
 * Above the stand the logarithmic profile; below its top the canopy profile from its top. `direct` uses the local
 * stand alone; `two-step` goes up to the blending height over open grass and down over the local stand.
 *
 * @param forecastHeightM height of the forecast's wind [m]
 * @source FAO-56 eq. 47; Wieringa 1986; Inoue 1963 and Cionco 1965; Taylor and Lee 1984
 */
export function wayDown(place: PlantPlace, forecastHeightM: number): WayDown {
  const stand = Math.max(place.vegetationHeightM, lowestStandM);
  const ground = roughnessOfVegetation(stand);
  const inside = place.plantHeightM < stand;
  const heightM = inside ? stand : place.plantHeightM;
  const where = inside ? 'top of the stand' : 'plant';
  const factors: SourcedFactor[] = [];
  if (place.profile === 'direct') {
    factors.push({
      name: `forecast height to ${where}`,
      value: logProfileFactor({ heightM, referenceHeightM: forecastHeightM }, ground),
      source: 'logarithmic profile over the local stand, FAO-56 eq. 47',
    });
  } else {
    factors.push(
      {
        name: 'forecast height to blending height',
        value: blendingFactor({ forecastHeightM, forecastRoughnessM }),
        source: `Wieringa 1986, ${blendingHeightM} m, roughness ${forecastRoughnessM} m`,
      },
      {
        name: `blending height to ${where}`,
        value: logProfileFactor({ heightM, referenceHeightM: blendingHeightM }, ground),
        source: 'Wieringa 1986; d = 2/3 h, z0 = 0.123 h, FAO-56',
      },
    );
  }
  if (inside) {
    factors.push({
      name: 'top of the stand to plant',
      value: windInsideCanopyFactor({
        heightM: place.plantHeightM,
        vegetationHeightM: stand,
        extinction: windExtinction.meadow,
      }),
      source: `Cionco 1965, extinction ${windExtinction.meadow}`,
    });
  }
  if (shelterFactors[place.shelter] !== 1) {
    factors.push({
      name: `shelter, ${place.shelter}`,
      value: shelterFactors[place.shelter],
      source: 'ours, a rough mean; note what you find there',
    });
  }
  const spread = Math.log(Math.max(Math.E, (heightM - ground.displacementM) / ground.roughnessLengthM));
  return {
    factors,
    factor: factors.reduce((product, { value }) => product * value, 1),
    speedUp: speedUpOf(place),
    turbulenceIntensity: inside
      ? turbulenceIntensityAtCanopyTop
      : Math.min(turbulenceIntensityAtCanopyTop, 1 / spread),
  };
}

function speedUpOf({ landform, plantHeightM }: PlantPlace): number {
  const form = taylorLeeForms[landform.kind];
  if (form === undefined) return 0;
  const heightM = Math.min(landform.heightM, 0.5 * landform.halfLengthM);
  return speedUpTaylorLee1984({ form, heightM, halfLengthM: landform.halfLengthM }, plantHeightM);
}

export interface WindHere {
  readonly atPlantMs: number;
  readonly gustAtPlantMs: number;
  readonly factors: readonly SourcedFactor[];
}

/**
 * The wind at the plant in one hour.
 *
 * The landform's speed-up counts only from 6 m/s in the forecast, in full from 8, and never in stable air: in light
 * wind and at clear dawns the formula does not hold. A gust is the larger of the forecast's, brought down by the same
 * factors, and what the turbulence at the plant gives.
 *
 * @param hour.windSpeedMs mean at the forecast's height [m/s], at least 0
 * @param hour.gustMs at the same height [m/s]; null where the forecast has none
 * @param hour.stable whether the air is stable (clear, sun low or down)
 */
export function windAtPlant(
  way: WayDown,
  hour: { readonly windSpeedMs: number; readonly gustMs: number | null; readonly stable: boolean },
): WindHere {
  const { factors, speedUp } = way;
  const strength = hour.stable
    ? 0
    : Math.min(1, Math.max(0, (hour.windSpeedMs - speedUpFromMs) / (speedUpFullMs - speedUpFromMs)));
  const landform = 1 + speedUp * strength;
  const product = way.factor * landform;
  const atPlantMs = hour.windSpeedMs * product;
  const own = atPlantMs * gustFactor(way.turbulenceIntensity, peakFactor);
  return {
    atPlantMs,
    gustAtPlantMs: Math.max(own, (hour.gustMs ?? 0) * product),
    factors:
      landform === 1
        ? factors
        : [...factors, { name: 'landform', value: landform, source: 'Taylor and Lee 1984, wind across it' }],
  };
}

export interface LullHere {
  readonly belowMs: number;
  readonly shareOfTime: number;
  readonly meanLengthS: number | null;
  readonly expectedWaitS: number | null;
}

/**
 * Lulls in which the wind at the plant stays below a speed.
 *
 * Weibull speeds with the turbulence at the plant; Rice's rate of crossings. Always calm: no length, no wait. Never:
 * no wait that could be told.
 *
 * @param belowMs [m/s]; by default the bound of the word "still"
 */
export function lullAtPlant(
  atPlantMs: number,
  way: WayDown,
  belowMs: number = plantMotionBoundsMs.still,
): LullHere {
  const share =
    atPlantMs > 0 ? weibullShareBelow(weibullOfTurbulence(atPlantMs, way.turbulenceIntensity), belowMs) : 1;
  const lulls = lullsBelow(share, zeroCrossingRateHz);
  if (lulls.kind === 'alwaysCalm') return { belowMs, shareOfTime: 1, meanLengthS: null, expectedWaitS: 0 };
  if (lulls.kind === 'neverCalm') return { belowMs, shareOfTime: 0, meanLengthS: 0, expectedWaitS: null };
  return {
    belowMs,
    shareOfTime: lulls.shareOfTime,
    meanLengthS: lulls.meanLengthS,
    expectedWaitS: lulls.expectedWaitS,
  };
}
