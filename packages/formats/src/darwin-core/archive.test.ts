import { readdirSync, readFileSync } from 'node:fs';
import fc from 'fast-check';
import { strToU8, zipSync } from 'fflate';
import { describe, expect, it } from 'vitest';
import { readArchive, readOccurrencesCsv } from './read-archive.ts';
import { darwinCoreTerm, darwinCoreTerms } from './terms.ts';
import { writeArchive } from './write-archive.ts';

const at = (name: string) => new URL(`../../fixtures/darwin-core/${name}`, import.meta.url);
const fixture = (name: string) => new Uint8Array(readFileSync(at(name)));
const folder = (name: string) => {
  const files = readdirSync(at(`folders/${name}/`));
  return zipSync(Object.fromEntries(files.map((file) => [file, fixture(`folders/${name}/${file}`)])));
};
const seed = 20261125;

function read(bytes: Uint8Array) {
  const result = readArchive(bytes);
  if (!result.ok) throw new Error(result.fault.message);
  return result.value;
}
function faultOf(bytes: Uint8Array) {
  const result = readArchive(bytes);
  if (result.ok) throw new Error('read without a fault');
  return result.fault;
}

const dataset = {
  packageId: 'meadow-1',
  title: 'A meadow & its scabious',
  creatorName: 'A. Meadow',
  publishedOn: '2026-06-01',
  language: 'en',
  abstract: 'Records of an invented meadow.',
  rights: 'http://creativecommons.org/publicdomain/zero/1.0/',
};

describe('the terms of Darwin Core', () => {
  it('are those of the standard’s own list, in its order', () => {
    const list = new TextDecoder().decode(fixture('simple_dwc_vertical.csv')).trim().split(/\s+/);
    expect(darwinCoreTerms).toEqual(list);
  });

  it('are known in any case and with their address', () => {
    expect(darwinCoreTerm('http://rs.tdwg.org/dwc/terms/eventDate')).toBe('eventDate');
    expect(darwinCoreTerm('EVENTDATE')).toBe('eventDate');
    expect(darwinCoreTerm('gbifID')).toBeNull();
  });
});

