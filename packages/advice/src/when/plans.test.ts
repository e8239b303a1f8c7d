import { writeCalendar, type Forecast } from '@tepal/formats';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { kew, madeForecast as forecastFrom } from '../../fixtures/made-forecast.ts';
import { rankAcrossSites } from './window/across-sites.ts';
import { calendarEvents, type CalledPicture } from './calendar-events.ts';
import { freeSpans } from './window/free-hours.ts';
import { hereNow } from './here-now.ts';
import { hoursAtPlant } from './hour/hours.ts';
import { USUAL_PLANT, type PlantPlace } from './place.ts';
import { factorKeysOf, FACTORS, factorsOf, weakest } from './window/factors.ts';
import { hourColumns, judgeHours, needColumns, roomForJudging } from './window/judging.ts';
import { ANY_CLOSE_UP, type WantedHours } from './window/needs.ts';
import { outlookOf } from './window/outlook.ts';
import { partOfDay } from './window/parts-of-days.ts';
import { findWindows } from './window/windows.ts';

const meadow: PlantPlace = { ...kew, ...USUAL_PLANT, vegetationHeightM: 0.5 };
const hourMs = 3_600_000;

const wanted: WantedHours = { ...ANY_CLOSE_UP, id: 'w1' };
const find = (forecast: Forecast, asked: WantedHours[], more = {}) =>
  findWindows({
    siteId: 's1',
    hours: hoursAtPlant(meadow, forecast),
    wanted: asked,
    nowMs: forecast.instants[0]!.timeMs,
    ...more,
  });

describe('judging in columns', () => {
  it('finds the weakest factor that the sentences name', () => {
    const hours = hoursAtPlant(
      meadow,
      forecastFrom('2024-06-01T00:00Z', 48, (i) => ({
        windSpeedMs: (i * 7) % 13,
        cloudShare: ((i * 3) % 11) / 10,
        airTemperatureC: i % 5 === 0 ? null : 8 + (i % 12),
        precipitationMm: i % 7 === 0 ? 0.04 : 0,
      })),
    );
    const columns = hourColumns(hours);
    const room = roomForJudging(hours.length);
    const season = { value: Array.from({ length: 366 }, (_, i) => (i % 10) / 10), basis: 'Made.' };
    fc.assert(
      fc.property(
        fc.record({
          light: fc.constantFrom('soft' as const, 'any' as const, 'sun' as const),
          stillness: fc.constantFrom('still' as const, 'stirring' as const, 'nodding' as const),
          drops: fc.constantFrom('wanted' as const, 'none' as const, 'any' as const),
          insects: fc.constantFrom('torpid' as const, 'basking' as const, 'any' as const, null),
          opens: fc.constantFrom(
            'needs sun' as const,
            'morning' as const,
            'shut by noon' as const,
            'any' as const,
            null,
          ),
          season: fc.constantFrom(season, null),
        }),
        (needs) => {
          const want: WantedHours = { id: 'w', siteId: null, ...needs };
          judgeHours(columns, needColumns(want), room);
          hours.forEach((hour, i) => {
            const deciding = weakest(factorsOf(want, hour));
            expect(room.weakest[i]).toBe(deciding.value);
            const keys = factorKeysOf(want);
            const key = keys[room.failing[i]!];
            if (deciding.value < 1)
              expect(key === undefined ? 'season' : FACTORS[key].name).toBe(deciding.name);
          });
        },
      ),
      { seed: 51, numRuns: 60 },
    );
  });
});

describe('what a flower asks', () => {
  const dull = forecastFrom('2024-06-01T06:00Z', 10);
  const bright = forecastFrom('2024-06-01T06:00Z', 10, () => ({ cloudShare: 0 }));

  it('a flower that needs sun stays shut on the dull day that soft light asks for, and says so', () => {
    const { windows, misses } = find(dull, [{ ...wanted, opens: 'needs sun' }]);
    expect(windows).toEqual([]);
    expect(misses[0]!.failing).toBe('flower open');
    expect(misses[0]!.why).toBe('The flower is shut: it opens in sun alone.');
    expect(misses[0]!.hints[0]).toMatch(/^The flower opens in sun alone and soft light is asked for/);
    expect(find(bright, [{ ...wanted, light: 'sun', opens: 'needs sun' }]).windows.length).toBe(1);
  });

  it('one that shuts by noon has its windows before it', () => {
    const { windows } = find(dull, [{ ...wanted, opens: 'shut by noon' }]);
    expect(windows.map(({ to }) => to <= '2024-06-01T12:30:00Z')).toEqual([true]);
  });

  it('out of season no hour will do', () => {
    const season = { value: new Array<number>(366).fill(0.1), basis: 'From 12 records.' };
    expect(find(dull, [{ ...wanted, season }]).misses[0]).toMatchObject({
      failing: 'season',
      why: 'Out of season. From 12 records.',
    });
  });
});

