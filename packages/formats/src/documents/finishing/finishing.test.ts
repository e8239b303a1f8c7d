// Documents that live long: older ones migrated, newer ones refused, wrong fields named.
import { describe, expect, it } from 'vitest';
import { readDone, readEntry, readFinishSteps, readRuleSet } from './read-finishing.ts';
import { bringUpToDate } from './versioned.ts';

const messageOf = (read: { ok: boolean; fault?: { message: string } }) =>
  read.ok ? '' : (read.fault?.message ?? '');

describe('versions', () => {
  const versions = {
    name: 'tepal/example',
    current: 3,
    migrations: {
      1: ({ light, ...rest }: Readonly<Record<string, unknown>>) => ({ ...rest, exposure: light }),
      2: ({ exposure, ...rest }: Readonly<Record<string, unknown>>) => ({ ...rest, exposureStops: exposure }),
    },
  };

  it('brings an older document up step by step, and says so', () => {
    const read = bringUpToDate({ schema: 'tepal/example/1', light: 0.5, kept: true }, versions);
    expect(read).toMatchObject({
      ok: true,
      value: { schema: 'tepal/example/3', exposureStops: 0.5, kept: true },
    });
    if (read.ok) expect(read.warnings).toHaveLength(2);
  });

  it('leaves one of today as it is', () => {
    const today = { schema: 'tepal/example/3', exposureStops: 1 };
    expect(bringUpToDate(today, versions)).toEqual({ ok: true, value: today, warnings: [] });
  });

  it.each([
    [{ schema: 'tepal/example/4' }, /newer version of Tepal wrote.*bring Tepal up to date/],
    [{ schema: 'tepal/example/0' }, /expected "tepal\/example\/3"/],
    [{ schema: 'tepal/other/1' }, /found "tepal\/other\/1"/],
    [{}, /found nothing/],
    [[1], /an object with the "schema"/],
  ])('refuses %j with a sentence', (json, sentence) => {
    expect(messageOf(bringUpToDate(json, versions))).toMatch(sentence);
  });
});

describe('a file of steps', () => {
  const schema = 'tepal/finish-steps/1';

  it('is read, whichever steps it has', () => {
    expect(readFinishSteps({ schema }).ok).toBe(true);
    const all = {
      schema,
      whiteBalance: { kind: 'greyPatch', x: 0.5, y: 0.5, radius: 0.02 },
      exposureStops: -0.3,
      noise: { grain: 0.4, colour: 1 },
      spots: [{ x: 0.1, y: 0.2, radius: 0.01, from: { x: 0.3, y: 0.2 } }],
      framing: { levelDeg: 1.5, crop: { left: 0, top: 0, width: 1, height: 0.8 } },
      fillShade: { stops: 1 },
      background: { calm: 0.4, darkerStops: 0.2, paler: 0.1, subject: [{ x: 0.5, y: 0.5, radius: 0.2 }] },
      tone: { contrast: 1.1, shoulderFrom: 0.7, headroomStops: 1 },
      petals: { ease: 0.3 },
      sharpening: { strength: 1 },
    };
    expect(readFinishSteps(all)).toEqual({ ok: true, value: all, warnings: [] });
  });

  it.each([
    [{ schema, exposureStops: 40 }, /exposureStops: found 40, but expected at most 10/],
    [{ schema, spots: [{ x: 2, y: 0, radius: 0.01 }] }, /spots\.0\.x: found 2/],
    [{ schema, vignette: 1 }, /vignette.*not known/],
    [{ schema, whiteBalance: { kind: 'moonlight' } }, /whiteBalance/],
    [{ schema: 'tepal/finish-steps/2' }, /newer version/],
  ])('%j is refused by the field', (json, sentence) => {
    expect(messageOf(readFinishSteps(json))).toMatch(sentence);
  });
});

describe('rules, lists and entries', () => {
  const rules = {
    schema: 'tepal/rule-set/1',
    name: 'Club',
    pixels: { withinBox: { width: 1600, height: 1200 } },
    whatMayBeDone: { stacked: 'declare', objectRemoved: 'no' },
  };

  it('are read', () => {
    expect(readRuleSet(rules).ok).toBe(true);
    const done = {
      schema: 'tepal/done/1',
      picture: 'a.tif',
      original: null,
      finishedElsewhere: false,
      deeds: [{ deed: 'crop', words: 'cropped' }],
      steps: null,
    };
    expect(readDone(done).ok).toBe(true);
    const entry = {
      schema: 'tepal/entry/1',
      name: 'Spring',
      deadline: '2026-05-01T23:59:00+01:00',
      rules,
      pictures: [{ picture: 'a.tif', title: 'Lily' }],
    };
    expect(readEntry(entry).ok).toBe(true);
    expect(messageOf(readEntry({ ...entry, pictures: [] }))).toMatch(/pictures/);
    expect(messageOf(readEntry({ ...entry, deadline: 'soon' }))).toMatch(/deadline/);
    expect(messageOf(readRuleSet({ ...rules, whatMayBeDone: { stacked: 'perhaps' } }))).toMatch(
      /whatMayBeDone\.stacked/,
    );
  });
});
