import { unknownInstant, type AirfieldReport, type Forecast } from '@tepal/formats';
import { describe, expect, it } from 'vitest';
import { reportInWords } from './report-words.ts';

const at = Date.UTC(2026, 5, 4, 12);
const report: AirfieldReport = {
  ...{ station: 'XXXX', timeMs: at + 50 * 60_000, windSpeedMs: 4.1, windGustMs: 10.3, windFromDeg: 240 },
  ...{ clouds: [], airTemperatureC: 14, dewPointC: 11, pressureHpa: 1013 },
};
const forecast = (hours: readonly Partial<Forecast['instants'][number]>[]): Forecast => ({
  ...{ source: 'invented', issuedAtMs: at, latitudeDeg: 51, longitudeDeg: 0, altitudeM: null, credit: '' },
  instants: hours.map((hour, i) => ({ ...unknownInstant(at + i * 3_600_000, 10), ...hour })),
  definitions: {} as Forecast['definitions'],
  ...{ notes: [], faults: [] },
});

describe('a report held against a forecast', () => {
  it('says that it is windier, by the nearest hour, and warmer', () => {
    const words = reportInWords(
      report,
      forecast([{ windSpeedMs: 9 }, { windSpeedMs: 2, airTemperatureC: 10 }]),
    );
    expect(words).toEqual([
      'XXXX at 12:50 UTC measured 4.1 m/s, in gusts 10.3 at 10 m: windier than the forecast (2.0 m/s); take the next hours as windier too.',
      'XXXX at 12:50 UTC measured 14 °C: warmer than the forecast (10.0 °C).',
    ]);
  });
  it('says that it is as forecast where they differ by less than 1 m/s', () => {
    expect(reportInWords(report, forecast([{}, { windSpeedMs: 3.6 }]))[0]).toContain(
      'as the forecast has it',
    );
  });
  it.each([
    [
      'no hour near',
      forecast([{ windSpeedMs: 3 }]),
      { ...report, timeMs: at + 12 * 3_600_000 },
      'no hour near',
    ],
    [
      'no wind measured',
      forecast([{}, { windSpeedMs: 3 }]),
      { ...report, windSpeedMs: null },
      'gives no wind',
    ],
    ['no wind forecast', forecast([{}, {}]), report, 'the forecast gives no wind'],
  ])('%s is said', (_what, against, told, words) => {
    expect(reportInWords(told, against)[0]).toContain(words);
  });
});
