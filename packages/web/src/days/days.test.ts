import type { DaysAnswer, WhenDocument, WhenHour } from '@tepal/formats';
import { describe, expect, it } from 'vitest';
import { between, offsetOf, shownHours, splitDays } from './day-split.ts';
import { answerFrom } from './days-answer.ts';
import { ticksOf } from './drawing/frame-ticks.ts';
import { ribbonScale, windLines, writtenHours } from './drawing/ribbon-scale.ts';
import { skyWords } from './drawing/sky-words.ts';

function hourAt(time: string, change: Partial<WhenHour> = {}): WhenHour {
  return {
    time,
    sun: { altitudeDeg: 20, apparentAltitudeDeg: 20, azimuthDeg: 90 },
    light: { illuminanceLux: 10_000, diffuseShare: 1 },
    wind: { forecastMs: 2, forecastHeightM: 10, atPlantMs: 0.4, gustAtPlantMs: 0.8, factors: [] },
    lull: { belowMs: null, shareOfTime: null, meanLengthS: null, expectedWaitS: null },
    air: { temperatureC: 12, relativeHumidity: 0.8, dewPointC: 8 },
    drops: { fromRain: 0, fromDew: 0 },
    insects: null,
    missing: [],
    ...change,
  };
}

function documentOf(hours: readonly WhenHour[], change: Partial<WhenDocument> = {}): WhenDocument {
  return {
    schema: 'tepal/when/1',
    site: { latitudeDeg: 51, longitudeDeg: 0, altitudeM: null },
    forecast: { source: 'made for a test', issuedAt: null, ageH: null },
    hours,
    windows: [],
    misses: [],
    cautions: [],
    ...change,
  };
}

const clock = (hour: number, day = 11) => `2026-06-${day}T${String(hour).padStart(2, '0')}:00:00+01:00`;
const dark = { sun: { altitudeDeg: -20, apparentAltitudeDeg: -20, azimuthDeg: 0 } };

describe('hours put together by day', () => {
  const when = documentOf([hourAt(clock(23)), hourAt(clock(1, 12)), hourAt(clock(5, 12))]);

  it('follow the clock of the place, not UTC', () => {
    expect(splitDays(when).map(({ key, hours }) => [key, hours.length])).toEqual([
      ['2026-06-11', 1],
      ['2026-06-12', 2],
    ]);
  });

  it('take the sun’s hour where nothing is written and the reader is elsewhere', () => {
    const far = documentOf([hourAt('2026-06-11T04:00:00Z')], {
      site: { latitudeDeg: -37, longitudeDeg: 175, altitudeM: null },
    });
    const offset = offsetOf(far);
    expect(Math.abs(offset - 175 * 4)).toBeLessThanOrEqual(150);
  });

  it('are drawn from first light to last, windows included', () => {
    const days = splitDays(
      documentOf(
        Array.from({ length: 24 }, (_, hour) => hourAt(clock(hour), hour < 5 || hour > 20 ? dark : {})),
        {
          windows: [{ wanted: 'a', site: 's', from: clock(3), to: clock(4), suitability: 1, factors: [] }],
        },
      ),
    );
    expect(shownHours(days)).toEqual({ from: 2, to: 20 });
  });

  it('are drawn whole where light never comes', () => {
    const days = splitDays(documentOf([hourAt(clock(3), dark), hourAt(clock(12), dark)]));
    expect(shownHours(days)).toEqual({ from: 0, to: 24 });
  });

  it('are joined by straight lines, and not beyond what is known', () => {
    const [day] = splitDays(
      documentOf([
        hourAt(clock(6), { air: { temperatureC: 10, relativeHumidity: null, dewPointC: null } }),
        hourAt(clock(7), { air: { temperatureC: 14, relativeHumidity: null, dewPointC: null } }),
      ]),
    );
    const at = (iso: string) => between(day?.hours ?? [], Date.parse(iso), (hour) => hour.air.temperatureC);
    expect(at('2026-06-11T06:30:00+01:00')).toBe(12);
    expect(at(clock(7))).toBe(14);
    expect(at(clock(8))).toBeNull();
    expect(at(clock(5))).toBeNull();
  });
});

