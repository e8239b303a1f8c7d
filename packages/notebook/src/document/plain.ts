/** Values of the document as plain copies, and whether two are alike. */

/** A copy without ties to the document: strings, numbers, booleans, null, lists and objects. */
export function plainCopy<T>(value: T): T {
  return value === undefined ? value : (JSON.parse(JSON.stringify(value)) as T);
}

/** Whether two plain values are alike; the order of an object's keys does not matter. */
export function alike(a: unknown, b: unknown): boolean {
  if (Object.is(a, b)) return true;
  if (typeof a !== 'object' || typeof b !== 'object' || a === null || b === null) return false;
  if (Array.isArray(a) !== Array.isArray(b)) return false;
  const keys = Object.keys(a);
  const ofA = a as Record<string, unknown>;
  const ofB = b as Record<string, unknown>;
  return (
    keys.length === Object.keys(b).length &&
    keys.every((key) => Object.hasOwn(ofB, key) && alike(ofA[key], ofB[key]))
  );
}
