/** Documents of our own that live long: older ones are brought up to date, newer ones refused with a sentence. */
import { refused, told, understood, type Result } from '../../result.ts';

export interface Versions {
  /** Without its number: "tepal/finish-steps". */
  readonly name: string;
  /** The number that is written today. */
  readonly current: number;
  /** From each older number to the next. */
  readonly migrations: Readonly<
    Record<number, (document: Readonly<Record<string, unknown>>) => Record<string, unknown>>
  >;
}

/**
 * The document in today's form; its fields are still to be checked.
 *
 * @param json a parsed JSON value
 * @returns with a warning for each step that an older document was brought up
 */
export function bringUpToDate(json: unknown, versions: Versions): Result<Readonly<Record<string, unknown>>> {
  const { name, current, migrations } = versions;
  const newest = `${name}/${current}`;
  if (typeof json !== 'object' || json === null || Array.isArray(json)) {
    return refused({
      where: 'document',
      found: told(json),
      accepted: `an object with the "schema" ${newest}`,
    });
  }
  let document = json as Readonly<Record<string, unknown>>;
  const schema = document['schema'];
  const found = typeof schema === 'string' ? /^(.+)\/(\d+)$/.exec(schema) : null;
  if (found?.[1] !== name) return refused({ where: 'schema', found: told(schema), accepted: `"${newest}"` });
  let version = Number(found[2]);
  if (version > current) {
    return refused({
      where: 'schema',
      found: `${told(schema)}, which a newer version of Tepal wrote`,
      accepted: `at most "${newest}"; bring Tepal up to date`,
    });
  }
  const warnings: string[] = [];
  while (version < current) {
    const migrate = migrations[version];
    if (migrate === undefined) {
      return refused({
        where: 'schema',
        found: told(schema),
        accepted: `"${newest}" or one that it came from`,
      });
    }
    document = { ...migrate(document), schema: `${name}/${version + 1}` };
    warnings.push(`brought up to date from ${name}/${version}`);
    version += 1;
  }
  return understood(document, warnings);
}