describe('the words above a ribbon', () => {
  it('say dew and when it dries, and the warmth of the day', () => {
    const dewy = (fromDew: number, temperatureC: number) => ({
      drops: { fromRain: 0, fromDew },
      air: { temperatureC, relativeHumidity: 0.9, dewPointC: 8 },
    });
    const [day] = splitDays(
      documentOf([
        hourAt(clock(5), dewy(0.9, 8)),
        hourAt(clock(8), dewy(0.1, 12)),
        hourAt(clock(14), dewy(0, 19)),
        hourAt(clock(20), dewy(0, 15)),
      ]),
    );
    const words = skyWords(day?.hours ?? [], Date.parse(clock(4)), Date.parse(clock(20)));
    expect(words.map((word) => word.words)).toEqual(['dew likely', 'drying', '19 °C', '16 °C']);
  });
});

describe('the first sentence', () => {
  const days = (when: WhenDocument): DaysAnswer['days'] => [{ siteId: 's', siteName: 'Long Mead', when }];
  const name = () => 'Field scabious';

  it('is the best window, with its weakest point', () => {
    const when = documentOf([hourAt(clock(5))], {
      windows: [
        { wanted: 'w', site: 's', from: clock(18), to: clock(19), suitability: 0.6, factors: [] },
        {
          wanted: 'w',
          site: 's',
          from: clock(5),
          to: clock(7),
          suitability: 0.8,
          factors: [
            { name: 'light', value: 1, why: 'Soft light.' },
            { name: 'stillness', value: 0.8, why: 'The plant is stirring.' },
          ],
        },
      ],
    });
    expect(answerFrom(days(when), name)).toEqual({
      before: 'Thursday, ',
      hours: 'from 5:00 to 7:00',
      after: ', at Long Mead.',
      because: 'Field scabious. The weakest point is stillness. The plant is stirring.',
    });
  });

  it('is the one thing that is missing where no hour suits', () => {
    const when = documentOf([hourAt(clock(5))], {
      misses: [{ wanted: 'w', site: 's', best: clock(5), failing: 'drops', why: 'Dew unlikely.' }],
    });
    expect(answerFrom(days(when), name)?.because).toBe(
      'The nearest is Field scabious at Long Mead, missed by drops. Dew unlikely.',
    );
  });

  it('is none without a site', () => {
    expect(answerFrom([], name)).toBeNull();
  });
});

describe('the scale of the ribbons', () => {
  it('leads from time to place and back, and higher for more wind', () => {
    const scale = ribbonScale(1000, 0, 3_600_000);
    expect(scale.timeOf(scale.xOf(1_234_567))).toBeCloseTo(1_234_567, 3);
    const heights = [0, 0.1, 0.3, 0.8, 2, 9].map((speed) => scale.yOfWind(speed));
    expect(heights).toEqual(heights.toSorted((a, b) => b - a));
  });

  it('leaves room between the four words', () => {
    const ys = windLines(ribbonScale(1000, 0, 1)).map(({ y }) => y);
    ys.slice(1).forEach((y, i) => expect((ys[i] ?? 0) - y).toBeGreaterThan(15));
  });

  it('writes as many hours as there is room for', () => {
    expect(writtenHours(4, 22, 1100)).toEqual([4, 6, 8, 10, 12, 14, 16, 18, 20, 22]);
    expect(writtenHours(4, 22, 280)).toEqual([4, 8, 12, 16, 20]);
  });
});

describe('frames as ticks', () => {
  it('stand on the clock of the place where the camera wrote no offset', () => {
    const [day] = splitDays(documentOf([hourAt(clock(5))]));
    const frame = (takenAt: string | null, largestDelivery: string | null) =>
      ({ id: String(takenAt), takenAt, largestDelivery }) as unknown as Parameters<typeof ticksOf>[0][number];
    expect(
      day &&
        ticksOf(
          [frame('2026-06-11T06:02:00', 'A3'), frame('2026-06-12T06:02:00', null), frame(null, null)],
          day,
        ),
    ).toEqual([{ id: '2026-06-11T06:02:00', timeMs: Date.parse('2026-06-11T06:02:00+01:00'), sharp: true }]);
  });
});
