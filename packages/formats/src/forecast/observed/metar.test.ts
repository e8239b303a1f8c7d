import { readFileSync } from 'node:fs';
import { relativeHumidity } from '@tepal/science';
import { describe, expect, it } from 'vitest';
import { readMetar } from './metar.ts';

const near = Date.UTC(2026, 5, 4, 13);
const read = (text: string, nowMs = near) => {
  const report = readMetar(text, nowMs);
  if (!report.ok) throw new Error(report.fault.message);
  return report.value;
};

describe('an airfield’s report', () => {
  it('FS F-3: wind, gust, bases and temperatures as two readers have them', () => {
    const report = read('EGLL 041250Z 24008G20KT 9999 FEW020 SCT035 BKN080 14/11 Q1013');
    expect(report).toMatchObject({ station: 'EGLL', windFromDeg: 240, airTemperatureC: 14, dewPointC: 11 });
    expect(report.timeMs).toBe(Date.UTC(2026, 5, 4, 12, 50));
    expect(report.windSpeedMs).toBeCloseTo(4.12, 2);
    expect(report.windGustMs).toBeCloseTo(10.29, 2);
    expect(report.clouds.map(({ baseM }) => Math.round(baseM! / 0.3048))).toEqual([2000, 3500, 8000]);
    expect(report.clouds.map(({ leastOktas, mostOktas }) => [leastOktas, mostOktas])).toEqual([
      [1, 2],
      [3, 4],
      [5, 7],
    ]);
    expect(report.pressureHpa).toBe(1013);
    // The humidity of the pair, by WMO's Magnus formula.
    expect(relativeHumidity(14, 11)).toBeCloseTo(0.821, 3);
  });

  it.each([
    ['metres a second', 'EFOU 041250Z 28004MPS CAVOK 16/10 Q0990', 4],
    ['a wind that is not given', 'SVMG 041200Z /////KT 9000 DZ OVC010 27/25 Q1013', null],
    ['a calm', 'LMML 041145Z 00000KT 9999 FEW016 29/21 Q1018', 0],
  ])('knows %s', (_what, text, speed) => expect(read(text).windSpeedMs).toBe(speed));

  it('reads below zero, inches of mercury, and a wind that comes from everywhere', () => {
    const report = read('KSMX 041151Z VRB04KT 10SM CLR M02/M05 A2992');
    expect(report).toMatchObject({ windFromDeg: null, airTemperatureC: -2, dewPointC: -5, clouds: [] });
    expect(report.pressureHpa).toBeCloseTo(1013.2, 1);
  });

  it('takes the nearest day of that number: the 31st seen on the 1st is yesterday', () => {
    expect(read('EGLL 312350Z 24008KT CAVOK 14/11 Q1013', Date.UTC(2026, 5, 1, 0, 10)).timeMs).toBe(
      Date.UTC(2026, 4, 31, 23, 50),
    );
  });

  it.each([
    '',
    'hello world',
    'TAF EGLL 041100Z 0412/0518 24008KT',
    'EGLL 999999Z 24008KT CAVOK 14/11 Q1013',
  ])('refuses %j with a sentence', (text) => {
    const report = readMetar(text, near);
    expect(report.ok).toBe(false);
    if (!report.ok) expect(report.fault.message).toMatch(/expected one METAR/);
  });

  it('reads the real ones of a morning, all but those that say nothing', () => {
    const path = new URL('../../../fixtures/forecast/metar.txt', import.meta.url);
    const lines = readFileSync(path, 'utf8')
      .split('\n')
      .filter((line) => line.startsWith('METAR ') && !line.includes(' NIL'));
    expect(lines.length).toBeGreaterThan(0);
    for (const line of lines) {
      const report = readMetar(line, Date.UTC(2019, 6, 1, 12));
      expect(report.ok, line).toBe(true);
    }
  });
});
