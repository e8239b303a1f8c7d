/** The documents of finishing, read: brought up to date first, then checked field by field. */
import * as v from 'valibot';
import { refused, told, understood, type Result } from '../../result.ts';
import { doneSchema, doneVersions, type DoneDocument } from './done.ts';
import { entrySchema, entryVersions, type EntryDocument } from './entry.ts';
import { finishStepsSchema, finishStepsVersions, type FinishStepsDocument } from './finish-steps.ts';
import { ruleSetSchema, ruleSetVersions, type RuleSetDocument } from './rule-set.ts';
import { bringUpToDate, type Versions } from './versioned.ts';

function reader<T>(schema: v.GenericSchema<unknown, T>, versions: Versions) {
  return (json: unknown): Result<T> => {
    const current = bringUpToDate(json, versions);
    if (!current.ok) return current;
    const read = v.safeParse(schema, current.value, { abortEarly: true });
    if (read.success) return understood(read.output, current.warnings);
    const issue = read.issues[0];
    return refused({
      where: v.getDotPath(issue) ?? 'document',
      found:
        issue.type === 'strict_object' && issue.expected === 'never'
          ? 'a field of that name'
          : told(issue.input),
      accepted: acceptedBy(issue),
    });
  };
}

/** What would be accepted, in words where the schema has only a sign for it. */
function acceptedBy(issue: v.BaseIssue<unknown>): string {
  const { expected, requirement } = issue as { expected: string | null; requirement?: unknown };
  if (expected === 'never') return 'none, for it is not known';
  if (typeof requirement === 'number')
    return `${(expected ?? '').replace('>=', 'at least ').replace('<=', 'at most ')}`;
  return expected ?? 'another value';
}

/** A file of steps. @returns a fault for an unknown field too: a step that is not known cannot be done */
export const readFinishSteps: (json: unknown) => Result<FinishStepsDocument> = reader(
  finishStepsSchema as unknown as v.GenericSchema<unknown, FinishStepsDocument>,
  finishStepsVersions,
);

/** The list of what was done to a picture. */
export const readDone: (json: unknown) => Result<DoneDocument> = reader(
  doneSchema as unknown as v.GenericSchema<unknown, DoneDocument>,
  doneVersions,
);

/** A set of rules. */
export const readRuleSet: (json: unknown) => Result<RuleSetDocument> = reader(
  ruleSetSchema as unknown as v.GenericSchema<unknown, RuleSetDocument>,
  ruleSetVersions,
);

/** An entry with its rules. */
export const readEntry: (json: unknown) => Result<EntryDocument> = reader(
  entrySchema as unknown as v.GenericSchema<unknown, EntryDocument>,
  entryVersions,
);
