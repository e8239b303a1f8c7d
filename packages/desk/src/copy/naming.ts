/** New names by a pattern in plain words, safe on every disk: "{day} {outing} {number}". */
import { DeskFault } from '../files/faults.ts';

/** What a picture's name can be made of. */
export interface NameParts {
  /** The camera's local time, ISO 8601; null where nothing tells it. */
  readonly takenAt: string | null;
  readonly outing: string | null;
  readonly camera: string | null;
  /** Its name on the card, without ending. */
  readonly name: string;
}

const words: Readonly<Record<string, (parts: NameParts) => string>> = {
  year: ({ takenAt }) => takenAt?.slice(0, 4) ?? 'undated',
  month: ({ takenAt }) => takenAt?.slice(5, 7) ?? '',
  day: ({ takenAt }) => takenAt?.slice(0, 10) ?? 'undated',
  time: ({ takenAt }) => takenAt?.slice(11, 19).replaceAll(':', '-') ?? '',
  outing: ({ outing }) => outing ?? '',
  camera: ({ camera }) => camera ?? '',
  number: ({ name }) => /(\d+)\D*$/.exec(name)?.[1] ?? name,
  name: ({ name }) => name,
};

/** The words that a pattern may hold, each in braces. */
export const nameWords: readonly string[] = Object.keys(words);

/** Without a pattern: a folder a day, and the camera's name after the day, which no later card repeats. */
export const DEFAULT_PATTERN = '{day}/{day} {name}';

export type NamePattern = (parts: NameParts) => readonly string[];

/**
 * Reads a pattern of words in braces and plain text; a slash begins a folder.
 *
 * @returns a function from what is known of a picture to its folders and, last, its base name, each safe for every disk
 * @throws DeskFault naming the word that is not known, or when no word tells one picture from the next
 */
export function readPattern(pattern: string): NamePattern {
  for (const [whole, word] of pattern.matchAll(/\{([^{}]*)\}/g)) {
    if (!Object.hasOwn(words, word ?? '')) {
      throw new DeskFault(
        `The pattern holds ${whole}, which is no word of it; it may hold ${nameWords.map((one) => `{${one}}`).join(', ')}.`,
      );
    }
  }
  if (/[{}]/.test(pattern.replace(/\{[^{}]*\}/g, ''))) {
    throw new DeskFault(`The pattern ${pattern} has a brace without its other half.`);
  }
  const levels = pattern.split('/');
  if (!/\{(number|name|time)\}/.test(levels.at(-1) ?? '')) {
    throw new DeskFault(
      `By the pattern ${pattern} all pictures of a day would have one name; its last part needs {number}, {name} or {time}.`,
    );
  }
  return (parts) => {
    const filled = levels.map((level) =>
      safeName(level.replace(/\{(\w+)\}/g, (_, word: string) => words[word]?.(parts) ?? '')),
    );
    const base = filled.pop() ?? '';
    return [
      ...filled.filter((folder) => folder !== ''),
      base === '' ? safeName(parts.name) || 'picture' : base,
    ];
  };
}

/** Names that one system or another keeps for devices. @source Microsoft, "Naming Files, Paths, and Namespaces" */
const RESERVED = /^(con|prn|aux|nul|com\d|lpt\d)(\.|$)/i;

/** Room left in a name for a letter against collisions and for endings [bytes]. */
const MOST_BYTES = 200;

/**
 * One level of a path that every usual disk takes: composed accents, none of the characters that exFAT and Windows
 * refuse, no space or full stop at either end, no name kept for a device, not too long.
 *
 * @returns "" when nothing is left
 * @source exFAT file system specification, section 7.7.3 (characters); Unicode NFC
 */
export function safeName(text: string): string {
  const plain = text
    .normalize('NFC')
    .replace(/[\u0000-\u001f\u007f"*/:<>?\\|]/g, '-')
    .replace(/\s+/g, ' ');
  const short = shortened(plain.replace(/^[\s.]+|[\s.]+$/g, ''), MOST_BYTES).replace(/[\s.]+$/, '');
  return RESERVED.test(short) ? `${short}-` : short;
}

/** Cut between characters as a reader counts them. */
function shortened(text: string, mostBytes: number): string {
  if (Buffer.byteLength(text) <= mostBytes) return text;
  let kept = '';
  for (const { segment } of new Intl.Segmenter('en').segment(text)) {
    if (Buffer.byteLength(kept + segment) > mostBytes) break;
    kept += segment;
  }
  return kept;
}

/** Names count as the same when a disk that knows neither capitals nor ways of writing accents would say so. */
export function sameNameKey(path: string): string {
  return path.normalize('NFC').toLowerCase();
}

/** What sets pictures of one name apart: nothing, then " b", " c" … " z", then " 27", " 28" … */
export function letterOf(turn: number): string {
  if (turn === 0) return '';
  return turn < 26 ? ` ${String.fromCharCode(97 + turn)}` : ` ${turn + 1}`;
}
