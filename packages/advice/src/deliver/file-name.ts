/** Names of delivered files: from the title or the original, fit for any disk, or in the form that a set of rules asks for. */

/** What a name can be made of. */
export interface NameParts {
  readonly title: string | null;
  /** Name of the original, without its folder. */
  readonly original: string;
  readonly creator?: string | null;
  readonly scientificName?: string | null;
  readonly number?: number | null;
  readonly entry?: string | null;
}

export interface NameForm {
  readonly form: string;
  readonly space?: string;
  readonly characters?: 'any' | 'ascii';
  readonly mostCharacters?: number;
}

export type Named =
  | { readonly ok: true; readonly name: string; readonly note: string | null }
  | { readonly ok: false; readonly why: string };

/** Longest name without its ending; disks allow 255 bytes with it. */
const LONGEST = 120;

/** A name, without ending, from the title, else from the original. Never empty. */
export function deliveryName(parts: NameParts): string {
  const title = parts.title === null ? '' : tidy(parts.title);
  if (title !== '') return cut(title, LONGEST);
  const original = tidy(parts.original.replace(/\.[A-Za-z0-9]{1,5}$/, ''));
  return cut(original === '' ? 'picture' : original, LONGEST);
}

/** Without what disks refuse, and without a dot or a space at either end. */
function tidy(text: string): string {
  return [...text.normalize('NFC')]
    .map((c) => (c < ' ' || c === '\u007f' || '/\\:*?"<>|'.includes(c) ? ' ' : c))
    .join('')
    .replace(/\s+/g, ' ')
    .replace(/^[. ]+|[. ]+$/g, '');
}

const cut = (text: string, most: number) =>
  [...text]
    .slice(0, most)
    .join('')
    .replace(/[. ]+$/, '');

/** Letters of other alphabets that have a usual plain spelling beside taking their marks off. */
const PLAIN: Readonly<Record<string, string>> = {
  ß: 'ss',
  æ: 'ae',
  Æ: 'Ae',
  ø: 'o',
  Ø: 'O',
  œ: 'oe',
  Œ: 'Oe',
  ł: 'l',
  Ł: 'L',
  đ: 'd',
  ð: 'd',
  þ: 'th',
  '×': 'x',
};

function toAscii(text: string): string {
  return [...text]
    .map((c) => PLAIN[c] ?? c)
    .join('')
    .normalize('NFD')
    .replace(/[\u0300-\u036f]/g, '')
    .replace(/[^A-Za-z0-9 _.-]/g, '');
}

/**
 * A name in the form that rules ask for; the title is shortened where the name is too long, and that is said.
 *
 * @returns refused where the form asks for something that is not known, or nothing is left to name it by
 */
export function nameByForm(parts: NameParts, form: NameForm): Named {
  const values: Readonly<Record<string, string | null | undefined>> = {
    title: parts.title,
    creator: parts.creator,
    scientificName: parts.scientificName,
    entry: parts.entry,
    number:
      parts.number === null || parts.number === undefined ? null : String(parts.number).padStart(2, '0'),
  };
  const asked = [...form.form.matchAll(/\{(\w+)\}/g)].map(([, name]) => name ?? '');
  const unknown = asked.find((name) => !(name in values));
  if (unknown !== undefined) {
    return {
      ok: false,
      why: `The form of the name asks for {${unknown}}; known are {number}, {title}, {creator}, {scientificName} and {entry}.`,
    };
  }
  const missing = asked.find((name) => (values[name] ?? '').trim() === '');
  if (missing !== undefined)
    return { ok: false, why: `The form of the name asks for {${missing}}, and this picture has none.` };
  const spaced = (text: string) => text.replaceAll(' ', form.space ?? ' ');
  const plain = (text: string) =>
    spaced(form.characters === 'ascii' ? toAscii(tidy(text)).trim() : tidy(text));
  const whole = (title: string) =>
    form.form.replace(/\{(\w+)\}/g, (_, name: string) =>
      name === 'title' ? title : plain(values[name] ?? ''),
    );
  const title = plain(parts.title ?? '');
  if (asked.includes('title') && title === '') {
    return {
      ok: false,
      why: `Nothing is left of the title "${parts.title ?? ''}" in the letters that are allowed.`,
    };
  }
  const most = form.mostCharacters ?? LONGEST;
  const name = whole(title);
  if ([...name].length <= most) return { ok: true, name, note: null };
  const room = most - [...whole('')].length;
  if (!asked.includes('title') || room < 3) {
    return { ok: false, why: `The name "${name}" has ${[...name].length} characters; ${most} are allowed.` };
  }
  const shorter = whole(cut(title, room).replace(/[_-]+$/, ''));
  return {
    ok: true,
    name: shorter,
    note: `The title in the file's name was shortened to fit ${most} characters.`,
  };
}
