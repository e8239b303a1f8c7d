import type { KeptRecord, Site, Subject, WantedPicture } from '@tepal/notebook';
import { describe, expect, it } from 'vitest';
import { plantPlaceOfSite, seasonOfSubject, wantedHoursAt, type KeptForWhen } from './from-notebook.ts';
import { dayOfEvent, seenOf, type SeenOn } from './season-records.ts';
import { seasonDay, seenFrom, shiftByOrder, shiftByWarmth, surerShift, warmthSums } from './season-year.ts';
import { seasonAt } from './season.ts';

const here = { latitudeDeg: 52, altitudeM: 100 };
const seen = (dayOfYear: number, more: Partial<SeenOn> = {}): SeenOn => ({
  year: 2024,
  dayOfYear,
  latitudeDeg: 52,
  altitudeM: 100,
  ...more,
});
const june = [150, 155, 158, 160, 161, 163, 165, 168, 172, 180].map((day) => seen(day));
const ask = { seen: june, months: [], place: here, year: null };

describe('the season from records', () => {
  it('peaks where the records lie, and falls away from them', () => {
    const season = seasonAt(ask);
    expect(season.kind).toBe('records');
    if (season.kind !== 'records') return;
    expect(Math.abs(season.peakDay - 162)).toBeLessThan(4);
    expect(season.curve.value[161]).toBeGreaterThan(0.7);
    expect(season.curve.value[20]).toBeLessThan(0.3);
    expect(season.onset.kind === 'estimated' && season.onset.day < 150).toBe(true);
  });

  it('says how few the records are, by a band that widens', () => {
    const band = (n: number) => {
      const season = seasonAt({ ...ask, seen: june.slice(0, n) });
      return season.kind === 'records' ? season.peakBandDays : NaN;
    };
    expect(band(1)).toBeGreaterThan(band(10));
    expect(seasonAt({ ...ask, seen: june.slice(0, 2) }).sentences[0]).toMatch(
      /^From 2 records, few: the peak may lie \d+ days either way\.$/,
    );
  });

  it('rests on the months that were typed without a record, and on nothing without either', () => {
    const typed = seasonAt({ ...ask, seen: [], months: [6, 7] });
    expect(typed.kind).toBe('months');
    expect(typed.curve?.value[170]).toBe(1);
    expect(typed.curve?.value[151]).toBe(1); // 1 June
    expect(typed.curve?.value[60]).toBe(0);
    expect(seasonAt({ ...ask, seen: [], months: [] })).toMatchObject({ kind: 'unknown', curve: null });
  });

  it('comes later higher up and nearer to the pole, at the published rates (FS 7)', () => {
    const peak = (place: { latitudeDeg: number; altitudeM: number }) => {
      const season = seasonAt({ ...ask, place });
      return season.kind === 'records' ? season.peakDay : NaN;
    };
    // 2 days: the doubt about the shift widens the kernel, and the peak of uneven records drifts with it.
    expect(Math.abs(peak({ ...here, altitudeM: 1100 }) - peak(here) - 22)).toBeLessThanOrEqual(2);
    expect(Math.abs(peak({ ...here, latitudeDeg: 54 }) - peak(here) - 8)).toBeLessThanOrEqual(2);
  });

  it('goes across the new year, and holds in the southern hemisphere', () => {
    const summer = [350, 355, 360, 3, 8, 12].map((day) => seen(day, { latitudeDeg: -42 }));
    const season = seasonAt({ ...ask, seen: summer, place: { latitudeDeg: -42, altitudeM: 100 } });
    expect(season.curve?.value[0]).toBeGreaterThan(0.7);
    expect(season.curve?.value[181]).toBeLessThan(0.3);
    const poleward = seasonAt({ ...ask, seen: summer, place: { latitudeDeg: -44, altitudeM: 100 } });
    expect(poleward.sentences[1]).toBe('Moved 8 days later for altitude and latitude.');
  });

  it('leaves the records of the other hemisphere out', () => {
    const away = june.map((one) => ({ ...one, latitudeDeg: -52 }));
    expect(seasonAt({ ...ask, seen: away }).kind).toBe('unknown');
  });

  it('has a value for the 366th day', () => {
    for (const season of [seasonAt(ask), seasonAt({ ...ask, seen: [], months: [12, 1] })]) {
      expect(season.curve?.value.length).toBe(366);
      expect(season.curve?.value.every((one) => one >= 0 && one <= 1)).toBe(true);
    }
    expect(seasonAt({ ...ask, seen: [], months: [12] }).curve?.value[365]).toBe(1);
  });
});

