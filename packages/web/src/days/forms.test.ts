import { freeSpans } from '@tepal/advice';
import { requireKept } from '@tepal/notebook';
import { describe, expect, it } from 'vitest';
import { freeWords, weeklyEntries } from './free/week-hours.ts';

import { siteOfForm } from './places/site-of-form.ts';
import { typedNumber } from './places/typed-number.ts';
import { positionTyped } from './places/typed-position.ts';
import { subjectOfForm, wantedOfForm } from './wanted/wanted-of-form.ts';

function form(fields: Readonly<Record<string, string | readonly string[]>>): FormData {
  const data = new FormData();
  for (const [name, value] of Object.entries(fields)) {
    for (const one of typeof value === 'string' ? [value] : value) data.append(name, one);
  }
  return data;
}

const position = { latitudeDeg: 51.2, longitudeDeg: -1.9, altitudeM: null, coordinateUncertaintyM: null };

describe('a place as it is typed', () => {
  it('needs a name, a position and a word of shelter only', () => {
    const read = siteOfForm(form({ name: 'Made Bank', shelter: 'hedged' }), {
      id: 'a',
      before: null,
      position,
    });
    expect(read.ok && requireKept('site', read.site)).toMatchObject({
      ...{
        name: 'Made Bank',
        shelter: 'hedged',
        slopeDeg: null,
        landform: null,
        barrier: null,
        cautions: [],
      },
    });
  });

  it('takes the ground, and a hedge with all that its shelter hangs on', () => {
    const fields = {
      ...{ name: 'Made Bank', shelter: 'open', altitudeM: '120,5', slopeDeg: '12', aspect: 'south-west' },
      ...{ landform: 'crest', landformHeightM: '60', landformHalfLengthM: '150', landformBearing: 'west' },
      ...{ barrierHeightM: '3', barrierDistanceM: '8', barrierBearing: 'west', barrierGaps: '0.4' },
      ...{ barrierLengthM: '40', cautions: 'Ticks\n\nA road' },
    };
    const read = siteOfForm(form(fields), { id: 'a', before: null, position });
    expect(read.ok && requireKept('site', read.site)).toMatchObject({
      ...{ aspectDeg: 225, slopeDeg: 12, cautions: ['Ticks', 'A road'] },
      position: { altitudeM: 120.5 },
      landform: { kind: 'crest', heightM: 60, halfLengthM: 150, bearingDeg: 270 },
      barrier: { heightM: 3, distanceM: 8, bearingDeg: 270, porosity: 0.4, halfLengthM: 20 },
    });
  });

  it('is refused with the field and what was found', () => {
    const half = siteOfForm(form({ name: 'x', barrierHeightM: '3' }), { id: 'a', before: null, position });
    expect(!half.ok && half.message).toMatch(/its distance from the plant/);
    const wrong = siteOfForm(form({ name: 'x', slopeDeg: 'steep' }), { id: 'a', before: null, position });
    expect(!wrong.ok && wrong.message).toBe('Expected a number for slope in degrees, but found “steep”.');
  });

  it('may stand in any notation, and is read back', () => {
    expect(positionTyped('SP 12345 67890').saying).toMatch(/^Read as British grid: 5\d\.\d{5}, -1\.\d{5}/);
    expect(positionTyped('52.34567, -1.23456').position?.latitudeDeg).toBe(52.34567);
    expect(positionTyped('over there').position).toBeNull();
    expect(positionTyped('').saying).toBe('');
  });

  it('reads numbers with point or comma, and none where nothing was typed', () => {
    expect(typedNumber(' −1,5 ', 'x')).toEqual({ ok: true, value: -1.5 });
    expect(typedNumber('', 'x')).toEqual({ ok: true, value: null });
  });
});

describe('a wanted picture as it is typed', () => {
  it('brings its subject with it, whose place is kept until one was asked', () => {
    const data = form({
      ...{ commonName: 'made flower', subjectHeightCm: '35', opens: 'needs sun', month: ['6', '7'] },
      ...{
        title: 'Made picture',
        light: 'sun',
        stillness: 'still',
        drops: 'none',
        insects: 'basking',
        site: '',
      },
    });
    const read = subjectOfForm(data, 'u', null);
    expect(read.ok && requireKept('subject', read.value)).toMatchObject({
      ...{ scientificName: 'made flower', heightAboveGroundM: 0.35, months: [6, 7], sensitivity: null },
      opens: 'needs sun',
    });
    const wanted = wantedOfForm(data, { id: 'w', subjectId: 'u', before: null });
    expect(requireKept('wantedPicture', wanted)).toMatchObject({
      ...{ light: 'sun', stillness: 'still', drops: 'none', insects: 'basking', siteId: null },
    });
  });
});

describe('free hours as they are typed', () => {
  const nowMs = Date.parse('2026-06-10T12:00:00Z');
  const at = { nowMs, timeZone: 'Europe/London', idOf: () => 'f' };

  it('repeat every week on their weekday', () => {
    const entries = weeklyEntries({ days: ['Saturday'], fromClock: '05:00', toClock: '09:00' }, at);
    for (const entry of entries) requireKept('freeHours', entry);
    expect(entries.map(freeWords)).toEqual(['Saturday, 5:00 to 9:00, every week']);
    const spans = freeSpans(entries, { fromMs: nowMs, toMs: nowMs + 14 * 86_400_000 });
    expect(spans.map(({ fromMs, toMs }) => (toMs - fromMs) / 3_600_000)).toEqual([4, 4]);
    for (const { fromMs } of spans) expect(new Date(fromMs).getUTCDay()).toBe(6);
  });

  it('reach into the next day where they end before they begin', () => {
    const [entry] = weeklyEntries({ days: ['Monday'], fromClock: '21:00', toClock: '02:00' }, at);
    expect(Date.parse(entry?.to ?? '') - Date.parse(entry?.from ?? '')).toBe(5 * 3_600_000);
  });
});
