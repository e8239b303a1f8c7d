// No secret in any byte of what leaves by the ordinary ways, whatever the places, the names, and the notation.
import { strFromU8, unzipSync } from 'fflate';
import fc from 'fast-check';
import { releasedText } from '@tepal/formats';
import {
  change,
  createNotebook,
  exportRecords,
  list,
  privateWords,
  SENSITIVITIES,
  type Notebook,
  type Site,
} from '@tepal/notebook';
import { beforeAll, describe, expect, it } from 'vitest';
import { readyNotebooks } from './notebook-file.ts';
import { confidentialAudience, logSending } from './sendings.ts';

beforeAll(readyNotebooks);

/** Written here anew, so that the test does not look for secrets with the code that hides them. */
const notations: readonly ((lat: number, lon: number) => string)[] = [
  (lat, lon) => `${lat}, ${lon}`,
  (lat, lon) => `${lat.toFixed(4)} ${lon.toFixed(4)}`,
  (lat, lon) => `${String(lat.toFixed(6)).replace('.', ',')}; ${String(lon.toFixed(6)).replace('.', ',')}`,
  (lat, lon) => `${dms(lat, 1)}N ${dms(lon, 1)}E`,
  (lat, lon) => `${dms(lat, 3)}N ${dms(lon, 3)}E`,
  (lat, lon) =>
    `${Math.trunc(lat)}° ${((lat % 1) * 60).toFixed(4)}' N, ${Math.trunc(lon)}° ${((lon % 1) * 60).toFixed(4)}' E`,
  (lat, lon) =>
    `${Math.trunc(lat)},${((lat % 1) * 60).toFixed(6)}N ${Math.trunc(lon)},${((lon % 1) * 60).toFixed(6)}E`,
];

function dms(x: number, digits: number): string {
  const scale = 10 ** digits;
  const all = Math.floor(x * 3600 * scale) / scale;
  const d = Math.floor(all / 3600);
  const m = Math.floor((all - d * 3600) / 60);
  const s = (all - d * 3600 - m * 60).toFixed(digits);
  return `${d}°${String(m).padStart(2, '0')}'${s.padStart(3 + digits, '0')}"`;
}

/** Bytes of a number as a binary format may hold it. */
function binaries(x: number): Uint8Array[] {
  return [true, false].map((little) => {
    const view = new DataView(new ArrayBuffer(8));
    view.setFloat64(0, x, little);
    return new Uint8Array(view.buffer);
  });
}

function holds(bytes: Uint8Array, needle: Uint8Array): boolean {
  return Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength).includes(Buffer.from(needle));
}

/** On a sphere, by the law of cosines. */
function kilometres(a: { lat: number; lon: number }, b: { lat: number; lon: number }): number {
  const [p, q, l] = [a.lat, b.lat, a.lon - b.lon].map((x) => (x * Math.PI) / 180) as [number, number, number];
  return 6371 * Math.acos(Math.min(1, Math.sin(p) * Math.sin(q) + Math.cos(p) * Math.cos(q) * Math.cos(l)));
}

/** Everything that lies in a file: its own bytes, and those of what it holds folded up. */
function layersOf(bytes: Uint8Array): readonly { readonly name: string; readonly bytes: Uint8Array }[] {
  const folded = bytes[0] === 0x50 && bytes[1] === 0x4b ? Object.entries(unzipSync(bytes)) : [];
  return [{ name: '', bytes }, ...folded.map(([name, part]) => ({ name, bytes: part }))];
}

const plain = (text: string) =>
  text
    .replaceAll('&amp;', '&')
    .replaceAll('&quot;', '"')
    .replaceAll('&apos;', "'")
    .replaceAll('""', '"')
    .toLowerCase();

/** Every number of a position in every notation. */
function wordsOf({ position: { latitudeDeg, longitudeDeg } }: Site): string[] {
  return notations.flatMap((write) =>
    write(latitudeDeg, longitudeDeg).split(/[;,] | (?=\d+[°,])|(?<=\d) (?=\d+\.)/),
  );
}

