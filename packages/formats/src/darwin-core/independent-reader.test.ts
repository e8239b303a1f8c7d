// The archive read by others' libraries alone: unzipped, its XML and its table parsed, by none of our own readers.
import { DOMParser } from '@xmldom/xmldom';
import JSZip from 'jszip';
import Papa from 'papaparse';
import { expect, it } from 'vitest';
import { darwinCoreAddress, darwinCoreTerms } from './terms.ts';
import { writeArchive } from './write-archive.ts';

const rows = [
  {
    occurrenceID: 'r1',
    scientificName: 'Knautia arvensis',
    eventDate: '2026-07-04',
    occurrenceRemarks: 'a "b"\tc',
  },
  {
    occurrenceID: 'r2',
    scientificName: 'Bellis perennis',
    decimalLatitude: '52.345',
    lifeStage: 'flowering',
  },
];

it('an archive is what the text guide of Darwin Core says, down to each term', async () => {
  const { bytes } = writeArchive(rows, {
    ...{
      packageId: 'p',
      title: 'A & B',
      creatorName: 'A. Meadow',
      publishedOn: '2026-07-05',
      language: 'en',
    },
    ...{ abstract: '<none>', rights: 'CC0' },
  });
  const zip = await JSZip.loadAsync(bytes);
  expect(Object.keys(zip.files).sort()).toEqual(['eml.xml', 'meta.xml', 'occurrence.txt']);
  const text = async (name: string) => zip.file(name)!.async('string');
  const xml = async (name: string) =>
    new DOMParser().parseFromString(await text(name), 'text/xml').documentElement!;

  const archive = await xml('meta.xml');
  expect([archive.namespaceURI, archive.localName]).toEqual(['http://rs.tdwg.org/dwc/text/', 'archive']);
  expect(archive.getAttribute('metadata')).toBe('eml.xml');
  const core = archive.getElementsByTagName('core')[0]!;
  expect(core.getAttribute('rowType')).toBe('http://rs.tdwg.org/dwc/terms/Occurrence');
  expect(core.getElementsByTagName('location')[0]!.textContent).toBe('occurrence.txt');
  const fields = [...core.getElementsByTagName('field')].map((field) => ({
    index: Number(field.getAttribute('index')),
    term: field.getAttribute('term')!,
  }));
  const published = new Set(darwinCoreTerms.map(darwinCoreAddress));
  for (const { term } of fields) expect(published).toContain(term);

  const table = Papa.parse<string[]>(await text('occurrence.txt'), {
    ...{ delimiter: '\t', newline: '\n', quoteChar: '\u0000', skipEmptyLines: true },
  });
  expect(table.errors).toEqual([]);
  const body = table.data.slice(Number(core.getAttribute('ignoreHeaderLines')));
  const read = body.map((cells) =>
    Object.fromEntries(
      fields.flatMap(({ index, term }) =>
        cells[index] === '' ? [] : [[term.split('/').at(-1)!, cells[index]!]],
      ),
    ),
  );
  expect(read).toEqual([{ ...rows[0], occurrenceRemarks: 'a "b" c' }, rows[1]]);
  expect(Number(core.getElementsByTagName('id')[0]!.getAttribute('index'))).toBe(0);

  const eml = await xml('eml.xml');
  expect([eml.namespaceURI, eml.localName]).toEqual(['https://eml.ecoinformatics.org/eml-2.2.0', 'eml']);
  // What EML 2.2.0 asks of a data set: title, creator and contact.
  for (const tag of ['title', 'creator', 'contact']) expect(eml.getElementsByTagName(tag)).toHaveLength(1);
  expect(eml.getElementsByTagName('title')[0]!.textContent).toBe('A & B');
});
