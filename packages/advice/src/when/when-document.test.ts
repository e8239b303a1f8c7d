import { readDocument, unknownInstant, type Forecast, type ForecastInstant } from '@tepal/formats';
import { fao56FactorTo2m } from '@tepal/science';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { kew, madeForecast } from '../../fixtures/made-forecast.ts';
import { dewWord } from './hour/drops.ts';
import { hoursAtPlant } from './hour/hours.ts';
import { USUAL_PLANT, type PlantPlace } from './place.ts';
import type { WantedHours } from './window/needs.ts';
import { whenDocument } from './when-document.ts';
import { lullAtPlant } from './hour/lull.ts';
import { wayDown } from './hour/way-down.ts';
import { windAtPlant } from './hour/wind-at-plant.ts';
import { findWindows } from './window/windows.ts';

const meadow: PlantPlace = { ...kew, ...USUAL_PLANT, vegetationHeightM: 0.5 };

/** As made, issued an hour before, its cloud by layers too. */
const forecastFrom: typeof madeForecast = (startIso, hours, change = () => ({})) => {
  const layers = { cloudLowShare: 1, cloudMediumShare: 0, cloudHighShare: 0, fogShare: 0, pressureHpa: 1015 };
  const made = madeForecast(startIso, hours, (hour) => ({ ...layers, ...change(hour) }));
  return { ...made, issuedAtMs: Date.parse(startIso) - 3_600_000 };
};

const wanted: WantedHours = {
  id: 'w1',
  siteId: 's1',
  light: 'soft',
  stillness: 'stirring',
  drops: 'any',
  insects: null,
};