function secretsIn(bytes: Uint8Array, notebook: Notebook, told: ReadonlySet<string> = new Set()): string[] {
  const sites = list(notebook, 'site').filter(({ id }) => !told.has(id));
  return layersOf(bytes).flatMap((layer) => {
    const text = plain(`${layer.name} ${strFromU8(layer.bytes)} ${strFromU8(layer.bytes, true)}`);
    return sites.flatMap((site) => {
      const { latitudeDeg: lat, longitudeDeg: lon } = site.position;
      // What is also a word of a place that may be told is no secret, nor what reads like the middle of a published cell.
      const open = new Set(list(notebook, 'site').flatMap((one) => (told.has(one.id) ? wordsOf(one) : [])));
      const words = [site.name, site.access, ...wordsOf(site)].filter(
        (one) => !open.has(one) && !/^\d+[.,]\d{3}5$/.test(one),
      );
      const found = words.filter((one) => one.length > 4 && text.includes(plain(one)));
      const binary = [lat, lon].flatMap(binaries).some((needle) => holds(layer.bytes, needle));
      return [...found, ...(binary ? [`${site.name} in binary`] : [])];
    });
  });
}

const word = fc.constantFrom(
  'Larkrise',
  'Thornbury',
  'Ashmead',
  'Old Quarry',
  "Miller's Bank",
  'Höhenweg',
  'A & B',
);
const place = fc.record({
  // Six decimals that end in none of a published cell's.
  lat: fc.integer({ min: 50_000_001, max: 58_999_999 }).map((n) => (Math.floor(n / 10) * 10 + 7) / 1e6),
  lon: fc.integer({ min: 1_000_001, max: 9_999_999 }).map((n) => (Math.floor(n / 10) * 10 + 3) / 1e6),
});
const kept = fc.record({
  ...{ name: word, access: word.map((w) => `Behind ${w} barn, third gate.`), place },
  sensitivity: fc.constantFrom(...SENSITIVITIES, null),
  notation: fc.nat(notations.length - 1),
  leak: fc.constantFrom('remarks', 'associated', 'locality', 'none', 'name'),
});

function notebookOf(things: readonly (typeof kept extends fc.Arbitrary<infer T> ? T : never)[]): Notebook {
  return change(createNotebook({ authorId: 'aa' }), { message: 'all', timeMs: 0 }, (pen) => {
    things.forEach((thing, i) => {
      const position = {
        ...{
          latitudeDeg: thing.place.lat,
          longitudeDeg: thing.place.lon,
          altitudeM: null,
          coordinateUncertaintyM: 5,
        },
      };
      const site: Site = {
        ...{ id: `site${i}`, name: `${thing.name} ${i}`, region: 'Middleshire', position, shelter: null },
        ...{ slopeDeg: null, aspectDeg: null, vegetationHeightM: null, landform: null, access: thing.access },
        ...{ cautions: [], notes: '' },
      };
      pen.put('site', site);
      pen.put('subject', {
        ...{ id: `subject${i}`, scientificName: `Planta ${i}`, commonNames: {}, heightAboveGroundM: null },
        ...{ sizeMm: null, depthMm: null, stem: null, sway: null, opens: 'any', months: [], notes: '' },
        sensitivity: thing.sensitivity,
      });
      const written = notations[thing.notation]!(thing.place.lat, thing.place.lon);
      const leaks = (field: string) => thing.leak === field;
      pen.put('record', {
        ...{
          id: `record${i}`,
          subjectId: `subject${i}`,
          verbatimName: null,
          outingId: null,
          siteId: `site${i}`,
        },
        ...{
          position: null,
          eventDate: '2026-07-04',
          individualCount: 3,
          lifeStage: null,
          certainty: 'certain',
        },
        ...{ determiner: 'A. Invented', recordedBy: 'A. Invented', evidence: ['ab'.repeat(32)] },
        associatedSpecies: leaks('associated') ? [`at ${site.name.toUpperCase()}`] : [],
        remarks: leaks('remarks')
          ? `seen at ${written}`
          : leaks('name')
            ? `near ${site.name.replace(' ', '  ')}`
            : '',
        extraTerms: leaks('locality')
          ? { locality: site.name, verbatimCoordinates: written, lens: site.access }
          : {},
      });
    });
  });
}

