import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { inventedRecord, inventedSite } from '../../fixtures/invented-things.ts';
import { SENSITIVITIES } from '../kept/subject.ts';
import { privatePlaceOfRecord, privatePlaceOfSite } from './private-place.ts';
import { isReleasedPlace, release, type Audience, type ReleaseRequest } from './release.ts';
import { coordinateWords } from './private-words.ts';

const place = privatePlaceOfSite(inventedSite());
const given = (request: ReleaseRequest, from = place) => {
  const answer = release(from, request);
  if (!answer.ok) throw new Error(answer.why);
  return answer.place;
};
const STRANGERS = ['public', 'club', 'recorder'] as const satisfies readonly Audience[];
const TRUSTED = [
  'ownDevices',
  'backup',
  { confidential: 'County recorder', confirmed: true },
] as const satisfies readonly Audience[];

describe('release', () => {
  it('withholds everything unless it is asked for', () => {
    for (const audience of [...STRANGERS, ...TRUSTED]) {
      const found = given({ audience, sensitivity: 'none' });
      expect(found.kind).toBe('withheld');
      expect(found).not.toHaveProperty('latitudeDeg');
      expect(found.informationWithheld).toContain('withheld');
    }
  });

  // FS G-18 and the published grids of 8.3; low by the same rule.
  it.each([
    ['high', 52.35, -1.25, 0.1],
    ['medium', 52.345, -1.235, 0.01],
    [null, 52.345, -1.235, 0.01],
    ['low', 52.3455, -1.2345, 0.001],
  ] as const)(
    'gives a subject of sensitivity %s its grid cell',
    (sensitivity, latitudeDeg, longitudeDeg, step) => {
      expect(given({ audience: 'public', wish: 'coarse', sensitivity })).toMatchObject({
        kind: 'cell',
        latitudeDeg,
        longitudeDeg,
        coordinatePrecision: step,
        dataGeneralizations: `Coordinates generalised to the centre of a geographic grid cell of ${step} degree.`,
      });
    },
  );

  it('gives no coordinates of an extremely sensitive subject, at most the name of the wider area', () => {
    for (const audience of STRANGERS) {
      expect(given({ audience, wish: 'coarse', sensitivity: 'extreme' }).kind).toBe('withheld');
      const region = given({ audience, wish: 'region', sensitivity: 'extreme' });
      expect(region).toMatchObject({ kind: 'region', regionName: 'Middleshire' });
      expect(region).not.toHaveProperty('latitudeDeg');
    }
  });

  it('refuses the exact place of a sensitive subject by name, and gives it to the named exceptions', () => {
    for (const sensitivity of ['low', 'medium', 'high', 'extreme', null] as const) {
      for (const audience of STRANGERS) {
        expect(release(place, { audience, wish: 'exact', sensitivity })).toMatchObject({
          ok: false,
          refusal: 'exactOfSensitive',
        });
      }
      for (const audience of TRUSTED) {
        expect(given({ audience, wish: 'exact', sensitivity })).toMatchObject({
          kind: 'exact',
          latitudeDeg: 52.34567,
          longitudeDeg: -1.23456,
          coordinateUncertaintyInMeters: 8,
          informationWithheld: null,
        });
      }
    }
  });

  it('refuses a confidential export without a recipient, or without a confirmation', () => {
    const unconfirmed = { confidential: 'Somebody', confirmed: false } as unknown as Audience;
    for (const audience of [unconfirmed, { confidential: ' ', confirmed: true } as const]) {
      expect(release(place, { audience, wish: 'coarse', sensitivity: 'none' })).toMatchObject({
        refusal: 'notConfirmed',
      });
    }
  });

  it('gives the exact place of a subject that needs no care, where it is wished', () => {
    expect(given({ audience: 'public', wish: 'exact', sensitivity: 'none' }).latitudeDeg).toBe(52.34567);
    expect(given({ audience: 'public', wish: 'coarse', sensitivity: 'none' }).coordinatePrecision).toBe(0.01);
    expect(given({ audience: 'public', wish: 'region', sensitivity: 'none' })).toMatchObject({
      latitudeDeg: 52.5,
      longitudeDeg: -1.5,
      regionName: 'Middleshire',
    });
  });

  it('never claims a finer cell than the place is known to', () => {
    const vague = inventedRecord({
      position: {
        latitudeDeg: 52.34567,
        longitudeDeg: -1.23456,
        altitudeM: null,
        coordinateUncertaintyM: 2000,
      },
    });
    const sealed = privatePlaceOfRecord(vague, null)!;
    expect(given({ audience: 'public', wish: 'coarse', sensitivity: 'low' }, sealed)).toMatchObject({
      coordinatePrecision: 0.1,
    });
  });

  it('marks what it gave: a copy is not a released place', () => {
    const found = given({ audience: 'public', wish: 'coarse', sensitivity: 'high' });
    expect(isReleasedPlace(found)).toBe(true);
    expect(isReleasedPlace({ ...found })).toBe(false);
    expect(isReleasedPlace(null)).toBe(false);
    expect(Object.isFrozen(found)).toBe(true);
  });

  it('keeps a private place shut to prints and logs', () => {
    expect(JSON.stringify({ place })).toBe('{"place":"a private place"}');
    expect(`${String(place)} ${JSON.stringify(Object.entries(place))}`).not.toMatch(/52|1\.23/);
  });
});