describe('how late the year is', () => {
  const years = [2022, 2023, 2024];
  const cowslip = years.map((year, i) => seen(100 + i, { year }));
  const orchid = years.map((year, i) => seen(130 + i, { year }));
  const all = [
    { subjectId: 'cowslip', name: 'cowslip', seen: [...cowslip, seen(111, { year: 2025 })] },
    { subjectId: 'orchid', name: 'early purple orchid', seen: orchid },
  ];

  it('is dated by the one seen open: ten days late, so is the next', () => {
    const shift = shiftByOrder('orchid', all, { year: 2025, dayOfYear: 115 });
    expect(shift?.daysLater).toBeCloseTo(10, 9);
    expect(shift?.why).toBe('About 10 days later than usual, since cowslip is out: the lag of 3 years.');
  });

  it('does not know yet before it was seen, nor without years of both', () => {
    expect(shiftByOrder('orchid', all, { year: 2025, dayOfYear: 105 })).toBeNull();
    expect(shiftByOrder('orchid', [all[0]!, { ...all[1]!, seen: [] }], { year: 2025, dayOfYear: 115 })).toBe(
      null,
    );
  });

  it('goes by its own first sighting once there is one', () => {
    const own = [{ ...all[1]!, seen: [...orchid, seen(126, { year: 2025 })] }, all[0]!];
    expect(shiftByOrder('orchid', own, { year: 2025, dayOfYear: 130 })?.daysLater).toBeCloseTo(-5, 9);
  });

  it('compares what was seen at other altitudes as it would be here', () => {
    const high = { latitudeDeg: 52, altitudeM: 1100 };
    expect(seenFrom([seen(100)], high)[0]!.dayOfYear).toBe(122);
    expect(seenFrom([seen(100, { latitudeDeg: -52 })], high)).toEqual([]);
  });

  it('counts southern years from July, so that no summer is cut in two', () => {
    const day = (year: number, dayOfYear: number) => seasonDay({ year, dayOfYear }, -42);
    expect(day(2024, 182)).toEqual({ year: 2025, dayOfYear: 1 });
    expect(day(2024, 365)).toEqual({ year: 2025, dayOfYear: 184 });
    expect(day(2025, 1)).toEqual({ year: 2025, dayOfYear: 185 });
    expect(seasonDay({ year: 2024, dayOfYear: 200 }, 42)).toEqual({ year: 2024, dayOfYear: 200 });
  });

  it('is told by warmth, and the surer of two stands', () => {
    const usual = warmthSums(Array.from({ length: 150 }, () => ({ lowestC: 5, highestC: 15 })));
    const late = warmthSums(
      Array.from({ length: 100 }, (_, day) =>
        day < 10 ? { lowestC: -5, highestC: 2 } : { lowestC: 5, highestC: 15 },
      ),
    );
    const byWarmth = shiftByWarmth(usual, late);
    expect(byWarmth?.daysLater).toBeCloseTo(10, 6);
    const byOrder = shiftByOrder('orchid', all, { year: 2025, dayOfYear: 115 });
    expect(surerShift(byWarmth, byOrder)?.spreadDays).toBe(
      Math.min(byWarmth!.spreadDays, byOrder!.spreadDays),
    );
    expect(surerShift(null, byWarmth)).toBe(byWarmth);
  });

  it('moves the season', () => {
    const moved = seasonAt({ ...ask, year: { daysLater: 10, spreadDays: 3, why: 'Late.' } });
    const usual = seasonAt(ask);
    const peak = (season: typeof moved) => (season.kind === 'records' ? season.peakDay : NaN);
    expect(Math.abs(peak(moved) - peak(usual) - 10)).toBeLessThanOrEqual(2);
  });
});

