/** The units that forecasts come in, and the numbers that bring each to the one used here. */

/** value in our unit = value * times / per + plus; a divisor, so that 47 % is 0.47 and not a hair beside it */
export interface UnitConversion {
  readonly times: number;
  readonly per: number;
  readonly plus: number;
}

export type Quantity =
  | 'speed'
  | 'temperature'
  | 'temperatureDifference'
  | 'share'
  | 'shareOfHour'
  | 'angle'
  | 'pressure'
  | 'precipitation'
  | 'length'
  | 'radiation';

const by = (times: number, per = 1, plus = 0): UnitConversion => ({ times, per, plus });

/** Exact by definition: knot 1852 m/h, mile 1609.344 m, inch 25.4 mm, 0 °C = 273.15 K (SI brochure, 9th edition). */
const conversions: { readonly [Q in Quantity]: Readonly<Record<string, UnitConversion>> } = {
  speed: {
    'm/s': by(1),
    'm s-1': by(1),
    'm_s-1': by(1),
    'km/h': by(1, 3.6),
    kmh: by(1, 3.6),
    'km h-1': by(1, 3.6),
    'km_h-1': by(1, 3.6),
    knots: by(1852, 3600),
    knot: by(1852, 3600),
    kt: by(1852, 3600),
    kn: by(1852, 3600),
    mph: by(0.44704),
  },
  temperature: {
    celsius: by(1),
    c: by(1),
    '°c': by(1),
    degc: by(1),
    kelvin: by(1, 1, -273.15),
    k: by(1, 1, -273.15),
    fahrenheit: by(5, 9, -160 / 9),
    f: by(5, 9, -160 / 9),
    '°f': by(5, 9, -160 / 9),
    degf: by(5, 9, -160 / 9),
  },
  temperatureDifference: { k: by(1), celsius: by(1) },
  share: { '%': by(1, 100), percent: by(1, 100), '1': by(1) },
  shareOfHour: { s: by(1, 3600) },
  angle: { degrees: by(1), degree: by(1), deg: by(1), '°': by(1), 'degree_(angle)': by(1) },
  pressure: { hpa: by(1), mbar: by(1), pa: by(1, 100), kpa: by(10) },
  precipitation: { mm: by(1), 'kg/m2': by(1), 'kg m-2': by(1), cm: by(10), m: by(1000), in: by(25.4) },
  length: { m: by(1), km: by(1000) },
  // The amount of one hour: 1 kJ in 3600 s.
  radiation: { 'w/m2': by(1), 'kj/m2': by(1, 3.6) },
};

const spoken: { readonly [Q in Quantity]: string } = {
  speed: 'm/s, km/h, knots or mph',
  temperature: 'celsius, kelvin or fahrenheit',
  temperatureDifference: 'kelvin',
  share: '% or 1',
  shareOfHour: 'seconds',
  angle: 'degrees',
  pressure: 'hPa, mbar, Pa or kPa',
  precipitation: 'mm, kg/m2, cm, m or in',
  length: 'm or km',
  radiation: 'W/m2 or kJ/m2',
};

/**
 * The conversion from a unit as a source writes it to the one used here; null when unknown. A prefix that names a
 * list of units ("wmoUnit:degC") is passed over.
 */
export function conversionFrom(quantity: Quantity, unit: string): UnitConversion | null {
  const key = unit
    .trim()
    .toLowerCase()
    .replace(/^[a-z]+:/, '');
  const known = conversions[quantity];
  return Object.hasOwn(known, key) ? (known[key] ?? null) : null;
}

/** The units accepted for a quantity, in words. */
export function acceptedUnits(quantity: Quantity): string {
  return spoken[quantity];
}