describe('free hours', () => {
  const morning = {
    from: '2026-03-22T06:00:00+01:00',
    to: '2026-03-22T09:00:00+01:00',
    repeats: 'weekly' as const,
    timeZone: 'Europe/Berlin',
  };
  const march = { fromMs: Date.parse('2026-03-20T00:00Z'), toMs: Date.parse('2026-04-06T00:00Z') };
  const starts = (spans: readonly { fromMs: number }[]) =>
    spans.map(({ fromMs }) => new Date(fromMs).toISOString());

  it('repeat by the clock through its change, which fell on 29 March 2026', () => {
    expect(starts(freeSpans([morning], march))).toEqual([
      '2026-03-22T05:00:00.000Z',
      '2026-03-29T04:00:00.000Z',
      '2026-04-05T04:00:00.000Z',
    ]);
  });

  it('keep their offset without a zone, or with one that is none', () => {
    const [, second] = starts(freeSpans([{ ...morning, timeZone: null }], march));
    expect(second).toBe('2026-03-29T05:00:00.000Z');
    const [, other] = starts(freeSpans([{ ...morning, timeZone: 'Nowhere/At all' }], march));
    expect(other).toBe(second);
  });

  it('are joined where they overlap, cut to the range, and left out where they are none', () => {
    const once = { repeats: 'once' as const };
    const spans = freeSpans(
      [
        { ...once, from: '2026-03-21T10:00:00Z', to: '2026-03-21T14:00:00Z' },
        { ...once, from: '2026-03-21T12:00:00Z', to: '2026-03-21T16:00:00Z' },
        { ...once, from: '2026-03-19T12:00:00Z', to: '2026-03-20T02:00:00Z' },
        { ...once, from: '2026-03-21T12:00:00Z', to: '2026-03-21T11:00:00Z' },
        { ...once, from: 'sunday', to: '2026-03-21T11:00:00Z' },
      ],
      march,
    );
    expect(spans.map(({ fromMs, toMs }) => (toMs - fromMs) / hourMs)).toEqual([2, 6]);
  });

  it('cut windows, and are what fails where the good hours lie outside', () => {
    const forecast = forecastFrom('2024-06-01T06:00Z', 8);
    const span = (fromH: number, toH: number) => ({
      fromMs: Date.parse('2024-06-01T00:00Z') + fromH * hourMs,
      toMs: Date.parse('2024-06-01T00:00Z') + toH * hourMs,
    });
    const [window] = find(forecast, [wanted], { free: [span(7.5, 9.25)] }).windows;
    expect([window!.from, window!.to]).toEqual(['2024-06-01T07:30:00Z', '2024-06-01T09:15:00Z']);
    const { windows, misses } = find(forecast, [wanted], { free: [span(20, 22)] });
    expect(windows).toEqual([]);
    expect(misses[0]).toMatchObject({ failing: 'free hours', value: 0 });
    expect(misses[0]!.why).toBe('This hour suits, but it lies outside your free hours.');
  });
});

describe('past the third day', () => {
  const tenDays = forecastFrom('2024-06-01T00:00Z', 240);

  it('windows are parts of days, in one word', () => {
    const { windows } = find(tenDays, [wanted]);
    const near = windows.filter(({ part }) => part === null);
    const far = windows.filter(({ part }) => part !== null);
    expect(near.every(({ leadH }) => leadH! <= 72)).toBe(true);
    expect(far.length).toBeGreaterThan(10);
    expect(new Set(far.map(({ part }) => part!.word))).toEqual(new Set(['good']));
    expect(
      far.every(({ suitability, factors }) => suitability === Math.min(...factors.map((f) => f.value))),
    ).toBe(true);
  });

  it('the outlook tells good, fair and poor for any close-up where nothing is wanted', () => {
    const windy = forecastFrom('2024-06-01T00:00Z', 240, (i) => ({ windSpeedMs: i > 120 ? 20 : 2 }));
    const outlook = outlookOf({ siteId: 's1', longitudeDeg: 0 }, hoursAtPlant(meadow, windy), []);
    expect(new Set(outlook.map(({ word }) => word))).toEqual(new Set(['good', 'poor']));
    expect(outlook.find(({ word }) => word === 'poor')?.weakest).toBe('stillness');
    expect(outlook[0]!.from >= '2024-06-04T00:00:00Z').toBe(true);
  });

  it('a forecast a week old tells parts of days for today', () => {
    const nowMs = tenDays.instants[0]!.timeMs + 7 * 24 * hourMs;
    const { windows } = find(tenDays, [wanted], { nowMs });
    expect(windows.length).toBeGreaterThan(0);
    expect(windows.every(({ part }) => part !== null)).toBe(true);
  });

  it('has its parts by the sun', () => {
    expect([0, 2.9, 3, 8, 11, 14, 18, 22, 23.9].map(partOfDay)).toEqual([
      ...['night', 'night', 'early', 'morning', 'midday', 'afternoon', 'evening', 'night', 'night'],
    ]);
  });
});

