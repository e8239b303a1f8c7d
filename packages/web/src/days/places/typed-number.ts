/** Numbers as they are typed into a form: with point or comma, or left empty. */

export type TypedNumber =
  { readonly ok: true; readonly value: number | null } | { readonly ok: false; readonly message: string };

/**
 * @param typed what stands in the field; empty for not known
 * @param what what the number is and its unit, for the sentence: "altitude in m"
 */
export function typedNumber(typed: string, what: string): TypedNumber {
  const text = typed.trim().replace('−', '-').replace(',', '.');
  if (text === '') return { ok: true, value: null };
  const value = /^[+-]?\d+(\.\d+)?$/.test(text) ? Number(text) : NaN;
  return Number.isFinite(value)
    ? { ok: true, value }
    : { ok: false, message: `Expected a number for ${what}, but found “${typed.trim()}”.` };
}

/** What a form holds under a name, as text; '' where it has no such field. */
export const textOf = (data: FormData, name: string): string => {
  const value = data.get(name);
  return typeof value === 'string' ? value.trim() : '';
};

/** Reads several numbers at once; the first that is none is told. */
export function typedNumbers<K extends string>(
  data: FormData,
  fields: Readonly<Record<K, string>>,
):
  | { readonly ok: true; readonly values: Record<K, number | null> }
  | { readonly ok: false; readonly message: string } {
  const values = {} as Record<K, number | null>;
  for (const name of Object.keys(fields) as K[]) {
    const read = typedNumber(textOf(data, name), fields[name]);
    if (!read.ok) return read;
    values[name] = read.value;
  }
  return { ok: true, values };
}
