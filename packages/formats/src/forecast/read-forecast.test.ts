import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { formatInstant } from '../time.ts';
import { readForecast } from './read-forecast.ts';
import { faultOf, forecastOf } from './read-in-tests.ts';

const fixture = (name: string) =>
  new Uint8Array(readFileSync(new URL(`../../fixtures/forecast/${name}`, import.meta.url)));
const complete = fixture('lat51.5lon-0.1altitude25_complete.json');
const compact = fixture('lat39.9lon116.4altitudeNone_compact.json');

interface Series {
  time?: unknown;
  data?: {
    instant?: { details: Record<string, unknown> };
    next_1_hours?: { details?: Record<string, unknown> };
    next_6_hours?: { details?: Record<string, unknown> };
  };
}
interface Doc {
  geometry: { coordinates: unknown[] };
  properties: { meta: { updated_at?: unknown; units?: Record<string, unknown> }; timeseries: Series[] };
}

/** The complete sample, bare, changed by `change`. */
function changed(change: (doc: Doc) => void): string {
  const { data } = JSON.parse(new TextDecoder().decode(complete)) as { data: Doc };
  change(data);
  return JSON.stringify(data);
}

describe('a Locationforecast document', () => {
  it('gives place, time of issue, credit and every instant in order (MET Norway sample)', () => {
    const forecast = forecastOf(complete);
    expect(forecast).toMatchObject({ latitudeDeg: 51.5, longitudeDeg: -0.1, altitudeM: 25, faults: [] });
    expect(formatInstant(forecast.issuedAtMs!)).toBe('2020-07-20T01:30:57Z');
    expect(forecast.credit).toContain('MET Norway');
    expect(forecast.instants).toHaveLength(82);
  });

  it('gives the numbers of the document in our units (values read from the sample by eye)', () => {
    const first = forecastOf(complete).instants[0]!;
    expect(formatInstant(first.timeMs)).toBe('2020-07-20T11:00:00Z');
    expect(first).toMatchObject({
      windSpeedMs: 2.3,
      windFromDeg: 349.3,
      windHeightM: 10,
      cloudShare: 0.125,
      cloudLowShare: 0.125,
      cloudMediumShare: 0,
      cloudHighShare: 0,
      fogShare: 0,
      airTemperatureC: 18.8,
      dewPointC: 7.2,
      relativeHumidity: 0.47,
      pressureHpa: 1023.2,
      precipitationMm: 0,
      precipitationFromMs: first.timeMs,
      precipitationToMs: first.timeMs + 3_600_000,
    });
  });

  it('accepts missing gusts, percentiles and periods, and six-hour steps (FS F-2)', () => {
    const instants = forecastOf(complete).instants;
    const last = instants.at(-1)!;
    expect(last.windGustMs).toBeNull();
    expect(last.windSpeedLowMs).toBeNull();
    expect(last.fogShare).toBeNull();
    expect(last.precipitationMm).toBeNull();
    expect(last.precipitationToMs).toBeNull();
    const before = instants.at(-2)!;
    expect(before.precipitationToMs! - before.precipitationFromMs!).toBe(6 * 3_600_000);
    expect(forecastOf(compact).instants[0]!.dewPointC).toBeNull();
  });

  it('accepts null and leaves out what is no number or not plausible, saying where (FS F-2)', () => {
    const forecast = forecastOf(
      changed((doc) => {
        const details = doc.properties.timeseries[2]!.data!.instant!.details;
        details['air_temperature'] = null;
        details['wind_speed'] = '-';
        details['relative_humidity'] = 470;
      }),
    );
    expect(forecast.instants[2]).toMatchObject({
      airTemperatureC: null,
      windSpeedMs: null,
      relativeHumidity: null,
    });
    expect(forecast.faults.map((fault) => fault.where).sort()).toEqual(
      ['properties.timeseries[2]…relative_humidity', 'properties.timeseries[2]…wind_speed'].sort(),
    );
  });

  it.each([
    ['km/h', 3.6, 1],
    ['knots', 1, 1852 / 3600],
    ['m/s', 2, 2],
  ])('converts wind in %s', (unit, written, ms) => {
    const text = changed((doc) => {
      doc.properties.meta.units!['wind_speed'] = unit;
      doc.properties.timeseries[0]!.data!.instant!.details['wind_speed'] = written;
    });
    expect(forecastOf(text).instants[0]!.windSpeedMs).toBeCloseTo(ms, 12);
  });

  it('converts temperatures in kelvin: 283.15 K is 10.00 °C (FS F-1)', () => {
    const text = changed((doc) => {
      doc.properties.meta.units!['air_temperature'] = 'K';
      for (const entry of doc.properties.timeseries) {
        entry.data!.instant!.details['air_temperature'] = 283.15;
      }
    });
    expect(forecastOf(text).instants[5]!.airTemperatureC).toBeCloseTo(10, 10);
  });

  it('refuses a unit it cannot convert, naming field, unit and what is accepted', () => {
    const fault = faultOf(changed((doc) => (doc.properties.meta.units!['wind_speed'] = 'furlong')));
    expect(fault.message).toBe(
      'properties.meta.units.wind_speed: found "furlong", but expected m/s, km/h, knots or mph.',
    );
  });

  it('takes the units of the data model when the document names none, and says so', () => {
    const forecast = forecastOf(changed((doc) => delete doc.properties.meta.units));
    expect(forecast.instants[0]!.windSpeedMs).toBe(2.3);
    expect(forecast.faults.map((fault) => fault.where)).toEqual(['properties.meta.units']);
  });

  it('names missing hours, and only those', () => {
    const forecast = forecastOf(changed((doc) => doc.properties.timeseries.splice(4, 2)));
    expect(forecast.faults).toHaveLength(1);
    expect(forecast.faults[0]!.found).toBe('nothing between 2020-07-20T14:00:00Z and 2020-07-20T17:00:00Z');
  });

  it('sorts times out of order and keeps the first of a time given twice', () => {
    const forecast = forecastOf(
      changed((doc) => {
        const series = doc.properties.timeseries;
        series.push(series.shift()!, structuredClone(series[3]!));
      }),
    );
    expect(forecast.instants).toHaveLength(82);
    expect(forecast.instants.map((i) => i.timeMs)).toEqual(
      forecastOf(complete).instants.map((i) => i.timeMs),
    );
    expect(forecast.faults.map((fault) => fault.found)).toEqual([
      'times out of order',
      '1 times given twice',
    ]);
  });

  it('reads times with another offset as the same moment, and leaves out those without one', () => {
    const forecast = forecastOf(
      changed((doc) => {
        doc.properties.timeseries[0]!.time = '2020-07-20T13:00:00+02:00';
        doc.properties.timeseries[1]!.time = '2020-07-20T12:00:00';
        doc.properties.timeseries[2]!.time = 'noon';
      }),
    );
    expect(formatInstant(forecast.instants[0]!.timeMs)).toBe('2020-07-20T11:00:00Z');
    expect(forecast.instants).toHaveLength(80);
  });

  it('is refused with an empty series or a place that is not on Earth', () => {
    expect(faultOf(changed((doc) => (doc.properties.timeseries = []))).found).toBe('an empty list');
    const fault = faultOf(changed((doc) => (doc.geometry.coordinates = [0, 95, 10])));
    expect(fault.message).toContain('found [0, 95, 10]');
  });

  it('tells whose definition a cloud layer follows', () => {
    expect(forecastOf(complete).notes.join(' ')).toContain('low below 2000 m');
  });
});

