import fc from 'fast-check';
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { formatInstant } from '../../time.ts';
import { readForecast } from '../read-forecast.ts';
import { forecastOf } from '../read-in-tests.ts';
import { parseDurationMs, parseInterval } from './time-interval.ts';

const bytes = new Uint8Array(
  readFileSync(new URL('../../../fixtures/forecast/us-grid-data.json', import.meta.url)),
);

interface Layer {
  uom?: unknown;
  values: { validTime: unknown; value: unknown }[];
}
interface Doc {
  geometry: unknown;
  properties: Record<string, Layer>;
}

function changed(change: (doc: Doc) => void): string {
  const doc = JSON.parse(new TextDecoder().decode(bytes)) as Doc;
  change(doc);
  return JSON.stringify(doc);
}

const hour = 3_600_000;

describe('grid data of the US National Weather Service', () => {
  it('gives the cell, its altitude, the time of issue and every hour', () => {
    const forecast = forecastOf(bytes);
    // Corners and elevation read from the sample by eye.
    expect(forecast.latitudeDeg).toBeCloseTo((30.0315636 + 30.0088803 + 30.0072006 + 30.0298836) / 4, 9);
    expect(forecast.longitudeDeg).toBeCloseTo(-(84.9924374 + 84.9943745 + 84.9681746 + 84.9662324) / 4, 9);
    expect(forecast.altitudeM).toBeCloseTo(3.9624, 9);
    expect(formatInstant(forecast.issuedAtMs!)).toBe('2022-02-04T03:15:41Z');
    // 21:00 on the 3rd to 11:00 on the 11th: the chance of rain reaches to 12:00.
    expect(forecast.instants).toHaveLength(7 * 24 + 15);
    expect(forecast.faults).toEqual([]);
  });

  it('unfolds merged hours, in our units (values read from the sample by eye)', () => {
    const { instants } = forecastOf(bytes);
    expect(formatInstant(instants[0]!.timeMs)).toBe('2022-02-03T21:00:00Z');
    expect(instants[0]!.airTemperatureC).toBeCloseTo(22.7778, 3);
    expect(instants[0]!.windSpeedMs).toBeCloseTo(20.372 / 3.6, 9);
    expect(instants[1]!.windSpeedMs).toBeCloseTo(20.372 / 3.6, 9);
    expect(instants[2]!.windSpeedMs).toBeCloseTo(16.668 / 3.6, 9);
    expect(instants[0]).toMatchObject({ relativeHumidity: 0.73, cloudShare: 0.71, windFromDeg: 160 });
    // 01:00 for ten hours: 18.89 °C
    expect(instants.slice(4, 14).map((one) => one.airTemperatureC!.toFixed(2))).toEqual(
      Array.from({ length: 10 }, () => '18.89'),
    );
    expect(instants[14]!.airTemperatureC).toBeCloseTo(18.3333, 3);
  });

  it('gives each hour of a rain interval the interval itself, so that nothing is counted twice', () => {
    const { instants } = forecastOf(bytes);
    const [first, , third, fourth] = instants;
    expect(third!.precipitationFromMs).toBe(first!.timeMs);
    expect(third!.precipitationToMs).toBe(first!.timeMs + 3 * hour);
    expect(fourth!.precipitationToMs! - fourth!.precipitationFromMs!).toBe(6 * hour);
    expect(first).toMatchObject({ precipitationMm: 0, precipitationProbability: 0.08 });
  });

  it('says that it has no layers of cloud, no radiation, and a prevailing wind', () => {
    const { definitions, instants } = forecastOf(bytes);
    expect(definitions).toMatchObject({
      wind: { statistic: 'prevailingMaximum' },
      cloudLayers: null,
      radiation: null,
      precipitation: { interval: 'around' },
    });
    expect(instants[0]).toMatchObject({ cloudLowShare: null, radiationWm2: null, thunderProbability: null });
  });

  it('reads the units that the document names, and refuses one that it cannot convert', () => {
    const inMs = changed((doc) => (doc.properties['windSpeed']!.uom = 'wmoUnit:m_s-1'));
    expect(forecastOf(inMs).instants[0]!.windSpeedMs).toBeCloseTo(20.372, 9);
    const fahrenheit = changed((doc) => {
      doc.properties['temperature'] = {
        uom: 'wmoUnit:degF',
        values: [{ validTime: '2022-02-03T21:00:00+00:00/PT1H', value: 50 }],
      };
    });
    expect(forecastOf(fahrenheit).instants[0]!.airTemperatureC).toBeCloseTo(10, 10);
    const read = readForecast(changed((doc) => (doc.properties['windSpeed']!.uom = 'wmoUnit:furlong')));
    expect(read).toMatchObject({ ok: false, fault: { where: 'properties.windSpeed.uom' } });
  });

  it('reads intervals with an offset that changes with the clocks as the moments they are', () => {
    const text = changed((doc) => {
      for (const name of Object.keys(doc.properties)) {
        if (Array.isArray(doc.properties[name]?.values)) doc.properties[name].values = [];
      }
      doc.properties['windSpeed']!.values = [
        { validTime: '2022-03-13T01:00:00-06:00/PT1H', value: 3.6 },
        { validTime: '2022-03-13T03:00:00-05:00/PT1H', value: 7.2 },
      ];
    });
    const forecast = forecastOf(text);
    expect(forecast.instants.map((one) => [formatInstant(one.timeMs), one.windSpeedMs])).toEqual([
      ['2022-03-13T07:00:00Z', 1],
      ['2022-03-13T08:00:00Z', 2],
    ]);
  });

  it('names hours of which no layer speaks', () => {
    const text = changed((doc) => {
      for (const name of Object.keys(doc.properties)) {
        const values = doc.properties[name]?.values;
        if (!Array.isArray(values)) continue;
        doc.properties[name]!.values = ['2022-02-03T21:00:00Z/PT1H', '2022-02-04T00:00:00Z/PT2H'].map(
          (validTime) => ({ validTime, value: 5 }),
        );
        doc.properties[name]!.uom ??= 'wmoUnit:percent';
      }
      delete doc.properties['pressure'];
    });
    expect(forecastOf(text).faults.map((fault) => fault.found)).toEqual([
      'nothing between 2022-02-03T21:00:00Z and 2022-02-04T00:00:00Z',
    ]);
  });

  it('never throws on any JSON put in the place of any part', () => {
    fc.assert(
      fc.property(fc.jsonValue(), fc.nat(3), (value, which) => {
        readForecast(
          changed((doc) => {
            if (which === 0) doc.geometry = value;
            if (which === 1) doc.properties['windSpeed'] = value as unknown as Layer;
            if (which === 2) doc.properties['windSpeed']!.values = value as unknown as Layer['values'];
            if (which === 3)
              doc.properties['temperature']!.values[0] = value as unknown as Layer['values'][0];
          }),
        );
      }),
      { seed: 20261125, numRuns: 100 },
    );
  });
});

describe('intervals in ISO 8601', () => {
  it.each([
    ['PT1H', hour],
    ['P1DT6H', 30 * hour],
    ['P7DT14H', 182 * hour],
    ['P1W', 168 * hour],
    ['PT30M', hour / 2],
  ])('%s', (text, ms) => expect(parseDurationMs(text)).toBe(ms));

  it('may have an end instead of a length, and are none with months, backwards or empty', () => {
    expect(parseInterval('2019-07-04T18:00:00+00:00/PT3H')).toEqual({
      fromMs: Date.UTC(2019, 6, 4, 18),
      toMs: Date.UTC(2019, 6, 4, 21),
    });
    expect(parseInterval('2019-07-04T18:00Z/2019-07-04T19:00Z')).toMatchObject({
      toMs: Date.UTC(2019, 6, 4, 19),
    });
    for (const text of [
      '2019-07-04T18:00Z/P1M',
      '2019-07-04T18:00Z/P',
      '2019-07-04T18:00Z',
      '',
      '/',
      'PT3H',
    ]) {
      expect(parseInterval(text)).toBeNull();
    }
    expect(parseInterval('2019-07-04T18:00Z/2019-07-04T17:00Z')).toBeNull();
  });
});
