/** Reading any of the contract's documents, told apart by its `schema`. */
import * as v from 'valibot';
import { refused, told, understood, type Result } from '../result.ts';
import { blendSchema, type BlendDocument } from './blend.ts';
import { copySchema, type CopyDocument } from './copy.ts';
import { deliverSchema, type DeliverDocument } from './deliver.ts';
import { exposeSchema, type ExposeDocument } from './expose.ts';
import { finishSchema, type FinishDocument } from './finish.ts';
import { learnSchema, type LearnDocument } from './learn.ts';
import { measureSchema, type MeasureDocument } from './measure.ts';
import { recordSchema, type RecordDocument } from './record.ts';
import { swaySchema, type SwayDocument } from './sway.ts';
import { whenSchema, type WhenDocument } from './when.ts';

/** Every document of the contract by its schema string. */
export interface DocumentBySchema {
  'tepal/when/1': WhenDocument;
  'tepal/expose/1': ExposeDocument;
  'tepal/measure/1': MeasureDocument;
  'tepal/blend/1': BlendDocument;
  'tepal/finish/1': FinishDocument;
  'tepal/deliver/1': DeliverDocument;
  'tepal/copy/1': CopyDocument;
  'tepal/record/1': RecordDocument;
  'tepal/learn/1': LearnDocument;
  'tepal/sway/1': SwayDocument;
}

export type DocumentSchema = keyof DocumentBySchema;
export type TepalDocument = DocumentBySchema[DocumentSchema];

const schemas: { readonly [S in DocumentSchema]: v.GenericSchema<unknown, DocumentBySchema[S]> } = {
  'tepal/when/1': whenSchema,
  'tepal/expose/1': exposeSchema,
  'tepal/measure/1': measureSchema,
  'tepal/blend/1': blendSchema,
  'tepal/finish/1': finishSchema,
  'tepal/deliver/1': deliverSchema,
  'tepal/copy/1': copySchema,
  'tepal/record/1': recordSchema,
  'tepal/learn/1': learnSchema,
  'tepal/sway/1': swaySchema,
};

const known = Object.keys(schemas).join(', ');

function isSchema(name: unknown): name is DocumentSchema {
  return typeof name === 'string' && Object.hasOwn(schemas, name);
}

/**
 * Any document of the contract, checked against the schema that it names. Further keys are kept.
 *
 * @param json a parsed JSON value
 * @returns the document, or a fault naming the first field that is not as the contract says
 */
export function readDocument(json: unknown): Result<TepalDocument> {
  if (typeof json !== 'object' || json === null || Array.isArray(json)) {
    return refused({ where: 'document', found: told(json), accepted: 'an object with a "schema"' });
  }
  const name = 'schema' in json ? json.schema : undefined;
  if (!isSchema(name)) {
    return refused({ where: 'schema', found: told(name), accepted: `one of ${known}` });
  }
  return readDocumentOf(name, json);
}

/** A document of one kind, checked against that kind's schema. Further keys are kept. */
export function readDocumentOf<S extends DocumentSchema>(
  name: S,
  json: unknown,
): Result<DocumentBySchema[S]> {
  const schema: v.GenericSchema<unknown, DocumentBySchema[S]> = schemas[name];
  const read = v.safeParse(schema, json, { abortEarly: true });
  if (read.success) return understood(read.output);
  const issue = read.issues[0];
  return refused({
    where: v.getDotPath(issue) ?? 'document',
    found: issue.type === 'regex' ? told(issue.input) : issue.received.replace(/^undefined$/, 'nothing'),
    accepted: issue.type === 'regex' ? issue.message : (issue.expected ?? name),
  });
}
