import type { Forecast, ForecastInstant } from '@tepal/formats';
import { roughnessOfVegetation } from '@tepal/science';
import { describe, expect, it } from 'vitest';
import { fairInstant, kew, madeForecast } from '../../../fixtures/made-forecast.ts';
import { cautionsOf } from '../cautions.ts';
import { USUAL_PLANT, type PlantPlace } from '../place.ts';
import { sunSpells } from './sun-spells.ts';
import { whenDocument } from '../when-document.ts';
import { hoursAtPlant, type HourAtPlant } from './hours.ts';
import { wayDown } from './way-down.ts';
import { windAtPlant } from './wind-at-plant.ts';

const hourMs = 3_600_000;

/** As made, in a fresh wind. */
const forecastFrom: typeof madeForecast = (startIso, hours, change = () => ({})) =>
  madeForecast(startIso, hours, (hour) => ({ windSpeedMs: 9, windGustMs: 14, ...change(hour) }));

/** Stand of which the roughness is 0.03 m, as FS W-19 has it; the plant above it. */
const open: PlantPlace = { ...kew, ...USUAL_PLANT, plantHeightM: 0.5, vegetationHeightM: 0.03 / 0.123 };

const atNoon = (place: PlantPlace, change: Partial<ForecastInstant> = {}): HourAtPlant =>
  hoursAtPlant(
    place,
    forecastFrom('2024-06-01T12:00Z', 1, () => change),
  )[0]!;

describe('a crest with wind across it, and the same place behind a hedge', () => {
  const crest: PlantPlace = {
    ...open,
    landform: { kind: 'crest', heightM: 20, halfLengthM: 80, bearingDeg: 90 },
  };
  const hedged: PlantPlace = {
    ...open,
    barrier: { heightM: 2, porosity: 0.5, distanceM: 20, bearingDeg: 270, halfLengthM: null },
  };
  const factor = (hour: HourAtPlant, name: string) => hour.wind.factors.find((one) => one.name === name);

  it('differ as the cited formulas say (FS W-16 and W-19 by their laws; sanity only, constants from memory)', () => {
    const level = atNoon(open).wind.atPlantMs!;
    // dS = 2 h/L exp(-3 z/L) at the plant's height of 0.5 m; W-16 has 0.4639 of it at 2 m.
    const dS = 2 * (20 / 80) * Math.exp((-3 * 0.5) / 80);
    expect(atNoon(crest).wind.atPlantMs! / level).toBeCloseTo(1 + dS, 6);
    // W-19: behind a hedge of 2 m with half of it gaps, 10 heights away, 0.1527 is gone at 0.5 m over z0 0.03 m.
    expect(roughnessOfVegetation(open.vegetationHeightM).roughnessLengthM).toBeCloseTo(0.03, 9);
    expect(atNoon(hedged).wind.atPlantMs! / level).toBeCloseTo(1 - 0.1527, 4);
  });

  it('name the factor, its value and its source', () => {
    expect(factor(atNoon(crest), 'landform')?.source).toBe(
      'Taylor and Lee 1984, wind across it, ridge 20 m high, half-length 80 m',
    );
    expect(factor(atNoon(hedged), 'hedge')).toMatchObject({
      source: 'Perera 1981 (constants from memory), 2 m high, 10 heights away, 50 % gaps, wind over it',
    });
    expect(factor(atNoon(hedged), 'hedge')!.value).toBeCloseTo(1 - 0.1527, 4);
  });

  it("hang on each hour's wind: none along the crest, none from the hedge's open side", () => {
    const level = atNoon(open).wind.atPlantMs!;
    expect(atNoon(crest, { windFromDeg: 0 }).wind.atPlantMs!).toBeCloseTo(level, 9);
    expect(atNoon(hedged, { windFromDeg: 90 }).wind.atPlantMs!).toBeCloseTo(level, 9);
    const oblique = atNoon(crest, { windFromDeg: 310 });
    expect(factor(oblique, 'landform')?.source).toMatch(/wind 40° off straight across/);
    expect(oblique.wind.atPlantMs!).toBeLessThan(atNoon(crest).wind.atPlantMs!);
  });

  it('take the worst where the forecast has no direction, and name it as missing', () => {
    const crestBlind = atNoon(crest, { windFromDeg: null });
    expect(crestBlind.missing).toContain('windFromDeg');
    expect(crestBlind.wind.atPlantMs!).toBeCloseTo(atNoon(crest).wind.atPlantMs!, 9);
    expect(atNoon(hedged, { windFromDeg: null }).wind.atPlantMs!).toBeCloseTo(
      atNoon(open).wind.atPlantMs!,
      9,
    );
    expect(atNoon(open, { windFromDeg: null }).missing).not.toContain('windFromDeg');
  });

  it('a measured hedge goes before the word for shelter when wind comes over it', () => {
    const both = { ...hedged, shelter: 'hedged' as const };
    expect(atNoon(both).wind.factors.map(({ name }) => name)).not.toContain('shelter, hedged');
    expect(atNoon(both, { windFromDeg: 90 }).wind.factors.map(({ name }) => name)).toContain(
      'shelter, hedged',
    );
  });

  it('what was learned at the site is a factor with its basis', () => {
    const learned = atNoon({ ...open, learnedWind: { factor: 0.8, basis: 'your 41 frames here' } });
    expect(factor(learned, 'learned here')).toEqual({
      name: 'learned here',
      value: 0.8,
      source: 'your 41 frames here',
    });
    expect(learned.wind.atPlantMs!).toBeCloseTo(0.8 * atNoon(open).wind.atPlantMs!, 9);
  });
});

