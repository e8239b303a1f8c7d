import type { ChecklistName } from '@tepal/formats';
import { beforeAll, describe, expect, it } from 'vitest';
import { inventedRecord, inventedSubject, startInNode } from '../../fixtures/invented-things.ts';
import { change } from '../document/change.ts';
import { find, list } from '../document/look-up.ts';
import { createNotebook } from '../document/notebook.ts';
import { indexNames } from './check-name.ts';
import { matchRecords, nameForReader, speciesToAsk } from './match-records.ts';

beforeAll(startInNode);

const name = (scientificName: string, more: Partial<ChecklistName> = {}): ChecklistName => ({
  ...{ scientificName, authorship: null, acceptedName: null, rank: null, family: null, commonNames: {} },
  ...more,
});
const index = indexNames([
  name('Knautia arvensis', { commonNames: { en: ['field scabious'], de: ['Wiesen-Witwenblume'] } }),
  name('Scabiosa arvensis', { acceptedName: 'Knautia arvensis' }),
  name('Scabiosa columbaria', { commonNames: { en: ['small scabious', 'scabious'] } }),
  name('Succisa pratensis', { commonNames: { en: ['scabious'] } }),
  name('Mentha × piperita'),
]);

describe('a written name', () => {
  it.each([
    ['Knautia arvensis', 'accepted', 'Knautia arvensis'],
    ['  knautia  ARVENSIS (L.) Coult.', 'accepted', 'Knautia arvensis'],
    ['Knautia cf. arvensis', 'accepted', 'Knautia arvensis'],
    ['Scabiosa arvensis', 'synonym', 'Knautia arvensis'],
    ['Field Scabious', 'common', 'Knautia arvensis'],
    ['Mentha x piperita', 'accepted', 'Mentha × piperita'],
  ])('%j is %s: %s', (written, kind, found) => {
    const checked = index.check(written);
    expect(checked.kind).toBe(kind);
    expect('name' in checked ? checked.name.scientificName : null).toBe(found);
  });

  it('that is misspelt, or common to several, is told with what it may be', () => {
    const of = (written: string) => {
      const checked = index.check(written);
      return checked.kind === 'near'
        ? checked.names.map(({ scientificName }) => scientificName)
        : checked.kind;
    };
    expect(of('Knautia arvenssis')).toEqual(['Knautia arvensis']);
    expect(of('Scabiosa columbraia')).toEqual(['Scabiosa columbaria']);
    expect(of('scabious')).toEqual(['Scabiosa columbaria', 'Succisa pratensis']);
    expect(of('Rosa canina')).toBe('unknown');
  });

  it('has common names by language, the base language for a region of it', () => {
    expect(index.commonNames('Knautia arvensis', 'de-AT')).toEqual(['Wiesen-Witwenblume']);
    expect(nameForReader(inventedSubject(), 'en-GB')).toBe('field scabious');
    expect(nameForReader(inventedSubject(), 'fr')).toBe('Knautia arvensis');
  });
});

describe('records of a free name', () => {
  it('get their subject once a checklist knows the name; the others stay as written', () => {
    const free = (id: string, verbatimName: string) => inventedRecord({ id, subjectId: null, verbatimName });
    const begun = change(createNotebook(), { message: 'seen', timeMs: 0 }, (pen) => {
      pen.put('subject', inventedSubject({ sensitivity: null }));
      pen.put('record', free('r1', 'Scabiosa arvensis'));
      pen.put('record', free('r2', 'Succisa pratensis'));
      pen.put('record', free('r3', 'some small blue one'));
    });
    let made = 0;
    const { notebook, names } = matchRecords(begun, index, {
      ...{ language: 'en', newId: () => `new${(made += 1)}`, note: { message: 'names', timeMs: 0 } },
    });
    expect(find(notebook, 'record', 'r1')).toMatchObject({
      subjectId: 'scabious',
      verbatimName: 'Scabiosa arvensis',
    });
    expect(find(notebook, 'subject', find(notebook, 'record', 'r2')?.subjectId ?? '')).toMatchObject({
      ...{ scientificName: 'Succisa pratensis', commonNames: { en: 'scabious' }, sensitivity: null },
    });
    expect(find(notebook, 'record', 'r3')?.subjectId).toBeNull();
    expect(names.map(({ written, subject }) => [written, subject])).toEqual([
      ['Scabiosa arvensis', 'Knautia arvensis'],
      ['Succisa pratensis', 'Succisa pratensis'],
      ['some small blue one', null],
    ]);
    expect(list(notebook, 'subject')).toHaveLength(2);
    expect(
      speciesToAsk(notebook)
        .map(({ scientificName }) => scientificName)
        .sort(),
    ).toEqual(['Knautia arvensis', 'Succisa pratensis']);
  });
});
