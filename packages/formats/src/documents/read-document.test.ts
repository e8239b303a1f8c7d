import { describe, expect, it } from 'vitest';
import { readDocument } from './read-document.ts';

const deliver = {
  schema: 'tepal/deliver/1',
  output: 'scabious.jpg',
  widthPx: 3840,
  heightPx: 2560,
  profile: 'sRGB',
  bytes: 812_345,
  withheld: ['coordinates: place not asked for'],
};

const copy = {
  schema: 'tepal/copy/1',
  files: [{ source: 'a.jpg', target: 'b/a.jpg', hash: 'sha256:00', result: 'copied', why: null }],
};

describe('a document of the contract', () => {
  it('is read by the schema it names, and keeps keys that the contract does not know', () => {
    const read = readDocument({ ...deliver, quality: 92 });
    expect(read).toMatchObject({ ok: true, value: { ...deliver, quality: 92 } });
  });

  it('is refused with the name found when its schema is unknown', () => {
    expect(readDocument({ schema: 'tepal/deliver/9' })).toMatchObject({
      ok: false,
      fault: { where: 'schema', found: '"tepal/deliver/9"' },
    });
    expect(readDocument([])).toMatchObject({ ok: false, fault: { found: 'a list of 0' } });
    expect(readDocument(null)).toMatchObject({ ok: false, fault: { found: 'null' } });
    expect(readDocument({ schema: 'toString' })).toMatchObject({ ok: false });
  });

  it('is refused with the path of the first field that is wrong, what was found and what is accepted', () => {
    const bad = { ...copy, files: [{ ...copy.files[0], result: 'perhaps' }] };
    expect(readDocument(bad)).toEqual({
      ok: false,
      fault: {
        where: 'files.0.result',
        found: '"perhaps"',
        accepted: '("copied" | "alreadyThere" | "failed")',
        message: 'files.0.result: found "perhaps", but expected ("copied" | "alreadyThere" | "failed").',
      },
    });
    const without = { ...deliver, profile: undefined };
    expect(readDocument(without)).toMatchObject({ fault: { where: 'profile', found: 'nothing' } });
  });

  it('lets no number through that is not finite, and no share outside 0 to 1', () => {
    const hour = {
      time: '2026-06-01T05:00:00+02:00',
      sun: { altitudeDeg: Number.POSITIVE_INFINITY, apparentAltitudeDeg: 4, azimuthDeg: 61 },
      light: { illuminanceLux: 3000, diffuseShare: 1.2 },
    };
    const when = {
      schema: 'tepal/when/1',
      site: { latitudeDeg: 52, longitudeDeg: 0, altitudeM: null },
      forecast: { source: 'x', issuedAt: null, ageH: null },
      hours: [hour],
      windows: [],
      misses: [],
      cautions: [],
    };
    expect(readDocument(when)).toMatchObject({ fault: { where: 'hours.0.sun.altitudeDeg' } });
    const sunny = { ...hour, sun: { ...hour.sun, altitudeDeg: 4 } };
    expect(readDocument({ ...when, hours: [sunny] })).toMatchObject({
      fault: { where: 'hours.0.light.diffuseShare', found: '1.2', accepted: '<=1' },
    });
  });

  it('asks for an offset with every time that is not a camera’s own', () => {
    const when = {
      schema: 'tepal/when/1',
      site: { latitudeDeg: 52, longitudeDeg: 0, altitudeM: null },
      forecast: { source: 'x', issuedAt: '2026-06-01T05:00:00', ageH: null },
      hours: [],
      windows: [],
      misses: [],
      cautions: [],
    };
    expect(readDocument(when)).toMatchObject({
      fault: {
        where: 'forecast.issuedAt',
        found: '"2026-06-01T05:00:00"',
        accepted: 'an ISO 8601 time with an offset',
      },
    });
  });
});