const site: Site = {
  id: 'bank',
  name: 'The bank',
  region: null,
  position: { ...here, longitudeDeg: 1, coordinateUncertaintyM: null },
  shelter: 'hedged',
  slopeDeg: 12,
  aspectDeg: 180,
  vegetationHeightM: 0.4,
  landform: { kind: 'crest', heightM: 20, halfLengthM: 80, bearingDeg: 90 },
  barrier: { heightM: 2, porosity: 0.5, distanceM: 10, bearingDeg: 270, halfLengthM: null },
  horizon: [{ azimuthDeg: 90, altitudeDeg: 12 }],
  access: '',
  cautions: [],
  notes: '',
};
const subject: Subject = {
  id: 'orchid',
  scientificName: 'Orchis mascula',
  commonNames: { en: 'early purple orchid' },
  heightAboveGroundM: 0.3,
  sizeMm: 20,
  depthMm: 10,
  stem: null,
  sway: null,
  opens: 'any',
  months: [5],
  sensitivity: null,
  notes: '',
};
const record = (more: Partial<KeptRecord>): KeptRecord => ({
  id: 'r',
  subjectId: 'orchid',
  verbatimName: null,
  outingId: null,
  siteId: 'bank',
  position: null,
  eventDate: '2024-05-02',
  individualCount: 3,
  lifeStage: null,
  certainty: null,
  determiner: null,
  recordedBy: null,
  evidence: [],
  associatedSpecies: [],
  remarks: '',
  extraTerms: {},
  ...more,
});
const wanted: WantedPicture = {
  id: 'w',
  subjectId: 'orchid',
  siteId: null,
  title: 'Orchid in dew',
  framing: '',
  magnification: null,
  light: 'soft',
  stillness: 'still',
  drops: 'wanted',
  insects: null,
  notes: '',
  closedBy: null,
};
const kept: KeptForWhen = {
  sites: [site],
  subjects: [subject],
  wantedPictures: [wanted, { ...wanted, id: 'done', closedBy: 'taken' }],
  records: [record({})],
};

describe('records as sightings', () => {
  it('are those of the subject, out, on a day', () => {
    const days = (more: Partial<KeptRecord>) =>
      seenOf(subject, [record(more)], [site]).map((one) => one.dayOfYear);
    expect(days({})).toEqual([123]);
    expect(days({ eventDate: '2024-05-02T09:30:00+01:00' })).toEqual([123]);
    expect(days({ eventDate: '2024-05' })).toEqual([]);
    expect(days({ individualCount: 0 })).toEqual([]);
    expect(days({ lifeStage: 'fruiting' })).toEqual([]);
    expect(days({ extraTerms: { reproductiveCondition: 'in bud' } })).toEqual([]);
    expect(days({ lifeStage: 'flowering and in bud' })).toEqual([123]);
    expect(days({ subjectId: null, verbatimName: 'Orchis mascula (L.) L.' })).toEqual([123]);
    expect(days({ subjectId: 'other' })).toEqual([]);
  });

  it('take the middle of a short interval, none of a long one; leap days count', () => {
    expect(dayOfEvent('2026-06-14/2026-06-16')).toBe(Date.UTC(2026, 5, 15));
    expect(dayOfEvent('2026-06-14/16')).toBe(Date.UTC(2026, 5, 15));
    expect(dayOfEvent('2026-06-01/2026-06-30')).toBeNull();
    expect(dayOfEvent('2024-02-29')).toBe(Date.UTC(2024, 1, 29));
    expect(dayOfEvent('2023-02-29')).toBeNull();
  });

  it('take an imported elevation where the place has none', () => {
    const imported = record({
      siteId: null,
      position: { latitudeDeg: 50, longitudeDeg: 8, altitudeM: null, coordinateUncertaintyM: 100 },
      extraTerms: { minimumElevationInMeters: '400', maximumElevationInMeters: '600' },
    });
    expect(seenOf(subject, [imported], [site])[0]).toMatchObject({ latitudeDeg: 50, altitudeM: 500 });
  });
});

describe('what a notebook keeps', () => {
  const nowMs = Date.UTC(2026, 4, 1);

  it('becomes a place with its hedge, its landform and its horizon', () => {
    const place = plantPlaceOfSite(site, { plantHeightM: 0.3, altitudeM: null });
    expect(place).toMatchObject({
      plantHeightM: 0.3,
      shelter: 'hedged',
      slopeDeg: 12,
      barrier: site.barrier,
    });
    expect(place.landform).toEqual(site.landform);
    expect(place.horizon?.length).toBe(72);
  });

  it('becomes wanted hours with the habit and the season of their subject, open ones only', () => {
    const [only, ...more] = wantedHoursAt(site, kept, { nowMs });
    expect(more).toEqual([]);
    expect(only).toMatchObject({ id: 'w', opens: 'any', drops: 'wanted' });
    expect(only?.season?.basis).toMatch(/^From 1 record, few/);
    expect(seasonOfSubject(subject, site, { ...kept, records: [] }, { nowMs }).kind).toBe('months');
  });
});
