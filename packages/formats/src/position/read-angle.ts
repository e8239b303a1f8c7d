/** Latitude and longitude in degrees, as people write them. */

/** Two angles as written, before it is known which is which. */
export interface WrittenAngle {
  /** With its sign by minus or by S and W [°]. */
  readonly degrees: number;
  /** Which one the hemisphere letter says it is; null without a letter. */
  readonly axis: 'latitude' | 'longitude' | null;
  /** The last written place [°]: how exact the writing is. */
  readonly lastPlaceDeg: number;
}

export type AnglesRead =
  | { readonly kind: 'angles'; readonly angles: readonly [WrittenAngle, WrittenAngle] }
  /** It looks like degrees, but something in it cannot be. */
  | { readonly kind: 'wrong'; readonly why: string }
  | { readonly kind: 'none' };

const DEGREE = '(?:°|º|˚|deg(?:rees?)?\\b\\.?)';
const MINUTE = "(?:['’′‘´]|min(?:utes?)?\\b\\.?)";
const SECOND = "(?:[\"”″“]|''|’’|′′|sec(?:onds?)?\\b\\.?)";
const NUMBER = '\\d+(?:[.]\\d+)?';
const LETTER = '(?:north|south|east|west|[NSEWO])(?![a-z])';

/** One angle: letter before or after, sign, degrees, then perhaps minutes and seconds, with or without their marks. */
const ANGLE = new RegExp(
  `^\\s*(?<before>${LETTER})?\\s*(?<sign>[-+−–])?\\s*(?<d>${NUMBER})\\s*${DEGREE}?` +
    `(?:[\\s:]*(?<m>${NUMBER})\\s*(?:${MINUTE}|:)?(?:[\\s:]*(?<s>${NUMBER})\\s*${SECOND}?)?)?\\s*(?<after>${LETTER})?\\s*$`,
  'i',
);

/** The two angles of a text; commas of decimals and dashes of other keyboards are understood. */
export function readAngles(text: string): AnglesRead {
  const plain = withoutDecimalCommas(
    withoutLetterMarks(text.normalize('NFC')).replace(/\b(lat|lon|long|lng)[a-z]*\b\s*[:=.]?/gi, ' '),
  );
  if (!/\d/.test(plain) || /[^\d\s.,;:/°º˚'’′‘´"”″“+−–a-z()-]/i.test(plain)) return { kind: 'none' };
  for (const [first, second] of splits(plain.replace(/[()]/g, ' ').trim())) {
    const angles = [readAngle(first), readAngle(second)] as const;
    if (angles[0] === null || angles[1] === null) continue;
    const wrong = angles.find((angle) => typeof angle === 'string');
    if (typeof wrong === 'string') return { kind: 'wrong', why: wrong };
    return { kind: 'angles', angles: angles as readonly [WrittenAngle, WrittenAngle] };
  }
  return { kind: 'none' };
}

/** "52d39m27s" has letters for marks; an s alone is south. */
function withoutLetterMarks(text: string): string {
  return text.replace(
    /(\d)d\s*(\d+(?:[.,]\d+)?)m(?:\s*(\d+(?:[.,]\d+)?)s)?/g,
    (_, degrees: string, minutes: string, seconds: string | undefined) =>
      `${degrees}° ${minutes}′${seconds === undefined ? '' : ` ${seconds}″`}`,
  );
}

/**
 * "52,3457 -1,2346" and "52,3457; -1,2346" have commas for points; "52.3457, -1.2346" and "52,-1" have not: a comma
 * is a point where the text has two of them or more, each between digits, and no point of its own.
 */
function withoutDecimalCommas(text: string): string {
  const between = text.match(/\d,\d/g)?.length ?? 0;
  return between >= 2 && !text.includes('.') ? text.replace(/(\d),(?=\d)/g, '$1.') : text;
}

/** Where the first angle may end: at a comma, semicolon or slash, after a letter, before one, else at any space. */
function splits(text: string): readonly (readonly [string, string])[] {
  const at = (index: number, skip: number) => [text.slice(0, index), text.slice(index + skip)] as const;
  const marked = [...text.matchAll(/[,;/]/g)].map((m) => at(m.index, 1));
  if (marked.length > 0) return marked.length === 1 ? marked : [];
  const letters = [...text.matchAll(new RegExp(LETTER, 'gi'))];
  const [one, two] = letters;
  if (letters.length === 2 && one !== undefined && two !== undefined) {
    return one.index === 0 ? [at(two.index, 0)] : [at(one.index + one[0].length, 0)];
  }
  const spaces = [...text.matchAll(/\s+/g)];
  const middle = (spaces.length - 1) / 2;
  // Angles are written alike: as many parts before the split as after it, tried from the middle.
  return spaces
    .map((m, i) => ({ m, off: Math.abs(i - middle) }))
    .sort((a, b) => a.off - b.off)
    .map(({ m }) => at(m.index, m[0].length));
}

/** An angle, a sentence on what cannot be, or null where it is none. */
function readAngle(text: string): WrittenAngle | string | null {
  const groups = ANGLE.exec(text)?.groups;
  if (groups === undefined) return null;
  const { before, after, sign, d = '', m, s } = groups;
  if (before !== undefined && after !== undefined) return 'It has a letter before and after one angle.';
  const letter = (before ?? after)?.charAt(0).toUpperCase();
  const negative = sign !== undefined && sign !== '+';
  if (negative && letter !== undefined) return `It has both a minus and the letter ${letter}; one is enough.`;
  if (m !== undefined && d.includes('.')) return 'Degrees with a fraction cannot have minutes as well.';
  if (s !== undefined && m?.includes('.') === true)
    return 'Minutes with a fraction cannot have seconds as well.';
  if (Number(m ?? 0) >= 60) return `${m} minutes are more than 59.`;
  if (Number(s ?? 0) >= 60) return `${s} seconds are more than 59.`;
  const size = Number(d) + Number(m ?? 0) / 60 + Number(s ?? 0) / 3600;
  const west = letter === 'S' || letter === 'W' || letter === 'O';
  // O is east in German and west in the Romance languages: nobody can tell.
  if (letter === 'O') return 'The letter O means east in some languages and west in others; write E or W.';
  return {
    degrees: negative || west ? -size : size,
    axis: letter === undefined ? null : letter === 'N' || letter === 'S' ? 'latitude' : 'longitude',
    lastPlaceDeg: lastPlace(s ?? m ?? d) / (s !== undefined ? 3600 : m !== undefined ? 60 : 1),
  };
}

const lastPlace = (number: string): number => 10 ** -(number.split('.')[1]?.length ?? 0);