describe('the range of the wind at the plant', () => {
  const way = wayDown({ ...open, vegetationHeightM: 0.8 }, 10);
  const hour = { windSpeedMs: 4, gustMs: null, stable: false };

  it('holds the two published chains into a meadow (FS W-9, W-10: 0.279 and 0.352 for 4 m/s)', () => {
    const meadow = wayDown({ ...open, plantHeightM: 0.25, vegetationHeightM: 0.5 }, 10);
    const { rangeMs } = windAtPlant(meadow, hour);
    expect(rangeMs[0]).toBeLessThan(0.279);
    expect(rangeMs[1]).toBeGreaterThan(0.348);
    expect(rangeMs[1]).toBeLessThan(0.352);
  });

  it("widens with the forecast's own range, and downward in stable air", () => {
    const plain = windAtPlant(way, hour).rangeMs;
    const wide = windAtPlant(way, { ...hour, lowMs: 2, highMs: 7 }).rangeMs;
    expect([wide[0] < plain[0], wide[1] > plain[1]]).toEqual([true, true]);
    const stable = windAtPlant(way, { ...hour, stable: true }).rangeMs;
    expect([stable[0] < plain[0], stable[1]]).toEqual([true, plain[1]]);
    const hollow = wayDown({ ...open, shelter: 'hollow' }, 10);
    expect(hollow.pools).toBe(true);
  });

  it('is said in words, from one to the other', () => {
    const { word, rangeWords } = windAtPlant(way, { ...hour, lowMs: 0, highMs: 12 });
    expect(rangeWords[0]).toBe('still');
    expect(rangeWords[1]).toBe('tossing');
    expect(['stirring', 'nodding']).toContain(word);
  });
});