describe('wind at the plant', () => {
  it('direct over clipped grass: 3.2 m/s at 10 m is 2.39 at 2 m (FS W-1, FAO-56 ex. 14)', () => {
    const way = wayDown({ ...meadow, profile: 'direct', plantHeightM: 2, vegetationHeightM: 0.12 }, 10);
    const here = windAtPlant(way, { windSpeedMs: 3.2, gustMs: null, stable: false });
    expect(Math.abs(here.atPlantMs - 2.393)).toBeLessThan(0.005);
    // eq. 47 prints rounded constants
    expect(Math.abs(here.atPlantMs - 3.2 * fao56FactorTo2m(10))).toBeLessThan(0.005);
  });

  it('two-step into a meadow: 4 m/s is 0.279 half-way down it (FS W-9)', () => {
    const here = windAtPlant(wayDown(meadow, 10), { windSpeedMs: 4, gustMs: null, stable: false });
    expect(here.atPlantMs).toBeCloseTo(0.2791, 4);
    expect(here.factors.map(({ name }) => name)).toEqual([
      'forecast height to blending height',
      'blending height to top of the stand',
      'top of the stand to plant',
    ]);
  });

  it('is the forecast times its factors, whatever the place', () => {
    fc.assert(
      fc.property(
        fc.constantFrom<PlantPlace['profile']>('direct', 'two-step'),
        fc.constantFrom<PlantPlace['shelter']>('open', 'grassy', 'hedged', 'wooded', 'hollow'),
        fc.constantFrom<PlantPlace['landform']['kind']>(
          'flat',
          'crest',
          'hill',
          'escarpment',
          'valley',
          'hollow',
        ),
        fc.double({ min: 0.01, max: 10, noNaN: true }),
        fc.double({ min: 0, max: 8, noNaN: true }),
        fc.double({ min: 0, max: 30, noNaN: true }),
        (profile, shelter, kind, plantHeightM, vegetationHeightM, windSpeedMs) => {
          const landform = { kind, heightM: 60, halfLengthM: 100 };
          const way = wayDown({ ...meadow, profile, shelter, landform, plantHeightM, vegetationHeightM }, 10);
          const here = windAtPlant(way, { windSpeedMs, gustMs: null, stable: false });
          const product = here.factors.reduce((total, { value }) => total * value, windSpeedMs);
          expect(here.atPlantMs).toBeCloseTo(product, 9);
          expect(here.gustAtPlantMs).toBeGreaterThanOrEqual(here.atPlantMs);
          expect(here.rangeMs[0]).toBeLessThanOrEqual(here.atPlantMs);
          expect(here.rangeMs[1]).toBeGreaterThanOrEqual(here.atPlantMs);
          const lull = lullAtPlant(here.atPlantMs, way);
          expect(lull.shareOfTime >= 0 && lull.shareOfTime <= 1).toBe(true);
          expect(lull.expectedWaitS === null || Number.isFinite(lull.expectedWaitS)).toBe(true);
        },
      ),
      { seed: 21, numRuns: 300 },
    );
  });

  it('grows with height and is steady at the top of the stand', () => {
    const at = (plantHeightM: number) =>
      windAtPlant(wayDown({ ...meadow, plantHeightM }, 10), { windSpeedMs: 1, gustMs: null, stable: false })
        .atPlantMs;
    for (let z = 0.05; z < 3; z += 0.05) expect(at(z)).toBeLessThan(at(z + 0.05));
    expect(at(0.4999)).toBeCloseTo(at(0.5001), 3);
  });

  it('counts a crest in strong wind only, never in light wind or stable air', () => {
    const crest = { ...meadow, landform: { kind: 'crest' as const, heightM: 20, halfLengthM: 80 } };
    const way = wayDown(crest, 10);
    const factor = (windSpeedMs: number, stable = false) =>
      windAtPlant(way, { windSpeedMs, gustMs: null, stable }).factors.find(({ name }) => name === 'landform')
        ?.value;
    expect(factor(5.9)).toBeUndefined();
    expect(factor(9, true)).toBeUndefined();
    expect(factor(9)).toBeGreaterThan(1.4);
    const hollow = wayDown({ ...meadow, landform: { ...crest.landform, kind: 'hollow' } }, 10);
    expect(hollow.rise).toBeNull();
  });

  it('waits longer for calm the more it blows; not at all when there is none', () => {
    const way = wayDown(meadow, 10);
    expect(lullAtPlant(0, way)).toEqual({
      belowMs: 0.2,
      shareOfTime: 1,
      meanLengthS: null,
      expectedWaitS: 0,
    });
    const waits = [0.1, 0.3, 0.6, 1].map((wind) => lullAtPlant(wind, way).expectedWaitS!);
    expect([...waits].sort((a, b) => a - b)).toEqual(waits);
  });

  it('refuses the direct profile in a wood, and heights that are none', () => {
    expect(() =>
      hoursAtPlant(
        { ...meadow, profile: 'direct', vegetationHeightM: 15 },
        forecastFrom('2024-06-01T00:00Z', 1),
      ),
    ).toThrow('for vegetationHeightM but received 15');
    expect(() => hoursAtPlant({ ...meadow, plantHeightM: -1 }, forecastFrom('2024-06-01T00:00Z', 1))).toThrow(
      'expected a height in m above 0 and',
    );
    expect(() => hoursAtPlant({ ...meadow, latitudeDeg: 95 }, forecastFrom('2024-06-01T00:00Z', 1))).toThrow(
      'for latitudeDeg but received 95',
    );
  });
});

