import type { WhenDocument, WhenHour } from '@tepal/formats';
import { describe, expect, it } from 'vitest';
import { between, nearDays, offsetOf, shownHours, splitDays } from './day-split.ts';
import type { Overview, PlacedWindow } from './compute/worker-messages.ts';
import { answerFrom } from './days-answer.ts';
import { ticksOf } from './drawing/frame-ticks.ts';
import { lullWords } from './ribbon/lull-words.ts';
import { bestOfPart } from './later/outlook-parts.ts';
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

const window = (change: Partial<PlacedWindow>): PlacedWindow => ({
  ...{ wanted: 'w', site: 's', from: clock(5), to: clock(7), suitability: 0.8, factors: [] },
  ...{ best: clock(5), weakest: '', lull: null, part: null, leadH: 10, hints: [] },
  ...{ rank: 1, trusted: 0.8, siteName: 'Long Mead', offsetMin: 60 },
  ...change,
});

const overview = (change: Partial<Overview> = {}): Overview => ({
  ...{ sites: [], windows: [], windowCount: 0, misses: [], seasons: [] },
  ...{ madeAtMs: 0, engineAnswered: false },
  ...change,
});

describe('the first sentence', () => {
  const name = (id: string) => (id === 'w' ? 'Field scabious' : 'Ladybird');

  it('is the best window, with its weakest point', () => {
    const best = window({
      factors: [
        { name: 'light', value: 1, why: 'Soft light.' },
        { name: 'stillness', value: 0.8, why: 'The plant is stirring.' },
      ],
    });
    const windows = [best, window({ from: clock(18), to: clock(19) }), window({ wanted: 'v' })];
    expect(answerFrom(overview({ windows }), name)).toEqual({
      before: 'Thursday, ',
      hours: 'from 5:00 to 7:00',
      after: ', at Long Mead.',
      because: 'Field scabious and Ladybird. The weakest point is stillness. The plant is stirring.',
    });
  });

  it('names no hours past the third day, only a part of the day and how it looks', () => {
    const part = { date: '2026-06-11', part: 'early' as const, word: 'fair' as const };
    const said = answerFrom(overview({ windows: [window({ part })] }), name);
    expect([said?.before, said?.hours, said?.after]).toEqual([
      'Thursday 11 June, ',
      'early',
      ', looks fair at Long Mead.',
    ]);
  });

  it('is the one thing that is missing where no hour suits, of the nearest picture', () => {
    const miss = { wanted: 'w', site: 's', best: clock(5), hints: [], siteName: 'Long Mead', offsetMin: 60 };
    const misses = [
      { ...miss, wanted: 'v', failing: 'light', why: 'Hard.', value: 0.1 },
      { ...miss, failing: 'drops', why: 'Dew unlikely.', value: 0.4 },
    ];
    expect(answerFrom(overview({ misses }), name)?.because).toBe(
      'The nearest is Field scabious at Long Mead, missed by drops. Dew unlikely.',
    );
  });

  it('is of use with no picture in mind', () => {
    const found = window({ wanted: 'any' });
    const { siteName, offsetMin } = found;
    const site = {
      ...{ siteId: 's', siteName, offsetMin, untilMs: 0, best: null, cautions: [], fault: null },
      forecast: { source: 'made for a test', issuedAt: null, ageH: null },
      here: {
        ...{ kind: 'now' as const, time: clock(4), words: '', next: [], closeUp: null },
        windows: [
          { ...found, suitability: 0.6 },
          { ...found, from: clock(19), to: clock(20) },
        ],
      },
    };
    expect(answerFrom(overview({ sites: [site] }), name)?.hours).toBe('from 19:00 to 20:00');
  });

  it('is none without a forecast', () => {
    expect(answerFrom(overview(), name)).toBeNull();
  });
});

describe('days past the third', () => {
  it('say the best word of a part, and what it holds for', () => {
    const part = (wanted: string, word: 'good' | 'fair' | 'poor') => ({
      ...{ date: '2026-06-14', part: 'early' as const, from: clock(3, 14), to: clock(8, 14) },
      ...{ wanted, word, weakest: 'light', why: '' },
    });
    const found = bestOfPart([part('a', 'poor'), part('b', 'good'), part('c', 'good')], 'early');
    expect([found?.word, found?.best.map(({ wanted }) => wanted)]).toEqual(['good', ['b', 'c']]);
    expect(bestOfPart([], 'early')).toBeNull();
  });

  it('have no ribbon', () => {
    const when = documentOf([hourAt(clock(5), { leadH: 12 }), hourAt(clock(5, 14), { leadH: 84 })]);
    expect(nearDays(when, 60).map(({ key }) => key)).toEqual(['2026-06-11']);
  });
});

describe('lulls in words', () => {
  it('are no finer than they are worth', () => {
    const lull = { belowMs: 0.2, shareOfTime: 0.6, meanLengthS: 12.3, expectedWaitS: 3.2 };
    expect(lullWords(lull)).toBe(
      'Below 0.2 m/s 60 % of the time: lulls of about 10 s, about 3 s to wait for one.',
    );
    expect(lullWords({ ...lull, shareOfTime: 1 })).toBe(
      'Hardly a moment above 0.2 m/s: nothing to wait for.',
    );
    expect(lullWords({ ...lull, belowMs: null })).toBe('How long the lulls are is not known.');
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