describe('the sun behind a horizon', () => {
  const clear = { cloudShare: 0, windSpeedMs: 2 };
  const day = forecastFrom('2024-06-01T00:00Z', 24, () => clear);
  const wooded: PlantPlace = { ...open, horizon: new Array<number>(36).fill(25) };
  const spell = (place: PlantPlace) => sunSpells(place, hoursAtPlant(place, day));

  it('leaves soft light until it clears, then hard', () => {
    const hours = hoursAtPlant(wooded, day);
    const hidden = hours.find(({ sun }) => sun.altitudeDeg > 5 && !sun.clearsHorizon)!;
    expect(hidden.light.diffuseShare).toBe(1);
    expect(hidden.light.sidesStops).toBe(0);
    expect(hidden.light.illuminanceLux!).toBeLessThan(
      hoursAtPlant(open, day).find(({ timeMs }) => timeMs === hidden.timeMs)!.light.illuminanceLux!,
    );
    const noon = hours[12]!;
    expect(noon.sun.clearsHorizon).toBe(true);
    expect(noon.light.sidesStops!).toBeGreaterThan(1);
  });

  it('comes later and goes sooner, to the minute', () => {
    const [free] = spell(open);
    const [late] = spell(wooded);
    expect(late!.fromMs - free!.fromMs).toBeGreaterThan(2 * hourMs);
    expect(free!.toMs - late!.toMs).toBeGreaterThan(2 * hourMs);
    // FS S-13 has Kew's sunrise of 21 June; here the edge itself: the sun stands at the horizon's 25° there.
    const edge = hoursAtPlant(open, {
      ...day,
      instants: [{ ...fairInstant, ...clear, timeMs: late!.fromMs }],
    })[0]!;
    expect(Math.abs(edge.sun.apparentAltitudeDeg - 25)).toBeLessThan(0.2);
  });

  it('of Kew at the solstice: rise and set of FS S-13 within a minute', () => {
    const solstice = forecastFrom('2015-06-21T00:00Z', 24);
    const [only, ...more] = sunSpells(open, hoursAtPlant(open, solstice));
    expect(more).toEqual([]);
    expect(Math.abs(only!.fromMs - Date.parse('2015-06-21T03:43:51Z'))).toBeLessThan(65_000);
    expect(Math.abs(only!.toMs - Date.parse('2015-06-21T20:21:56Z'))).toBeLessThan(65_000);
  });

  it('keeps insects cool where it hides the sun, and a slope that faces north in winter in the shade', () => {
    const cool = forecastFrom('2024-06-01T00:00Z', 24, () => ({ ...clear, airTemperatureC: 12 }));
    const at7 = (place: PlantPlace) => hoursAtPlant(place, cool)[7]!.insects;
    expect([at7(open), at7({ ...open, horizon: [60] })]).toEqual(['basking', 'torpid']);
    const north: PlantPlace = { ...open, slopeDeg: 30, aspectDeg: 0 };
    const south: PlantPlace = { ...open, slopeDeg: 30, aspectDeg: 180 };
    const noonInWinter = forecastFrom('2024-12-21T12:00Z', 1, () => clear);
    // The sun stands 15° high: below the top of a slope of 30° that faces north.
    expect(hoursAtPlant(north, noonInWinter)[0]!.sun.clearsHorizon).toBe(false);
    expect(hoursAtPlant(south, noonInWinter)[0]!.sun.clearsHorizon).toBe(true);
    expect(hoursAtPlant(north, noonInWinter)[0]!.light.diffuseShare).toBe(1);
  });
});

describe('what an hour knows beside', () => {
  it('open flowers by the sun: shut by noon after it, in sun alone only in sun', () => {
    const bright = hoursAtPlant(
      open,
      forecastFrom('2024-06-01T00:00Z', 24, () => ({ cloudShare: 0 })),
    );
    expect(bright[9]!.open).toEqual({ 'needs sun': 1, morning: 1, 'shut by noon': 1 });
    expect(bright[14]!.open).toEqual({ 'needs sun': 1, morning: 0, 'shut by noon': 0 });
    expect(bright[1]!.open).toEqual({ 'needs sun': 0, morning: 0, 'shut by noon': 0 });
    expect(atNoon(open).open['needs sun']).toBe(0);
    expect(atNoon(open, { cloudShare: null }).open['needs sun']).toBeNull();
  });

  it('radiation where it is given: a bright hour under a forecast of closed cloud is bright', () => {
    const dull = atNoon(open);
    const bright = atNoon(open, { radiationWm2: 780 });
    expect([dull.light.from, bright.light.from]).toEqual(['cloud', 'radiation']);
    expect(bright.light.illuminanceLux!).toBeGreaterThan(2 * dull.light.illuminanceLux!);
    expect(bright.light.diffuseShare!).toBeLessThan(0.5);
  });

  it('a surface warmer than the air in sun and cooler under a clear night', () => {
    const sunny = atNoon(open, { cloudShare: 0, windSpeedMs: 2 });
    expect(sunny.air.surfaceTemperatureC! - 12).toBeGreaterThan(3);
    const [night] = hoursAtPlant(
      open,
      forecastFrom('2024-06-01T00:00Z', 1, () => ({ cloudShare: 0, windSpeedMs: 1 })),
    );
    expect(night!.air.surfaceTemperatureC!).toBeLessThan(12);
    expect(night!.air.nearGroundC).toBeNull();
  });

  it('how long drops take to dry; none where nothing dries', () => {
    const hours = hoursAtPlant(
      open,
      forecastFrom('2024-06-01T06:00Z', 8, (i) => ({
        precipitationMm: i === 0 ? 2 : 0,
        cloudShare: i < 3 ? 1 : 0.2,
        relativeHumidity: i < 3 ? 0.99 : 0.6,
        windSpeedMs: 2,
      })),
    );
    expect(hours[0]!.drops.rainWaterMm).toBeCloseTo(0.3, 9);
    const later = hours.slice(1).map(({ drops }) => drops.rainWaterMm);
    expect([...later].sort((a, b) => b - a)).toEqual(later);
    expect(hours.at(-1)!.drops.driesInH).toBe(0);
  });
});