describe('an archive of others', () => {
  it('is read by its descriptor', () => {
    const { occurrences, eml, notUnderstood } = read(fixture('dwca-simple-test-archive.zip'));
    expect(occurrences).toHaveLength(2);
    expect(occurrences[0]).toMatchObject({
      basisOfRecord: 'Observation',
      locality: 'Borneo',
      scientificName: 'tetraodon fluviatilis',
    });
    expect(eml).toContain('<dataset');
    expect(notUnderstood).toEqual([]);
  });

  it.each(['dwca-noheaders-1.zip', 'dwca-noheaders-2.zip', 'dwca-simple-subdir.zip', 'dwca-nometadata.zip'])(
    '%s gives its two occurrences',
    (name) => {
      expect(read(fixture(name)).occurrences).toHaveLength(2);
    },
  );

  it('takes a default for a column that is not there, and for a cell that is empty', () => {
    const whole = read(fixture('dwca-test-default.zip')).occurrences;
    expect(new Set(whole.map((row) => row['country']))).toEqual(new Set(['Belgium']));
    const partial = read(fixture('dwca-partial-default.zip')).occurrences;
    expect(partial.map((row) => row['country'])).toEqual(['France', 'Belgium']);
  });

  it('keeps a comma inside quotes, and uses the descriptor’s defaults of separator and quote', () => {
    const quoted = read(folder('dwca-csv-quote-dir')).occurrences[0];
    expect(quoted?.['basisOfRecord']).toBe('Observation, something');
    expect(read(folder('dwca-meta-default-values')).occurrences[0]?.['locality']).toBe('Borneo');
    expect(read(fixture('dwca-simple-test-archive-enclosed.zip')).occurrences).toHaveLength(2);
  });

  it.each([
    'dwca-simple-csv.zip',
    'dwca-simple-csv-dos.zip',
    'dwca-simple-csv-eml.zip',
    'dwca-simple-csv-notenclosed.zip',
  ])('%s, without a descriptor, is read by its header', (name) => {
    const { occurrences, notUnderstood } = read(fixture(name));
    expect(occurrences).toHaveLength(3);
    expect(occurrences[0]?.['basisOfRecord']).toBeDefined();
    expect(notUnderstood.join(' ')).toContain('column publishingorgkey: not a term of Darwin Core');
  });

  it('reads a description in windows-1252', () => {
    expect(read(folder('dwca-metadata-windows1252-encoding')).eml).not.toContain('\uFFFD');
  });

  it('says that the description named is not there', () => {
    expect(read(folder('dwca-invalid-lacks-metadata')).notUnderstood).toEqual([
      'eml.xml: named in meta.xml, but not in the archive.',
    ]);
  });

  it('is read when its files have another ending than the descriptor says, and this is told', () => {
    const meta = `<archive><core fieldsTerminatedBy="\\t" fieldsEnclosedBy="" ignoreHeaderLines="1"
      rowType="http://rs.tdwg.org/dwc/terms/Occurrence"><files><location>occ.txt</location></files><id index="0"/>
      <field index="1" term="http://rs.tdwg.org/dwc/terms/scientificName"/></core></archive>`;
    const table = strToU8('id,scientificName\n7,Primula veris\n');
    const { occurrences, notUnderstood } = read(zipSync({ 'meta.xml': strToU8(meta), 'occ.csv': table }));
    expect(occurrences).toEqual([{ occurrenceID: '7', scientificName: 'Primula veris' }]);
    expect(notUnderstood).toEqual([
      'occ.txt: named in meta.xml, but not in the archive; occ.csv was taken for it.',
    ]);
  });

  it('is read by its header where that contradicts the descriptor, and this is told', () => {
    const meta = `<archive><core ignoreHeaderLines="1" rowType="http://rs.tdwg.org/dwc/terms/Occurrence">
      <files><location>occ.txt</location></files><id index="0"/>
      <field index="1" term="http://rs.tdwg.org/dwc/terms/scientificName"/>
      <field index="2" term="http://rs.tdwg.org/dwc/terms/kingdom"/></core></archive>`;
    const table = strToU8('occurrenceID,locality,scientificName,kingdom\n7,Meadow,Primula veris,Plantae\n');
    const { occurrences, notUnderstood } = read(zipSync({ 'meta.xml': strToU8(meta), 'occ.txt': table }));
    expect(occurrences).toEqual([
      { occurrenceID: '7', locality: 'Meadow', scientificName: 'Primula veris', kingdom: 'Plantae' },
    ]);
    expect(notUnderstood).toEqual([
      'occ.txt: column 2 is "locality" by its header and "scientificName" by meta.xml; the columns were read by the header.',
    ]);
  });

  it('is refused when the descriptor names a column too many', () => {
    expect(faultOf(folder('dwca-malformed-descriptor')).message).toMatch(
      /occurrence\.txt: found 23\d columns, but expected the 23\d columns that meta\.xml names/,
    );
  });

  it.each([
    ['dwca-simple-test-archive.tgz', 'a gzip file'],
    ['dwca-invalid-simple-two.zip', '2 files (0008333-160118175350007.csv, random_file) and no meta.xml'],
    ['dwca-star-test-archive.zip', 'a core of Taxon'],
  ])('%s is refused with what was found', (name, found) => {
    expect(faultOf(fixture(name)).found).toBe(found);
  });

  it('gives an occurrence the terms of its event', () => {
    const meta = `<archive xmlns="http://rs.tdwg.org/dwc/text/"><core rowType="http://rs.tdwg.org/dwc/terms/Event">
      <files><location>event.csv</location></files><id index="0"/>
      <field index="1" term="http://rs.tdwg.org/dwc/terms/eventDate"/></core>
      <extension rowType="http://rs.tdwg.org/dwc/terms/Occurrence"><files><location>occ.csv</location></files>
      <coreid index="0"/><field index="1" term="http://rs.tdwg.org/dwc/terms/scientificName"/></extension></archive>`;
    const zip = zipSync({
      'meta.xml': strToU8(meta),
      'event.csv': strToU8('e1,2026-06-01\n'),
      'occ.csv': strToU8('e1,Scabiosa columbaria\ne2,Primula veris\n'),
    });
    const { occurrences, notUnderstood } = read(zip);
    expect(occurrences).toEqual([
      { eventDate: '2026-06-01', scientificName: 'Scabiosa columbaria' },
      { scientificName: 'Primula veris' },
    ]);
    expect(notUnderstood).toEqual(['1 occurrences name a core row that is not there.']);
  });
});

