/** A written name against a checklist: accepted, a synonym, a common name, near to some, or unknown. Nothing is refused. */
import type { ChecklistName } from '@tepal/formats';

/** What a written name is. */
export type CheckedName =
  | { readonly kind: 'accepted'; readonly name: ChecklistName }
  /** Another name of a taxon that is called otherwise now. */
  | { readonly kind: 'synonym'; readonly name: ChecklistName; readonly of: string }
  /** A common name of one taxon. */
  | { readonly kind: 'common'; readonly name: ChecklistName; readonly language: string }
  /** A common name of several, or a name misspelt: those that it may be, the nearest first. */
  | { readonly kind: 'near'; readonly names: readonly ChecklistName[] }
  | { readonly kind: 'unknown' };

/** A checklist made ready for looking up. */
export interface NameIndex {
  readonly check: (written: string) => CheckedName;
  /** Common names of a taxon in a language, the usual one first; none where the list has none. */
  readonly commonNames: (scientificName: string, language: string) => readonly string[];
}

const MOST_SUGGESTIONS = 3;

/** Makes a checklist ready. */
export function indexNames(names: readonly ChecklistName[]): NameIndex {
  const scientific = new Map<string, ChecklistName>();
  const common = new Map<string, { readonly name: ChecklistName; readonly language: string }[]>();
  const byInitial = new Map<string, ChecklistName[]>();
  for (const name of names) {
    const key = plain(name.scientificName);
    const known = scientific.get(key);
    // Of homonyms the accepted one counts.
    if (known === undefined || (known.acceptedName !== null && name.acceptedName === null))
      scientific.set(key, name);
    const initial = key.charAt(0);
    byInitial.set(initial, [...(byInitial.get(initial) ?? []), name]);
    for (const [language, all] of Object.entries(name.commonNames)) {
      for (const one of all) common.set(plain(one), [...(common.get(plain(one)) ?? []), { name, language }]);
    }
  }
  const check = (written: string): CheckedName => {
    const key = plain(withoutDoubt(written));
    const exact = scientific.get(key) ?? scientific.get(firstWords(key));
    if (exact !== undefined) {
      if (exact.acceptedName === null) return { kind: 'accepted', name: exact };
      const accepted = scientific.get(plain(exact.acceptedName));
      return { kind: 'synonym', name: accepted ?? exact, of: exact.acceptedName };
    }
    const called = common.get(key) ?? [];
    const [first, ...others] = called;
    if (first !== undefined && others.every(({ name }) => name === first.name))
      return { kind: 'common', ...first };
    if (called.length > 0) return { kind: 'near', names: [...new Set(called.map(({ name }) => name))] };
    return nearest(key, byInitial.get(key.charAt(0)) ?? []);
  };
  return {
    check,
    commonNames: (scientificName, language) => {
      const all = scientific.get(plain(scientificName))?.commonNames ?? {};
      return all[language] ?? all[language.split('-')[0] ?? ''] ?? [];
    },
  };
}

function nearest(key: string, among: readonly ChecklistName[]): CheckedName {
  const most = key.length < 8 ? 1 : 2;
  const found = among
    .map((name) => ({ name, steps: stepsBetween(key, plain(name.scientificName), most) }))
    .filter(({ steps }) => steps <= most)
    .sort((a, b) => a.steps - b.steps)
    .slice(0, MOST_SUGGESTIONS);
  return found.length > 0 ? { kind: 'near', names: found.map(({ name }) => name) } : { kind: 'unknown' };
}

/** Letters in small, one space between words, hybrid signs as x. */
function plain(text: string): string {
  return text
    .normalize('NFC')
    .toLowerCase()
    .replace(/×/g, 'x ')
    .replace(/[‘’]/g, "'")
    .replace(/\s+/g, ' ')
    .trim();
}

/** "Knautia cf. arvensis?" names Knautia arvensis, with doubt. */
function withoutDoubt(text: string): string {
  return text.replace(/\b(cf|aff|agg)\.?(?=\s|$)|\?/gi, ' ');
}

/** Genus, epithet, and the epithet below with its rank: what stands before an authorship. */
function firstWords(key: string): string {
  return /^(\S+ (?:x )?[a-z-]+(?: (?:subsp|ssp|var|f)\.? [a-z-]+)?)/.exec(key)?.[1] ?? key;
}

/** Letters to add, leave out, change or swap, counted up to one more than is of interest. */
function stepsBetween(a: string, b: string, most: number): number {
  if (Math.abs(a.length - b.length) > most) return most + 1;
  let before: number[] = [];
  let above = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const row = [i];
    for (let j = 1; j <= b.length; j++) {
      let steps = Math.min(above[j]! + 1, row[j - 1]! + 1, above[j - 1]! + (a[i - 1] === b[j - 1] ? 0 : 1));
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1])
        steps = Math.min(steps, before[j - 2]! + 1);
      row.push(steps);
    }
    if (Math.min(...row) > most) return most + 1;
    [before, above] = [above, row];
  }
  return above[b.length]!;
}
