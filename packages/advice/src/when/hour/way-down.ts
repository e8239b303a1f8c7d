/** What of the way from the forecast's height down to the plant is the same in every hour. */
import {
  blendingFactor,
  blendingHeightM,
  logProfileFactor,
  roughnessOfVegetation,
  turbulenceIntensityAtCanopyTop,
  windExtinction,
  windInsideCanopyFactor,
  type BarrierAtPlant,
  type TaylorLeeForm,
} from '@tepal/science';
import type { PlantPlace, ShelterWord } from '../place.ts';

export interface SourcedFactor {
  readonly name: string;
  readonly value: number;
  readonly source: string;
}

/** Roughness of the forecast's own ground where it does not say: open grass [m]. WMO-No. 8. */
const forecastRoughnessM = 0.03;
/** The lowest stand the profile is asked for [m]; bare ground counts as this. Ours. */
const lowestStandM = 0.02;

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

/** A rise that the plant stands on. */
export interface RiseHere {
  readonly form: TaylorLeeForm;
  /** At most half the half-length: beyond that the formula ends. */
  readonly heightM: number;
  readonly halfLengthM: number;
  /** [°, 0 to 360]; null where not known. */
  readonly upslopeDeg: number | null;
  /** Height above ground that the speed-up is told for [m]. */
  readonly atHeightM: number;
  /** "ridge 20 m high, half-length 80 m". */
  readonly inWords: string;
}

export interface WayDown {
  /** From the forecast's height to the plant, without landform and shelter. */
  readonly factors: readonly SourcedFactor[];
  readonly rise: RiseHere | null;
  readonly barrier: {
    readonly is: BarrierAtPlant;
    readonly at: { readonly heightM: number; readonly roughnessLengthM: number };
    readonly source: string;
  } | null;
  /** The word's rough mean, where it takes anything away; a measured barrier goes before it when wind comes over it. */
  readonly shelterWord: SourcedFactor | null;
  /** Whether the plant stands below the tops of the stand. */
  readonly inside: boolean;
  /** Whether calm air pools there in clear nights: valleys and hollows. */
  readonly pools: boolean;
  /** su/U at the plant [1]. */
  readonly turbulenceIntensity: number;
}

/**
 * The way down from the forecast's height to the plant.
 *
 * Above the stand the logarithmic profile; below its top the canopy profile from its top. `direct` uses the local
 * stand alone; `two-step` goes up to the blending height over open grass and down over the local stand. A landform
 * and a hedge act on the wind above the stand.
 *
 * @param forecastHeightM height of the forecast's wind [m]
 * @source FAO-56 eq. 47; Wieringa 1986; Inoue 1963 and Cionco 1965; Taylor and Lee 1984; Perera 1981
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
  const learned = place.learnedWind ?? null;
  if (learned !== null) factors.push({ name: 'learned here', value: learned.factor, source: learned.basis });
  const spread = Math.log(Math.max(Math.E, (heightM - ground.displacementM) / ground.roughnessLengthM));
  return {
    factors,
    rise: riseOf(place, heightM),
    barrier: barrierOf(place, heightM, ground.roughnessLengthM),
    shelterWord: shelterWordOf(place.shelter),
    inside,
    pools: place.landform.kind === 'valley' || place.landform.kind === 'hollow' || place.shelter === 'hollow',
    turbulenceIntensity: inside
      ? turbulenceIntensityAtCanopyTop
      : Math.min(turbulenceIntensityAtCanopyTop, 1 / spread),
  };
}

function riseOf({ landform }: PlantPlace, atHeightM: number): RiseHere | null {
  const form = taylorLeeForms[landform.kind];
  if (form === undefined || landform.heightM === 0) return null;
  return {
    form,
    heightM: Math.min(landform.heightM, 0.5 * landform.halfLengthM),
    halfLengthM: landform.halfLengthM,
    upslopeDeg: landform.bearingDeg ?? null,
    atHeightM,
    inWords: `${form} ${shown(landform.heightM)} m high, half-length ${shown(landform.halfLengthM)} m`,
  };
}

const shown = (value: number) => String(Number(value.toPrecision(3)));

/** A barrier no higher than the stand keeps nothing off that the stand does not. */
function barrierOf(
  { barrier = null }: PlantPlace,
  heightM: number,
  roughnessLengthM: number,
): WayDown['barrier'] {
  if (barrier === null || barrier.heightM <= heightM || barrier.heightM <= roughnessLengthM) return null;
  const heights = shown(barrier.distanceM / barrier.heightM);
  return {
    is: barrier,
    at: { heightM, roughnessLengthM },
    source: `Perera 1981 (constants from memory), ${shown(barrier.heightM)} m high, ${heights} heights away, ${Math.round(100 * barrier.porosity)} % gaps, wind over it`,
  };
}

function shelterWordOf(word: ShelterWord): SourcedFactor | null {
  const value = shelterFactors[word];
  if (value === 1) return null;
  return { name: `shelter, ${word}`, value, source: 'ours, a rough mean; note what you find there' };
}
