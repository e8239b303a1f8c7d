/** An entry: pictures in their order for one set of rules, its deadline, and what was entered before. */
import { parseInstantMs, type EntryDocument } from '@tepal/formats';
import { nameByForm, deliveryName, type Named } from './file-name.ts';

/** A picture that went out with an entry once, as it is remembered. */
export interface EnteredBefore {
  readonly entry: string;
  readonly title: string;
  /** Content hash of the picture's original, or of the picture where that is not known. */
  readonly hash: string;
}

/** Names of the files of an entry, in the order of its pictures; names that would fall together are refused. */
export function entryNames(entry: EntryDocument): readonly Named[] {
  const seen = new Map<string, string>();
  return entry.pictures.map((picture, i) => {
    const parts = {
      title: picture.title,
      original: picture.picture,
      creator: entry.creator ?? null,
      scientificName: picture.scientificName ?? null,
      number: i + 1,
      entry: entry.name,
    };
    const form = entry.rules.fileName;
    const named: Named =
      form === undefined ? { ok: true, name: deliveryName(parts), note: null } : nameByForm(parts, form);
    if (!named.ok) return named;
    // Disks that do not tell capitals apart would keep only one of two.
    const key = named.name.toLowerCase();
    const other = seen.get(key);
    if (other !== undefined) {
      return {
        ok: false,
        why: `"${picture.title}" and "${other}" would have the same file name, ${named.name}; give one another title.`,
      };
    }
    seen.set(key, picture.title);
    return named;
  });
}

/** How the deadline stands, as a sentence; null where there is none. */
export function deadlineWords(
  entry: EntryDocument,
  nowMs: number,
): { readonly past: boolean; readonly words: string } | null {
  const deadlineMs = entry.deadline === undefined ? null : parseInstantMs(entry.deadline);
  if (deadlineMs === null) return null;
  const hours = (deadlineMs - nowMs) / 3_600_000;
  if (hours < 0) return { past: true, words: `The deadline, ${entry.deadline ?? ''}, is past.` };
  const left = hours < 48 ? `${Math.floor(hours)} hours` : `${Math.floor(hours / 24)} days`;
  return { past: false, words: `${left} are left until the deadline, ${entry.deadline ?? ''}.` };
}

/** A warning where a picture, or its original, was entered before; null where it was not. */
export function enteredBeforeWords(
  picture: { readonly title: string; readonly hashes: readonly string[] },
  before: readonly EnteredBefore[],
  entryName: string,
): string | null {
  const found = before.find(({ hash, entry }) => entry !== entryName && picture.hashes.includes(hash));
  if (found === undefined) return null;
  const as = found.title === picture.title ? '' : ` as "${found.title}"`;
  return `"${picture.title}" was entered before: ${found.entry}${as}. Many rules allow a picture once.`;
}
