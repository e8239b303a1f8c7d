import { strToU8, zipSync } from 'fflate';
import Papa from 'papaparse';
import { describe, expect, it } from 'vitest';
import { readChecklist } from './checklist.ts';
import { readOccurrencesCsv } from './read-archive.ts';
import { isoDateOf, RECORDER_COLUMNS, writeRecorderTable, type RecorderRow } from './recorder-columns.ts';

const meta = `<archive xmlns="http://rs.tdwg.org/dwc/text/">
  <core rowType="http://rs.tdwg.org/dwc/terms/Taxon" fieldsTerminatedBy="\\t" ignoreHeaderLines="1">
    <files><location>taxon.txt</location></files><id index="0"/>
    <field index="1" term="http://rs.tdwg.org/dwc/terms/scientificName"/>
    <field index="2" term="http://rs.tdwg.org/dwc/terms/scientificNameAuthorship"/>
    <field index="3" term="http://rs.tdwg.org/dwc/terms/acceptedNameUsageID"/>
    <field index="4" term="http://rs.tdwg.org/dwc/terms/taxonomicStatus"/>
    <field index="5" term="http://rs.tdwg.org/dwc/terms/family"/></core>
  <extension rowType="http://rs.gbif.org/terms/1.0/VernacularName" fieldsTerminatedBy="\\t">
    <files><location>common.txt</location></files><coreid index="0"/>
    <field index="1" term="http://rs.tdwg.org/dwc/terms/vernacularName"/>
    <field index="2" term="http://purl.org/dc/terms/language"/></extension></archive>`;

const archive = zipSync({
  'meta.xml': strToU8(meta),
  'taxon.txt': strToU8(
    'id\tname\tauthor\taccepted\tstatus\tfamily\n' +
      '1\tKnautia arvensis (L.) Coult.\t(L.) Coult.\t\taccepted\tCaprifoliaceae\n' +
      '2\tScabiosa arvensis L.\tL.\t1\tsynonym\tCaprifoliaceae\n' +
      '3\t\t\t\t\t\n' +
      '4\tRubus somebody\t\t\tsynonym\tRosaceae\n',
  ),
  'common.txt': strToU8('1\tfield scabious\ten\n1\tWiesen-Witwenblume\tde\n'),
});

describe('a checklist', () => {
  it('gives names, what they stand for, and common names by language', () => {
    const read = readChecklist(archive);
    if (!read.ok) throw new Error(read.fault.message);
    expect(read.value.names).toEqual([
      {
        ...{ scientificName: 'Knautia arvensis', authorship: '(L.) Coult.', acceptedName: null, rank: null },
        ...{ family: 'Caprifoliaceae', commonNames: { en: ['field scabious'], de: ['Wiesen-Witwenblume'] } },
      },
      expect.objectContaining({ scientificName: 'Scabiosa arvensis', acceptedName: 'Knautia arvensis' }),
      expect.objectContaining({ scientificName: 'Rubus somebody', acceptedName: null }),
    ]);
    expect(read.value.notUnderstood).toEqual([
      '1 rows have no scientificName.',
      '1 synonyms do not say of which name; they count as names of their own.',
    ]);
  });

  it('is read from one table as well', () => {
    const table =
      'taxonID,scientificName,acceptedNameUsage,vernacularName\n1,Bellis perennis,,daisy | lawn daisy\n';
    const read = readChecklist(strToU8(table));
    expect(read).toMatchObject({
      ok: true,
      value: {
        names: [{ scientificName: 'Bellis perennis', commonNames: { und: ['daisy', 'lawn daisy'] } }],
      },
    });
  });

  it('of something else is refused with what was found', () => {
    expect(readChecklist(strToU8('a,b\n1,2\n'))).toMatchObject({
      ok: false,
      fault: { found: 'columns a, b' },
    });
    expect(readChecklist(strToU8('scientificName\n'))).toMatchObject({
      ok: false,
      fault: { found: 'no names' },
    });
  });
});

describe('a recorders’ table', () => {
  const row = Object.fromEntries(RECORDER_COLUMNS.map((column) => [column, ''])) as RecorderRow;

  it('is read alike by an independent reader, whatever stands in it', () => {
    const comment = 'two, "in bud"\non the slope; =1+1 é';
    const csv = writeRecorderTable([
      { ...row, Species: 'Knautia arvensis', Comment: comment, Quantity: '12' },
    ]);
    const parsed = Papa.parse<Record<string, string>>(csv.replace(/^\uFEFF/, ''), {
      header: true,
      skipEmptyLines: true,
    });
    expect(parsed.errors).toEqual([]);
    expect(parsed.meta.fields).toEqual([...RECORDER_COLUMNS]);
    expect(parsed.data).toEqual([{ ...row, Species: 'Knautia arvensis', Comment: comment, Quantity: '12' }]);
  });

  it('is read back by its own names, and by those that others use', () => {
    const own = readOccurrencesCsv(
      writeRecorderTable([{ ...row, Species: 'Bellis perennis', Date: '2026-06-14' }]),
    );
    expect(own).toMatchObject({
      value: {
        occurrences: [{ scientificName: 'Bellis perennis', eventDate: '2026-06-14' }],
        notUnderstood: [],
      },
    });
    const other = readOccurrencesCsv(
      'Taxon,GridRef,Date,Recorder,Mood\nBellis perennis,TQ 388 773,14/06/2026,A. B.,gay\n',
    );
    expect(other).toMatchObject({
      value: {
        occurrences: [
          {
            scientificName: 'Bellis perennis',
            verbatimCoordinates: 'TQ 388 773',
            eventDate: '2026-06-14',
            Mood: 'gay',
          },
        ],
        notUnderstood: ['column Mood: not a term of Darwin Core; its texts were kept under that name.'],
      },
    });
  });

  it('turns day-first dates only', () => {
    expect(['14/06/2026', '1.7.2026', '06/14/2026', 'June 2026'].map(isoDateOf)).toEqual([
      '2026-06-14',
      '2026-07-01',
      '06/14/2026',
      'June 2026',
    ]);
  });
});
