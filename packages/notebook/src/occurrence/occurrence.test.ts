import { DomainError } from '@tepal/science';
import { describe, expect, it } from 'vitest';
import { inventedRecord, inventedSite, inventedSubject } from '../../fixtures/invented-things.ts';
import { privatePlaceOfSite } from '../place/private-place.ts';
import { release, type ReleasedPlace, type ReleaseRequest } from '../place/release.ts';
import { fromOccurrence } from './from-occurrence.ts';
import { toOccurrence } from './to-occurrence.ts';

const placed = (request: ReleaseRequest) => {
  const answer = release(privatePlaceOfSite(inventedSite()), request);
  if (!answer.ok) throw new Error(answer.why);
  return answer.place;
};
const secrets = ['Lower hay meadow', '52.34567', '1.23456'];

describe('a record as an occurrence', () => {
  it('has the standard terms, and its place from release', () => {
    const place = placed({ audience: 'public', wish: 'coarse', sensitivity: 'high' });
    expect(toOccurrence(inventedRecord(), inventedSubject(), place, { secrets })).toEqual({
      occurrenceID: 'r1',
      basisOfRecord: 'HumanObservation',
      eventDate: '2026-07-04',
      recordedBy: 'A. Invented',
      identifiedBy: 'A. Invented',
      scientificName: 'Knautia arvensis',
      individualCount: '12',
      occurrenceStatus: 'detected',
      lifeStage: 'flowering',
      associatedTaxa: 'Coccinella septempunctata',
      associatedMedia: `urn:sha256:${'ab'.repeat(32)}`,
      decimalLatitude: '52.35',
      decimalLongitude: '-1.25',
      geodeticDatum: 'EPSG:4326',
      coordinateUncertaintyInMeters: String(place.coordinateUncertaintyInMeters),
      coordinatePrecision: '0.1',
      dataGeneralizations: 'Coordinates generalised to the centre of a geographic grid cell of 0.1 degree.',
      informationWithheld: 'The exact coordinates and the name of the place are withheld; ask the recorder.',
    });
  });

  it('leaves out what names the place elsewhere in the record, and says so', () => {
    const record = inventedRecord({
      remarks: 'By the gate of lower hay meadow, 52.34567.',
      extraTerms: { verbatimCoordinates: '52.34567 -1.23456', locality: 'Lower hay meadow', sex: 'female' },
    });
    const place = placed({ audience: 'club', wish: 'coarse', sensitivity: null });
    const row = toOccurrence(record, inventedSubject(), place, { secrets });
    const text = JSON.stringify(row).toLowerCase();
    for (const secret of secrets) expect(text).not.toContain(secret.toLowerCase());
    expect(row).toMatchObject({ sex: 'female' });
    expect(row['informationWithheld']).toContain('occurrenceRemarks');
  });

  it('has no coordinates where the place is withheld, and keeps all of it for a named exception', () => {
    const record = inventedRecord({
      remarks: 'At Lower hay meadow.',
      extraTerms: { locality: 'Lower hay meadow' },
    });
    const shut = toOccurrence(record, null, placed({ audience: 'public', sensitivity: 'none' }), { secrets });
    expect(Object.keys(shut).filter((term) => /latitude|longitude|datum|locality/i.test(term))).toEqual([]);
    const open = placed({ audience: 'backup', wish: 'exact', sensitivity: 'extreme' });
    expect(toOccurrence(record, null, open, { secrets })).toMatchObject({
      decimalLatitude: '52.34567',
      locality: 'Lower hay meadow',
      occurrenceRemarks: 'At Lower hay meadow.',
    });
  });

  it('accepts no place but a released one', () => {
    const forged = { kind: 'exact', latitudeDeg: 1, longitudeDeg: 2 } as unknown as ReleasedPlace;
    expect(() => toOccurrence(inventedRecord(), null, forged, { secrets })).toThrow(DomainError);
  });
});

describe('an occurrence as a record', () => {
  it('comes back as it went, where the exact place was released', () => {
    const record = inventedRecord({
      subjectId: null,
      siteId: null,
      verbatimName: 'Knautia arvensis',
      certainty: 'likely',
      position: { latitudeDeg: 52.34567, longitudeDeg: -1.23456, altitudeM: null, coordinateUncertaintyM: 8 },
      extraTerms: { sex: 'female' },
    });
    const answer = release(privatePlaceOfSite({ position: record.position!, region: null }), {
      audience: 'ownDevices',
      wish: 'exact',
      sensitivity: 'none',
    });
    if (!answer.ok) throw new Error(answer.why);
    expect(fromOccurrence(toOccurrence(record, null, answer.place, { secrets }), 'other')).toEqual({
      ok: true,
      record,
      notUnderstood: ['sex'],
    });
  });

  it('drops nothing: what it does not understand is kept as it came, and told', () => {
    const read = fromOccurrence(
      {
        occurrenceID: 'urn:x:1',
        scientificName: 'Formica rufa',
        eventDate: '2019',
        decimalLatitude: '95',
        decimalLongitude: '10',
        individualCount: 'many',
        associatedMedia: 'a.jpg',
      },
      'new1',
    );
    if (!read.ok) throw new Error(read.why);
    expect(read.record).toMatchObject({ id: 'new1', verbatimName: 'Formica rufa', position: null });
    expect(read.record.extraTerms).toEqual({
      occurrenceID: 'urn:x:1',
      decimalLatitude: '95',
      decimalLongitude: '10',
      individualCount: 'many',
      associatedMedia: 'a.jpg',
    });
  });

  it('keeps a position on another datum as text', () => {
    const row = {
      scientificName: 'X y',
      eventDate: '2019',
      decimalLatitude: '50',
      decimalLongitude: '5',
      geodeticDatum: 'EPSG:4267',
    };
    const read = fromOccurrence(row, 'n');
    if (!read.ok) throw new Error(read.why);
    expect(read.record.position).toBeNull();
    expect(read.record.extraTerms).toMatchObject({ decimalLatitude: '50', geodeticDatum: 'EPSG:4267' });
  });

  it('says what a row lacks', () => {
    expect(fromOccurrence({ scientificName: 'X y' }, 'n')).toMatchObject({
      ok: false,
      why: expect.stringContaining('record.eventDate') as string,
    });
    expect(fromOccurrence({ eventDate: '2019' }, 'n')).toMatchObject({ ok: false });
  });
});
