/** The earliest form of the notebook, of the first trials, and what each of its lists becomes. */
import type { KeptKind } from '../kept/kinds.ts';
import { plainCopy } from './plain.ts';

/*
 * Schema 0 was one document with four lists:
 *   places [{ key, title, lat, lon, remarks }]                      degrees
 *   plants [{ key, latin, english, heightCm, rare }]
 *   wishes [{ key, plant, place, what, done }]
 *   seen   [{ key, plant, place, date, count, remarks }]
 */

/** A thing of today's schema made from an old one. */
export interface CarriedThing {
  readonly kind: KeptKind;
  readonly thing: Record<string, unknown> & { id: string };
}

type Row = Record<string, unknown>;

/** Everything that a document of schema 0 holds, in today's form. A field that the old form did not define stays. */
export function thingsOfSchema0(old: Row): readonly CarriedThing[] {
  return [
    ...carried(old['places'], 'site', ['title', 'lat', 'lon', 'remarks'], (row) => ({
      name: text(row['title']) || 'A place without a name',
      region: null,
      position: {
        latitudeDeg: row['lat'],
        longitudeDeg: row['lon'],
        altitudeM: null,
        coordinateUncertaintyM: null,
      },
      shelter: null,
      slopeDeg: null,
      aspectDeg: null,
      vegetationHeightM: null,
      landform: null,
      access: '',
      cautions: [],
      notes: text(row['remarks']),
    })),
    ...carried(old['plants'], 'subject', ['latin', 'english', 'heightCm', 'rare'], (row) => ({
      scientificName: text(row['latin']) || text(row['english']) || 'Not named',
      commonNames: text(row['english']) === '' ? {} : { en: text(row['english']) },
      heightAboveGroundM: typeof row['heightCm'] === 'number' ? row['heightCm'] / 100 : null,
      sizeMm: null,
      depthMm: null,
      stem: null,
      sway: null,
      opens: 'any',
      months: [],
      // "Rare" said that the place is to be kept, not how closely: the photographer is asked; till then it is kept.
      sensitivity: row['rare'] === true ? 'high' : null,
      notes: '',
    })),
    ...carried(old['wishes'], 'wantedPicture', ['plant', 'place', 'what', 'done'], (row) => ({
      subjectId: row['plant'],
      siteId: row['place'] ?? null,
      title: text(row['what']) || 'A picture',
      framing: '',
      magnification: null,
      light: 'any',
      stillness: 'stirring',
      drops: 'any',
      insects: null,
      notes: '',
      closedBy: row['done'] === true ? 'done' : null,
    })),
    ...carried(old['seen'], 'record', ['plant', 'place', 'date', 'count', 'remarks'], (row) => ({
      subjectId: row['plant'] ?? null,
      verbatimName: row['plant'] === undefined ? 'Not named' : null,
      outingId: null,
      siteId: row['place'] ?? null,
      position: null,
      eventDate: row['date'],
      individualCount: row['count'] ?? null,
      lifeStage: null,
      certainty: null,
      determiner: null,
      recordedBy: null,
      evidence: [],
      associatedSpecies: [],
      remarks: text(row['remarks']),
      extraTerms: {},
    })),
  ];
}

function carried(
  rows: unknown,
  kind: KeptKind,
  known: readonly string[],
  today: (row: Row) => Row,
): readonly CarriedThing[] {
  if (!Array.isArray(rows)) return [];
  return rows.flatMap((row: Row) => {
    if (typeof row['key'] !== 'string') return [];
    const others = Object.entries(row).filter(([field]) => field !== 'key' && !known.includes(field));
    return [{ kind, thing: plainCopy({ ...Object.fromEntries(others), ...today(row), id: row['key'] }) }];
  });
}

function text(value: unknown): string {
  return typeof value === 'string' ? value : '';
}