describe('several sites', () => {
  const windy = forecastFrom('2024-06-01T06:00Z', 6, () => ({ windSpeedMs: 14 }));
  const some = forecastFrom('2024-06-01T06:00Z', 6, () => ({ windSpeedMs: 9.5 }));
  const site = (siteId: string, forecast: Forecast, asked = [wanted]) =>
    findWindows({
      siteId,
      hours: hoursAtPlant(meadow, forecast),
      wanted: asked,
      nowMs: forecast.instants[0]!.timeMs,
    });

  it('are ranked by their weakest factor; the nearer of two equals stands first', () => {
    const calm = forecastFrom('2024-06-01T06:00Z', 6);
    const far = { ...calm, issuedAtMs: calm.issuedAtMs! - 60 * hourMs };
    const { windows } = rankAcrossSites([site('far', far), site('nodding', some), site('calm', calm)]);
    expect(windows.map((window) => window.site)).toEqual(['calm', 'far', 'nodding']);
    expect(windows.map(({ rank }) => rank)).toEqual([1, 2, 3]);
  });

  it('miss a picture only where none of them gives it, and tell the nearest miss', () => {
    const breezy = forecastFrom('2024-06-01T06:00Z', 6, () => ({ windSpeedMs: 5.5 }));
    expect(rankAcrossSites([site('windy', windy), site('nodding', some)]).misses).toEqual([]);
    const asked = [{ ...wanted, stillness: 'still' as const }];
    const { misses } = rankAcrossSites([site('windy', windy, asked), site('breezy', breezy, asked)]);
    expect(misses.map((miss) => miss.wanted)).toEqual(['w1']);
  });
});

describe('here and now', () => {
  it('tells the hour, what changes, and when it next suits any close-up', () => {
    const forecast = forecastFrom('2024-06-01T06:00Z', 24, (i) => ({
      windSpeedMs: i < 3 ? 14 : 2,
      precipitationMm: i === 6 ? 2 : 0,
    }));
    const hours = hoursAtPlant(meadow, forecast);
    const found = hereNow(hours, Date.parse('2024-06-01T06:40Z'));
    expect(found.kind).toBe('now');
    if (found.kind !== 'now') return;
    expect(found.words).toMatch(/^Soft, nodding to tossing, dew unlikely.*insects torpid, 12 °C\.$/);
    expect(found.next).toContain('Rain is likely in about 6 h.');
    expect(found.closeUp).toBeNull();
    expect(found.windows[0]!.from).toBe('2024-06-01T09:00:00Z');
  });

  it('says where the forecast does not reach', () => {
    const hours = hoursAtPlant(meadow, forecastFrom('2024-06-01T06:00Z', 3));
    expect(hereNow(hours, Date.parse('2024-06-01T05:00Z')).kind).toBe('notCovered');
    expect(hereNow(hours, Date.parse('2024-06-02T05:00Z')).kind).toBe('notCovered');
    expect(hereNow([], 0).kind).toBe('notCovered');
  });
});

describe('entries for a calendar', () => {
  const { windows } = find(forecastFrom('2024-06-01T06:00Z', 4), [wanted]);
  const picture: CalledPicture = {
    id: 'w1',
    title: 'Orchid at Lower Meadow',
    sensitivity: 'none',
    light: 'soft',
    drops: 'any',
  };
  const secrets = ['Lower Meadow', '51.4779'];

  it('carry the own title of a picture that is not sensitive', () => {
    const [event] = calendarEvents(windows, [{ ...picture, title: 'Orchid in dew' }], secrets);
    expect(event!.title).toBe('Orchid in dew');
  });

  it.each([
    ['a title that names the place', picture],
    ['a sensitive subject', { ...picture, title: 'Orchid in dew', sensitivity: 'high' as const }],
    ['a subject that nobody was asked about', { ...picture, title: 'Orchid in dew', sensitivity: null }],
  ])('give nothing away for %s', (_what, called) => {
    const events = calendarEvents(windows, [called], secrets);
    expect(events.map(({ title }) => title)).toEqual(['Photographs in soft light']);
    const file = writeCalendar(events, { madeAtMs: 0, zone: null });
    expect(file).not.toMatch(/orchid|lower meadow|LOCATION|GEO|51\.4779/i);
    expect(file).toContain('BEGIN:VALARM');
  });

  it('have the same key each time, and one of its own each', () => {
    const keys = (all: typeof windows) => calendarEvents(all, [picture], secrets).map(({ key }) => key);
    expect(keys(windows)).toEqual(keys(windows));
    expect(new Set(keys([...windows, ...windows])).size).toBe(2 * windows.length);
  });
});