describe('a file that is no forecast known here', () => {
  it.each([
    ['an empty file', new Uint8Array(0), 'an empty file'],
    ['a picture', new Uint8Array([0xff, 0xd8, 0xff, 0xe0]), 'a JPEG picture'],
    ['a zip', new Uint8Array([0x50, 0x4b, 3, 4]), 'a damaged zip archive'],
    ['a web page', '<!DOCTYPE html><html>', 'a web page'],
    ['a METAR', fixture('metar.txt'), 'a METAR weather report'],
    [
      'US documents',
      fixture('nws-gridpoints-forecast-si.json'),
      'a document of the US National Weather Service without its grid data',
    ],
    [
      'an answer that failed',
      '{"status_code":429,"headers":{}}',
      'an answer with status 429 and no forecast',
    ],
    ['cut-off JSON', '{"properties":{"timeseries":[', 'JSON that breaks off before its end'],
    ['other JSON', '{"hourly":{}}', 'a JSON document with hourly'],
  ])('%s is named as what it is', (_name, input, found) => {
    expect(faultOf(input).found).toBe(found);
  });
});

describe('whatever the bytes', () => {
  it('never throws on random bytes or on a sample changed at random', () => {
    const seed = 20261125;
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 300 }), (bytes) => {
        readForecast(bytes);
      }),
      { seed, numRuns: 300 },
    );
    const small = new TextEncoder().encode(changed((doc) => doc.properties.timeseries.splice(3)));
    const edits = fc.array(fc.tuple(fc.nat(small.length - 1), fc.integer({ min: 0, max: 255 })), {
      minLength: 1,
      maxLength: 8,
    });
    fc.assert(
      fc.property(edits, (list) => {
        const bytes = small.slice();
        for (const [at, value] of list) bytes[at] = value;
        readForecast(bytes);
      }),
      { seed, numRuns: 300 },
    );
  });

  it('never throws on any JSON put in the place of any part', () => {
    fc.assert(
      fc.property(fc.jsonValue(), fc.nat(5), (value, which) => {
        const text = changed((doc) => {
          const entry = doc.properties.timeseries[0]!;
          if (which === 0) doc.geometry.coordinates = value as unknown[];
          if (which === 1) doc.properties.meta.units = value as Record<string, unknown>;
          if (which === 2) entry.data = value as object;
          if (which === 3) doc.properties.timeseries = [value as Series];
          if (which === 4) entry.time = value;
          if (which === 5) doc.properties.meta.updated_at = value;
        });
        readForecast(text);
      }),
      { seed: 20261125, numRuns: 200 },
    );
  });
});