describe('the hours', () => {
  it('hold every instant, with the sun of astropy (FS S-12, Kew)', () => {
    const hours = hoursAtPlant(meadow, forecastFrom('2015-06-21T00:00Z', 24));
    expect(hours.length).toBe(24);
    expect(Math.abs(hours[4]!.sun.altitudeDeg - 1.1054)).toBeLessThan(0.01);
    expect(Math.abs(hours[4]!.sun.azimuthDeg - 52.0946)).toBeLessThan(0.02);
    expect(hours[4]!.time).toBe('2015-06-21T04:00:00Z');
  });

  it('name what the forecast lacks and invent nothing', () => {
    const at = Date.parse('2024-06-01T12:00Z');
    const [hour] = hoursAtPlant(
      meadow,
      forecastFrom('2024-06-01T12:00Z', 1, () => unknownInstant(at, 10)),
    );
    expect(hour!.missing).toEqual([
      'airTemperatureC',
      'relativeHumidity',
      'dewPointC',
      'cloudShare',
      'windSpeedMs',
      'windGustMs',
      'precipitationMm',
    ]);
    expect(hour!.light).toMatchObject({ illuminanceLux: null, diffuseShare: null, sidesStops: null });
    expect(hour!.wind.atPlantMs).toBeNull();
    expect(hour!.lull.expectedWaitS).toBeNull();
    expect(hour!.drops).toMatchObject({ fromRain: null, fromDew: null });
    expect(hour!.insects).toBeNull();
  });

  it('have dew after a clear, calm, damp night, and little under cloud or in wind', () => {
    const dewAt5 = (change: Partial<ForecastInstant>) => {
      const night = { airTemperatureC: 9, dewPointC: 8.4, relativeHumidity: 0.96, windSpeedMs: 1, ...change };
      const hours = hoursAtPlant(
        meadow,
        forecastFrom('2024-06-01T20:00Z', 12, () => night),
      );
      return hours[9]!.drops.fromDew!;
    };
    const clear = { cloudShare: 0, cloudLowShare: 0 };
    expect(dewWord(dewAt5(clear))).toBe('likely');
    expect(dewWord(dewAt5({}))).toBe('unlikely');
    expect(dewWord(dewAt5({ ...clear, windSpeedMs: 6, dewPointC: 2, relativeHumidity: 0.62 }))).toBe(
      'unlikely',
    );
  });

  it('keep drops after rain, and lose them in sun', () => {
    const showers = (hour: number): Partial<ForecastInstant> =>
      hour < 2
        ? { precipitationMm: 1 }
        : { cloudShare: 0, cloudLowShare: 0, relativeHumidity: 0.5, dewPointC: 6, airTemperatureC: 18 };
    const hours = hoursAtPlant(meadow, forecastFrom('2024-06-01T08:00Z', 8, showers));
    expect(hours[1]!.drops.fromRain).toBe(1);
    expect(hours[2]!.drops.fromRain!).toBeLessThanOrEqual(1);
    expect(hours[7]!.drops.fromRain).toBe(0);
  });

  it('call insects torpid in the cold', () => {
    const [cold] = hoursAtPlant(
      meadow,
      forecastFrom('2024-06-01T05:00Z', 1, () => ({ airTemperatureC: 7 })),
    );
    expect(cold!.insects).toBe('torpid');
  });

  it('are finite at every place on Earth and in any weather', () => {
    const share = fc.double({ min: 0, max: 1, noNaN: true });
    const maybe = <T>(of: fc.Arbitrary<T>) => fc.option(of, { nil: null });
    fc.assert(
      fc.property(
        fc.oneof(fc.constantFrom(-90, 0, 90), fc.double({ min: -90, max: 90, noNaN: true })),
        fc.oneof(fc.constantFrom(-180, 180), fc.double({ min: -180, max: 180, noNaN: true })),
        fc.record({
          windSpeedMs: maybe(fc.double({ min: 0, max: 40, noNaN: true })),
          windGustMs: maybe(fc.double({ min: 0, max: 60, noNaN: true })),
          cloudShare: maybe(share),
          cloudLowShare: maybe(share),
          airTemperatureC: maybe(fc.double({ min: -50, max: 45, noNaN: true })),
          dewPointC: maybe(fc.double({ min: -50, max: 30, noNaN: true })),
          relativeHumidity: maybe(fc.double({ min: 0, max: 1.05, noNaN: true })),
          precipitationMm: maybe(fc.double({ min: 0, max: 30, noNaN: true })),
        }),
        fc.integer({ min: 0, max: 8000 }),
        (latitudeDeg, longitudeDeg, weather, startH) => {
          const start = new Date(Date.UTC(2024, 0, 1, startH)).toISOString();
          const request = {
            place: { ...meadow, latitudeDeg, longitudeDeg },
            forecast: forecastFrom(start, 5, () => weather),
            siteId: 's1',
            wanted: [wanted, { ...wanted, id: 'w2', drops: 'wanted' as const, insects: 'torpid' as const }],
            nowMs: Date.parse(start),
            fromMs: null,
            toMs: null,
          };
          const read = readDocument(JSON.parse(JSON.stringify(whenDocument(request))));
          expect(read.ok ? [] : read).toEqual([]);
        },
      ),
      { seed: 22, numRuns: 150 },
    );
  });
});