describe('at the edges of the world', () => {
  const wanted = [
    {
      id: 'w',
      siteId: null,
      light: 'soft' as const,
      stillness: 'nodding' as const,
      drops: 'any' as const,
      insects: null,
    },
  ];
  const calm = () => ({ windSpeedMs: 2 });
  const answer = (place: PlantPlace, forecast: Forecast) =>
    whenDocument({
      place,
      forecast,
      siteId: 's',
      wanted,
      nowMs: forecast.instants[0]!.timeMs,
      fromMs: null,
      toMs: null,
    });
  const tromso: PlantPlace = { ...open, latitudeDeg: 69.65, longitudeDeg: 18.96 };

  it('polar day: the sun clears the horizon throughout, flowers of the morning shut by the sun', () => {
    const { sunOnPlant, windows, hours } = answer(tromso, forecastFrom('2024-06-20T00:00Z', 48, calm));
    expect(sunOnPlant.length).toBe(1);
    expect(windows.length).toBe(1);
    expect(hours.every(({ sun }) => sun.clearsHorizon)).toBe(true);
    expect(hours.some(({ open: how }) => how.morning === 0)).toBe(true);
  });

  it('polar night: no sun, no window, and the darkness named', () => {
    const { sunOnPlant, windows, misses } = answer(tromso, forecastFrom('2024-12-20T00:00Z', 48, calm));
    expect([sunOnPlant, windows]).toEqual([[], []]);
    expect(misses[0]!.failing).toBe('brightness');
  });

  it('at the poles themselves everything is finite', () => {
    for (const latitudeDeg of [-90, 90]) {
      const { hours } = answer({ ...open, latitudeDeg }, forecastFrom('2024-03-20T00:00Z', 24, calm));
      for (const hour of hours) expect(JSON.stringify(hour)).not.toMatch(/NaN|Infinity/);
      expect(hours.every(({ light }) => light.illuminanceLux !== null)).toBe(true);
    }
  });

  it('both sides of the date line have the same sun, light and windows', () => {
    const forecast = forecastFrom('2024-06-01T00:00Z', 100, calm);
    const [east, west] = [180, -180].map((longitudeDeg) => answer({ ...open, longitudeDeg }, forecast));
    expect(east!.windows.map(({ from, to }) => [from, to])).toEqual(
      west!.windows.map(({ from, to }) => [from, to]),
    );
    // The dates by the sun are a day apart there, as the calendars are; the parts are the same.
    expect(east!.outlook.map(({ part }) => part)).toEqual(west!.outlook.map(({ part }) => part));
    expect(east!.outlook[0]!.date > west!.outlook[0]!.date).toBe(true);
  });

  it('southern hemisphere: midsummer in December, the sun in the north at noon', () => {
    const hobart: PlantPlace = { ...open, latitudeDeg: -42.88, longitudeDeg: 147.33 };
    const december = answer(hobart, forecastFrom('2024-12-21T00:00Z', 24, calm));
    const highest = december.hours.reduce((one, other) =>
      other.sun.altitudeDeg > one.sun.altitudeDeg ? other : one,
    );
    expect(highest.sun.altitudeDeg).toBeGreaterThan(60);
    expect(Math.abs(((highest.sun.azimuthDeg + 180) % 360) - 180)).toBeLessThan(20);
    const june = answer(hobart, forecastFrom('2024-06-21T00:00Z', 24, calm));
    expect(december.sunOnPlant.reduce((sum, one) => sum + one.toMs - one.fromMs, 0)).toBeGreaterThan(
      june.sunOnPlant.reduce((sum, one) => sum + one.toMs - one.fromMs, 0),
    );
  });

  it('a change of clocks leaves every hour in its place', () => {
    const { hours, windows } = answer(open, forecastFrom('2024-03-31T00:00+00:00', 24, calm));
    expect(hours.map(({ time }) => time).at(1)).toBe('2024-03-31T01:00:00Z');
    expect(new Set(hours.map(({ time }) => time)).size).toBe(24);
    expect(windows.length).toBe(1);
  });

  it('a leap day is day 60, and the last of a leap year day 366', () => {
    const day = (iso: string) => hoursAtPlant(open, forecastFrom(iso, 1))[0]!.dayOfYear;
    expect(day('2024-02-29T12:00Z')).toBe(60);
    expect(day('2024-12-31T23:00Z')).toBe(366);
    expect(day('2023-12-31T23:00Z')).toBe(365);
    expect(day('2100-03-01T00:00Z')).toBe(60);
    expect(day('1970-01-01T00:00Z')).toBe(1);
  });

  it('below sea level is a place like another', () => {
    const deadSea: PlantPlace = { ...open, latitudeDeg: 31.5, longitudeDeg: 35.5, altitudeM: -430 };
    const { hours } = answer(deadSea, forecastFrom('2024-03-01T00:00Z', 24, calm));
    for (const hour of hours) expect(JSON.stringify(hour)).not.toMatch(/NaN|Infinity/);
  });
});

