import { zipSync } from 'fflate';
import fc from 'fast-check';
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { formatInstant } from '../../time.ts';
import { missingFromForecast, missingSentences } from '../missing.ts';
import { readForecast } from '../read-forecast.ts';
import { faultOf, forecastOf } from '../read-in-tests.ts';

const bytes = new Uint8Array(
  readFileSync(new URL('../../../fixtures/forecast/mosmix-invented.kml', import.meta.url)),
);
const text = new TextDecoder('iso-8859-1').decode(bytes).replace('ISO-8859-1', 'UTF-8');

describe('a MOSMIX file of one station', () => {
  it('gives station, place, time of issue and every hour, as KML and as KMZ', () => {
    const kmz = zipSync({ 'MOSMIX_L_2026032900_X0001.kml': bytes });
    for (const forecast of [forecastOf(bytes), forecastOf(kmz)]) {
      expect(forecast).toMatchObject({
        source: 'DWD MOSMIX, station X0001 WIESENMÜHLE',
        latitudeDeg: 47.75,
        longitudeDeg: 11.5,
        altitudeM: 650,
        faults: [],
      });
      expect(formatInstant(forecast.issuedAtMs!)).toBe('2026-03-29T00:00:00Z');
      expect(forecast.instants).toHaveLength(4);
    }
  });

  it('converts its units: TTT 283.15 K is 10.00 °C, Rad1h 900 kJ/m² is 250 W/m² (FS F-1)', () => {
    const { instants } = forecastOf(bytes);
    expect(instants[0]!.airTemperatureC).toBeCloseTo(10, 10);
    expect(instants[2]!.radiationWm2).toBeCloseTo(250, 10);
    expect(instants[0]).toMatchObject({ pressureHpa: 1015.3, cloudShare: 0.75, cloudLowShare: 0.6 });
    expect(instants[0]!.groundTemperatureC).toBeCloseTo(7, 10);
    expect(instants[0]).toMatchObject({
      windSpeedErrorMs: 0.8,
      airTemperatureErrorK: 1.1,
      visibilityM: 8000,
    });
  });

  it('moves what belongs to the hour before a time to the start of that hour (FS 9.1)', () => {
    const { instants } = forecastOf(bytes);
    const second = instants[1]!;
    expect(formatInstant(second.timeMs)).toBe('2026-03-29T02:00:00Z');
    expect(second).toMatchObject({
      windSpeedMs: 2.57,
      windGustMs: 6.17,
      precipitationMm: 0.2,
      precipitationProbability: 0.45,
      thunderProbability: 0.02,
      fogProbability: 0.2,
      sunshineShare: 0.25,
      radiationWm2: 100,
      precipitationFromMs: second.timeMs,
      precipitationToMs: second.timeMs + 3_600_000,
    });
    expect(instants[3]).toMatchObject({ windGustMs: null, precipitationMm: null, precipitationToMs: null });
  });

  it('takes DD as the direction from which the wind comes (mistake 8)', () => {
    expect(forecastOf(bytes).instants.map((instant) => instant.windFromDeg)).toEqual([250, 260, 270, 280]);
  });

  it('accepts "-" for what is missing, and says what is (FS F-2)', () => {
    const forecast = forecastOf(bytes);
    expect(forecast.instants[2]).toMatchObject({ groundTemperatureC: null, pressureHpa: null });
    const missing = missingFromForecast(forecast);
    expect(missing.never).toEqual(['windSpeedLowMs', 'windSpeedHighMs', 'fogShare', 'relativeHumidity']);
    expect(missing.partly).toContainEqual({ quantity: 'groundTemperatureC', instants: 1, endsAtMs: null });
    expect(missing.partly).toContainEqual({
      quantity: 'windGustMs',
      instants: 1,
      endsAtMs: Date.UTC(2026, 2, 29, 4),
    });
    expect(missingSentences(missing)).toContain(
      'It lacks gusts at 1 times, and wholly from 2026-03-29T04:00:00Z on.',
    );
  });

  it('keeps its own definitions beside the numbers', () => {
    const { definitions, notes, credit } = forecastOf(bytes);
    expect(definitions).toMatchObject({
      cloudLayers: { mediumFromM: 2000, highFromM: 7000 },
      groundTemperature: { heightM: 0.05 },
      radiation: { averagedMin: 60 },
      fog: { kind: 'probability', visibilityBelowM: 1000 },
    });
    expect(notes.join(' ')).toContain('5 cm above the ground');
    expect(notes.join(' ')).toContain('for the station, not for the site');
    expect(credit).toContain('Deutscher Wetterdienst');
  });

  it('takes the effective cover where the total is not given', () => {
    const forecast = forecastOf(text.replace('elementName="N"', 'elementName="Neff"'));
    expect(forecast.instants[0]!.cloudShare).toBe(0.75);
  });

  it('leaves out an element whose count does not fit the times', () => {
    const forecast = forecastOf(text.replace('2.06       2.57', '2.06'));
    expect(forecast.instants[0]!.windSpeedMs).toBeNull();
    expect(forecast.faults[0]!.message).toBe(
      'FF: found 3 values, but expected 4, one for every time; the element was left out.',
    );
  });

  it('names a missing hour', () => {
    const cut = text
      .replace(/<dwd:TimeStep>2026-03-29T03.*?<\/dwd:TimeStep>/, '')
      .replace(/(<dwd:value>\s*\S+\s+\S+)\s+\S+/g, '$1');
    const forecast = forecastOf(cut);
    expect(forecast.faults.map((fault) => fault.found)).toEqual([
      'nothing between 2026-03-29T02:00:00Z and 2026-03-29T04:00:00Z',
    ]);
    // The hour that began at 02:00 is not known any more, whatever stands at 04:00.
    expect(forecast.instants[1]).toMatchObject({ radiationWm2: null, precipitationMm: null });
  });

  it('is refused with several stations, none, or another KML', () => {
    const placemark = /<kml:Placemark>[\s\S]*<\/kml:Placemark>/.exec(text)![0];
    expect(faultOf(text.replace(placemark, placemark + placemark)).found).toBe('2 stations');
    expect(faultOf(text.replace(placemark, '')).found).toBe('no station');
    expect(faultOf('<kml><Document/></kml>').found).toBe('a KML file without a forecast');
    expect(faultOf(text.replace('11.5,47.75', '11.5,97.75')).found).toBe('"11.5,97.75,650.0"');
    expect(faultOf(zipSync({ 'a.txt': bytes })).found).toBe('a zip archive with 0 KML files');
    expect(faultOf(text.slice(0, 3000)).message).toContain('XML');
  });

  it('never throws, whatever bytes are changed', () => {
    const edits = fc.array(fc.tuple(fc.nat(bytes.length - 1), fc.integer({ min: 0, max: 255 })), {
      minLength: 1,
      maxLength: 8,
    });
    fc.assert(
      fc.property(edits, (list) => {
        const changed = bytes.slice();
        for (const [at, value] of list) changed[at] = value;
        readForecast(changed);
      }),
      { seed: 20261125, numRuns: 150 },
    );
  });
});