describe('what leaves for the public', () => {
  it('holds no secret in any byte, as archive or as table, whatever is asked for', () => {
    fc.assert(
      fc.property(
        fc.array(kept, { minLength: 1, maxLength: 4 }),
        fc.constantFrom('none', 'region', 'coarse', 'exact'),
        fc.constantFrom('archive', 'table'),
        fc.constantFrom('public', 'club', 'recorder'),
        (things, wish, as, audience) => {
          const notebook = notebookOf(things);
          const { bytes } = exportRecords(notebook, { wish, as, audience, language: 'en', nowMs: 0 });
          // Where nothing near is sensitive and the exact place was asked for, its own coordinates are what was asked for.
          const free = (thing: (typeof things)[number]) =>
            things.every((other) => other.sensitivity === 'none' || kilometres(thing.place, other.place) > 1);
          const told = new Set(
            wish === 'exact' ? things.flatMap((thing, i) => (free(thing) ? [`site${i}`] : [])) : [],
          );
          expect(secretsIn(bytes, notebook, told)).toEqual([]);
          for (const i of told) {
            const name = list(notebook, 'site').find(({ id }) => id === i)!.name;
            expect(
              plain(
                layersOf(bytes)
                  .map((layer) => strFromU8(layer.bytes))
                  .join(' '),
              ),
            ).not.toContain(plain(name));
          }
        },
      ),
      { seed: 20261125, numRuns: 150 },
    );
  }, 120_000);

  it('gives the same cell for the same place at each export', () => {
    const notebook = notebookOf([
      {
        name: 'Larkrise',
        access: '',
        place: { lat: 52.345677, lon: 1.234563 },
        sensitivity: 'high',
        notation: 0,
        leak: 'none',
      },
    ]);
    const once = exportRecords(notebook, { wish: 'coarse', as: 'table', nowMs: 0 });
    const again = exportRecords(notebook, { wish: 'coarse', as: 'table', nowMs: 1e12 });
    expect(strFromU8(once.bytes)).toBe(strFromU8(again.bytes));
    // FS 8.3: category 2 is the cell of 0.1 degree, given by its middle.
    expect(strFromU8(once.bytes)).toContain(',52.35,1.25,');
    expect(strFromU8(once.bytes)).toContain('geographic grid cell of 0.1 degree');
  });

  it('names the species to ask about, once each', () => {
    const one = {
      name: 'Ashmead',
      access: '',
      place: { lat: 52.1, lon: 1.1 },
      notation: 0,
      leak: 'none',
    } as const;
    const notebook = notebookOf([
      { ...one, sensitivity: null },
      { ...one, sensitivity: 'low' },
    ]);
    expect(exportRecords(notebook, { wish: 'coarse', nowMs: 0 }).toAsk).toEqual(['Planta 0']);
  });
});

describe('a text for a calendar', () => {
  it('is refused where it tells a place, in every notation', () => {
    fc.assert(
      fc.property(kept, (thing) => {
        const secrets = privateWords(notebookOf([thing]));
        const written = notations[thing.notation]!(thing.place.lat, thing.place.lon);
        for (const text of [
          `Soft light at ${written}`,
          `At ${thing.name.toUpperCase()} 0`,
          thing.access.replace(' ', '\n'),
        ]) {
          expect(releasedText(text, secrets).ok, text).toBe(false);
        }
        expect(releasedText('Soft light, little wind', secrets).ok).toBe(true);
      }),
      { seed: 20261125, numRuns: 200 },
    );
  }, 60_000);
});

describe('a confidential export', () => {
  const notebook = () =>
    notebookOf([
      {
        name: 'Larkrise',
        access: '',
        place: { lat: 52.345677, lon: 1.234563 },
        sensitivity: 'extreme',
        notation: 0,
        leak: 'remarks',
      },
    ]);

  it('is refused without its recipient typed again', () => {
    expect(() => confidentialAudience('County recorder', undefined)).toThrow('--confirm "County recorder"');
    expect(() => confidentialAudience('County recorder', 'county')).toThrow('Confirm it');
    expect(() => confidentialAudience(' ', ' ')).toThrow('recipient');
  });

  it('holds the exact place, and stands in the log with what left, when and to whom', () => {
    const begun = notebook();
    const audience = confidentialAudience('County recorder', 'County recorder');
    const sent = exportRecords(begun, { wish: 'exact', audience, as: 'table', nowMs: 0 });
    expect(strFromU8(sent.bytes)).toContain('52.345677');
    expect(sent.exactPlaces).toBe(1);
    const logged = logSending(begun, sent, {
      ...{
        to: 'County recorder',
        what: 'recorders’ table',
        output: '/secret/folder/out.csv',
        nowMs: 1_780_000_000_000,
      },
    });
    expect(list(logged, 'sending')).toMatchObject([
      {
        to: 'County recorder',
        file: 'out.csv',
        recordIds: ['record0'],
        places: 1,
        at: '2026-05-28T20:26:40.000Z',
      },
    ]);
  });
});