describe('cautions', () => {
  const said = (change: Partial<ForecastInstant>, place: PlantPlace = open) => {
    const forecast = forecastFrom('2024-06-01T12:00Z', 3, () => change);
    return cautionsOf(place, forecast, hoursAtPlant(place, forecast), forecast.instants[0]!.timeMs).join(' ');
  };

  it('of thunder, heat, cold, frost and fog, each only where it threatens', () => {
    expect(said({ thunderProbability: 0.4 })).toMatch(/Thunder: 40 % about midday on 2024-06-01\./);
    expect(said({ airTemperatureC: 33 })).toMatch(/Heat: 33 °C/);
    expect(said({ airTemperatureC: -2 })).toMatch(/Cold: it feels like -\d+ °C/);
    expect(said({ groundTemperatureC: -1 })).toMatch(/Ground frost is possible/);
    expect(said({ fogShare: 0.8 })).toMatch(/Fog or mist is likely/);
    expect(said({})).not.toMatch(/Thunder|Heat|Cold|frost|Fog/);
  });

  it('of what the forecast lacks, in words, and of a wind that is no mean', () => {
    expect(said({ windGustMs: null })).toMatch(/The forecast never gives: gusts\./);
    const forecast = forecastFrom('2024-06-01T12:00Z', 3);
    const strongest = {
      ...forecast,
      definitions: {
        ...forecast.definitions,
        wind: { heightM: 10, statistic: 'prevailingMaximum' as const, averagedMin: null },
      },
    };
    const hours = hoursAtPlant(open, strongest);
    expect(cautionsOf(open, strongest, hours, hours[0]!.timeMs).join(' ')).toMatch(/not a mean/);
  });

  it('of where the formulas end, where it matters', () => {
    const crest: PlantPlace = { ...open, landform: { kind: 'crest', heightM: 20, halfLengthM: 80 } };
    expect(said({}, crest)).toMatch(/speed-up over the landform holds in wind above 6 m\/s alone/);
    expect(said({}, open)).not.toMatch(/speed-up/);
    expect(said({}, { ...open, plantHeightM: 0.1 })).toMatch(/differ by a quarter/);
  });
});