describe('release, for any place and any audience that is no exception', () => {
  const anywhere = fc.record({
    // Seven decimals that no cell's middle could have by chance.
    latitude: fc
      .integer({ min: -89, max: 88 })
      .chain((d) => fc.integer({ min: 1, max: 9_999_999 }).map((f) => d + f / 1e7)),
    longitude: fc
      .integer({ min: -180, max: 178 })
      .chain((d) => fc.integer({ min: 1, max: 9_999_999 }).map((f) => d + f / 1e7)),
    altitude: fc.integer({ min: 1000, max: 8000 }),
    sensitivity: fc.constantFrom(...SENSITIVITIES.slice(1), null),
    audience: fc.constantFrom(...STRANGERS),
    wish: fc.constantFrom('none' as const, 'region' as const, 'coarse' as const, 'exact' as const),
  });
  const sealedAt = (latitudeDeg: number, longitudeDeg: number, altitudeM: number) =>
    privatePlaceOfSite(
      inventedSite({ position: { latitudeDeg, longitudeDeg, altitudeM, coordinateUncertaintyM: 7.25 } }),
    );

  it('writes no digits of the exact coordinates beyond what it released, in any notation', () => {
    fc.assert(
      fc.property(anywhere, ({ latitude, longitude, altitude, sensitivity, audience, wish }) => {
        const answer = release(sealedAt(latitude, longitude, altitude), { audience, wish, sensitivity });
        const text = JSON.stringify(answer);
        const position = {
          latitudeDeg: latitude,
          longitudeDeg: longitude,
          altitudeM: altitude,
          coordinateUncertaintyM: null,
        };
        for (const word of coordinateWords(position)) expect(text).not.toContain(word);
        for (const exact of [latitude, longitude]) {
          for (const decimals of [5, 6, 7]) expect(text).not.toContain(Math.abs(exact).toFixed(decimals));
        }
        expect(text).not.toContain('7.25');
        expect(text).not.toContain('altitude');
      }),
      { seed: 20260614, numRuns: 2000 },
    );
  });

  it('says the same of every place in a cell, so that many records tell no more than one', () => {
    fc.assert(
      fc.property(anywhere, fc.double({ min: 0.001, max: 0.999, noNaN: true }), (at, share) => {
        const decimals = ({ low: 3, medium: 2, high: 1, extreme: 0, none: 2 } as const)[
          at.sensitivity ?? 'medium'
        ];
        const n = 10 ** (at.wish === 'region' ? 0 : decimals);
        const within = (x: number) => (Math.floor(x * n) + share) / n;
        const request = { audience: at.audience, wish: at.wish, sensitivity: at.sensitivity };
        expect(release(sealedAt(within(at.latitude), within(at.longitude), 1), request)).toEqual(
          release(sealedAt(at.latitude, at.longitude, at.altitude), request),
        );
      }),
      { seed: 20260614, numRuns: 1000 },
    );
  });
});
