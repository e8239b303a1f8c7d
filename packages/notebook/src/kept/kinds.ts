/** What a notebook keeps: each kind with its schema, the key it lies under, and how its fields merge. */
import type { Delivery } from './delivery.ts';
import { deliverySchema } from './delivery.ts';
import type { Evidence } from './evidence.ts';
import { evidenceSchema } from './evidence.ts';
import type { FreeHours } from './free-hours.ts';
import { freeHoursSchema } from './free-hours.ts';
import type { KitPart } from './kit.ts';
import { kitSchema } from './kit.ts';
import type { Outing } from './outing.ts';
import { outingSchema } from './outing.ts';
import type { KeptRecord } from './record.ts';
import { recordSchema } from './record.ts';
import type { Sending } from './sending.ts';
import { sendingSchema } from './sending.ts';
import type { SetUp } from './set-up.ts';
import { setUpSchema } from './set-up.ts';
import type { Site } from './site.ts';
import { siteSchema } from './site.ts';
import type { Subject } from './subject.ts';
import { subjectSchema } from './subject.ts';
import type { WantedPicture } from './wanted-picture.ts';
import { wantedPictureSchema } from './wanted-picture.ts';

/** The type of each kind of kept thing. */
export interface KeptByKind {
  readonly site: Site;
  readonly subject: Subject;
  readonly wantedPicture: WantedPicture;
  readonly kit: KitPart;
  readonly outing: Outing;
  readonly setUp: SetUp;
  readonly record: KeptRecord;
  readonly freeHours: FreeHours;
  readonly delivery: Delivery;
  readonly evidence: Evidence;
  readonly sending: Sending;
}

export type KeptKind = keyof KeptByKind;

/**
 * The kinds, in the order of the job.
 *
 * Fields merge one by one. A value with parts (a position, an exposure) is one field and is never mixed from two
 * devices. `prose` fields merge by letter, `maps` by key, lists by entry; in all others the later of two concurrent
 * writings shows and the other stays reachable as a conflict.
 */
export const KINDS = {
  site: { schema: siteSchema, prose: ['access', 'notes'], maps: [] },
  subject: { schema: subjectSchema, prose: ['notes'], maps: ['commonNames'] },
  wantedPicture: { schema: wantedPictureSchema, prose: ['framing', 'notes'], maps: [] },
  kit: { schema: kitSchema, prose: ['notes'], maps: [] },
  outing: { schema: outingSchema, prose: ['notes'], maps: [] },
  setUp: { schema: setUpSchema, prose: ['notes'], maps: [] },
  record: { schema: recordSchema, prose: ['remarks'], maps: ['extraTerms'] },
  freeHours: { schema: freeHoursSchema, prose: [], maps: [] },
  delivery: { schema: deliverySchema, prose: ['notes'], maps: [] },
  evidence: { schema: evidenceSchema, prose: ['notes'], maps: ['frames'] },
  sending: { schema: sendingSchema, prose: ['notes'], maps: [] },
} as const satisfies Record<KeptKind, { schema: unknown; prose: readonly string[]; maps: readonly string[] }>;

/** The kinds' names, in the order of the job. */
export const KEPT_KINDS = Object.keys(KINDS) as readonly KeptKind[];