describe('a hostile archive', () => {
  it('whose names lead outside is refused', () => {
    for (const name of ['../meta.xml', '/etc/meta.xml', 'C:\\meta.xml', 'a/../../b']) {
      expect(faultOf(zipSync({ [name]: strToU8('x') })).accepted).toBe('names that stay inside the archive');
    }
  });

  it('that unfolds without end is refused before it is unfolded', () => {
    const zip = zipSync({ 'occurrence.txt': new Uint8Array(1_000_000) });
    // The stated size in the central directory, raised to 3 GB.
    const view = new DataView(zip.buffer, zip.byteOffset, zip.byteLength);
    for (let i = 0; i + 4 < zip.length; i += 1) {
      if (view.getUint32(i, true) === 0x02014b50) view.setUint32(i + 24, 3_000_000_000, true);
    }
    expect(faultOf(zip).accepted).toContain('268435456 bytes');
  });

  it('never makes the reader throw, whatever is changed in it', () => {
    const base = fixture('dwca-simple-test-archive.zip');
    const edits = fc.array(fc.tuple(fc.nat(base.length - 1), fc.nat(255)), { minLength: 1, maxLength: 10 });
    fc.assert(
      fc.property(edits, fc.integer({ min: 4, max: base.length }), fc.boolean(), (list, length, cut) => {
        const bytes = base.slice(0, cut ? length : base.length);
        for (const [where, value] of list) if (where < bytes.length) bytes[where] = value;
        readArchive(bytes);
        readOccurrencesCsv(bytes);
      }),
      { seed, numRuns: 300 },
    );
  });
});

describe('an archive of ours', () => {
  it('gives back every row, with tabs and line ends as spaces', () => {
    const text = fc.string({ unit: 'grapheme', maxLength: 20 }).map((s) => s.replace(/\s+/g, ' ').trim());
    const row = fc
      .tuple(fc.uuid(), fc.dictionary(fc.constantFrom(...darwinCoreTerms), text, { maxKeys: 8 }))
      .map(([occurrenceID, terms]) => ({
        ...Object.fromEntries(Object.entries(terms).filter(([, value]) => value !== '')),
        occurrenceID,
      }));
    fc.assert(
      fc.property(fc.array(row, { maxLength: 6 }), (rows) => {
        const { bytes, leftOut } = writeArchive(rows, dataset);
        expect(leftOut).toEqual([]);
        expect(read(bytes).occurrences).toEqual(rows);
        expect(read(bytes).notUnderstood).toEqual([]);
      }),
      { seed, numRuns: 60 },
    );
    const { bytes } = writeArchive([{ occurrenceID: '1', occurrenceRemarks: 'on\tthe\r\nslope' }], dataset);
    expect(read(bytes).occurrences[0]?.['occurrenceRemarks']).toBe('on the slope');
  });

  it('names what it could not hold, and describes itself', () => {
    const { bytes, leftOut } = writeArchive([{ occurrenceID: '1', lensUsed: '100 mm' }], dataset);
    expect(leftOut).toEqual(['lensUsed']);
    expect(read(bytes).eml).toContain('A meadow &amp; its scabious');
  });

  it('keeps either vocabulary of occurrenceStatus as given (FS mistake 13)', () => {
    for (const occurrenceStatus of ['detected', 'notDetected', 'present', 'absent']) {
      const { bytes } = writeArchive([{ occurrenceID: '1', occurrenceStatus }], dataset);
      expect(read(bytes).occurrences[0]?.['occurrenceStatus']).toBe(occurrenceStatus);
    }
  });
});

describe('a table without an archive', () => {
  it('is read by its header, whichever separator it uses', () => {
    for (const cell of [',', ';', '\t']) {
      const table = `\uFEFFscientificName${cell}eventDate\n"Scabiosa ""columbaria"""${cell}2026-06-01\n`;
      const result = readOccurrencesCsv(table);
      expect(result.ok && result.value.occurrences).toEqual([
        { scientificName: 'Scabiosa "columbaria"', eventDate: '2026-06-01' },
      ]);
    }
  });

  it('is refused when no column is a term', () => {
    expect(readOccurrencesCsv('a,b\n1,2')).toMatchObject({ fault: { found: 'columns a, b' } });
    expect(readOccurrencesCsv(Uint8Array.of(0xff, 0xd8, 0xff))).toMatchObject({ ok: false });
  });
});