describe('windows for wanted pictures', () => {
  const find = (forecast: Forecast, asked: WantedHours[], nowMs = forecast.instants[0]!.timeMs) =>
    findWindows({ siteId: 's1', hours: hoursAtPlant(meadow, forecast), wanted: asked, nowMs });

  it('are runs of hours whose weakest factor suits, each factor with a sentence', () => {
    const forecast = forecastFrom('2024-06-01T00:00Z', 24, (hour) => ({
      windSpeedMs: hour >= 6 && hour < 10 ? 2 : 14,
    }));
    const { windows, misses } = find(forecast, [wanted]);
    expect(misses).toEqual([]);
    expect(windows.map(({ from, to }) => [from, to])).toEqual([
      ['2024-06-01T06:00:00Z', '2024-06-01T10:00:00Z'],
    ]);
    const [window] = windows;
    expect(window!.suitability).toBe(Math.min(...window!.factors.map(({ value }) => value)));
    for (const factor of window!.factors) expect(factor.why).toMatch(/\.$/);
  });

  it('name the one thing that is missing where no hour suits', () => {
    const { windows, misses } = find(
      forecastFrom('2024-06-01T00:00Z', 24, () => ({ windSpeedMs: 14 })),
      [wanted],
    );
    expect(windows).toEqual([]);
    expect(misses[0]!.failing).toBe('stillness');
    expect(misses[0]!.why).toMatch(
      /^The plant is (nodding|tossing): \d\.\d m\/s at its height, stirring means below 0\.5 m\/s\.$/,
    );
  });

  it('fail for hard light when soft is wanted, and for cloud when sun is', () => {
    const noon = (cloud: number) =>
      forecastFrom('2024-06-01T11:00Z', 3, () => ({ cloudShare: cloud, cloudLowShare: cloud }));
    expect(find(noon(0), [wanted]).misses[0]!.failing).toBe('light');
    expect(find(noon(1), [{ ...wanted, light: 'sun' }]).misses[0]!.failing).toBe('light');
    expect(find(noon(0), [{ ...wanted, light: 'sun' }]).windows.length).toBe(1);
  });

  it('are not made from what the forecast does not say', () => {
    const { misses } = find(
      forecastFrom('2024-06-01T11:00Z', 3, () => ({ windSpeedMs: null })),
      [wanted],
    );
    expect(misses[0]!.why).toBe('The forecast gives no wind for this hour.');
  });

  it('leave past hours out, unless all are past; and other sites always', () => {
    const forecast = forecastFrom('2024-06-01T06:00Z', 6);
    const noon = Date.parse('2024-06-01T09:30Z');
    expect(find(forecast, [wanted], noon).windows[0]!.from).toBe('2024-06-01T09:00:00Z');
    expect(find(forecast, [wanted], noon + 86_400_000).windows[0]!.from).toBe('2024-06-01T06:00:00Z');
    expect(find(forecast, [{ ...wanted, siteId: 's2' }])).toEqual({ windows: [], misses: [] });
  });
});

describe('cautions', () => {
  it('put the rules of the place first, and tell an old forecast for another place', () => {
    const forecast = { ...forecastFrom('2024-06-01T22:00Z', 4), latitudeDeg: 52, altitudeM: 400 };
    const { cautions, forecast: told } = whenDocument({
      place: meadow,
      forecast,
      siteId: 's1',
      wanted: [],
      nowMs: Date.parse('2024-06-04T22:00Z'),
      fromMs: null,
      toMs: null,
    });
    expect(told.ageH).toBe(73);
    expect(cautions[0]).toBe("Local law and the site's own rules come first.");
    expect(cautions).toContain('The forecast is 3 days old.');
    expect(cautions).toContain('Every hour of the forecast lies in the past.');
    expect(cautions).toContain('The forecast is for 400 m above sea level, the site lies at 10 m.');
    expect(cautions).toContain('The forecast is for a place 58 km away.');
  });
});
