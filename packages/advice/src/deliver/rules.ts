/** Will they accept it? A picture held against a set of rules: what fits, what can be made to fit, what cannot. */
import type { Deed, DeedKind, RuleSetDocument } from '@tepal/formats';
import { sizeWithin, type Sides } from './size.ts';

export interface RuleCheck {
  readonly what: string;
  /** Fits as it is; made to fit; to be asked; refused. */
  readonly verdict: 'fits' | 'fitted' | 'ask' | 'refused';
  readonly why: string;
}

/** What is known of the picture before it is delivered. */
export interface PictureToCheck {
  readonly size: Sides;
  readonly title: string | null;
  readonly scientificName: string | null;
  /** What was done to it; null where it was finished elsewhere and nobody said. */
  readonly deeds: readonly Deed[] | null;
  /** Whether its raw or untouched original was found; null where nobody looked. */
  readonly originalFound: boolean | null;
}

/** What a delivery has to become for the rules; made from the rules alone where they ask. */
export interface FittedDelivery {
  readonly size: Sides;
  readonly format: 'jpeg' | 'tiff';
  readonly colourSpace: 'srgb' | 'displayP3' | 'adobeRgb';
  readonly mostKilobytes: number | null;
  readonly leastJpegQuality: number | null;
}

export interface RulesAnswer {
  readonly checks: readonly RuleCheck[];
  readonly fitted: FittedDelivery;
  /** Whether nothing was refused and nothing is left to ask. */
  readonly accepted: boolean;
}

/** The kinds of what may be done in a sentence. */
const IN_WORDS: Readonly<Record<DeedKind, string>> = {
  crop: 'cropping',
  level: 'levelling',
  exposure: 'changing the exposure',
  whiteBalance: 'changing the white balance',
  tone: 'changing the tones',
  shadeFilled: 'filling shaded parts',
  noise: 'taking noise away',
  sharpening: 'sharpening',
  petalColour: 'easing saturated colours',
  spotRemoved: 'removing a spot',
  backgroundQuietened: 'darkening or evening the background',
  stacked: 'blending several frames',
  objectRemoved: 'removing something of the scene',
  objectAdded: 'adding something to the scene',
  monochrome: 'making it monochrome',
  other: 'something else',
};

/** Holds a picture against rules. Nothing is enlarged to fit: a picture that is too small is refused. */
export function checkRules(rules: RuleSetDocument, picture: PictureToCheck): RulesAnswer {
  const checks: RuleCheck[] = [];
  const say = (what: string, verdict: RuleCheck['verdict'], why: string) =>
    checks.push({ what, verdict, why });
  const size = checkPixels(rules, picture.size, say);
  const format = rules.format ?? 'jpeg';
  if (rules.format !== undefined)
    say('file format', 'fitted', `Written as ${format === 'jpeg' ? 'a JPEG' : 'a TIFF'}.`);
  const colourSpace = rules.colourSpace ?? 'srgb';
  if (rules.colourSpace !== undefined) {
    const names = { srgb: 'sRGB', displayP3: 'Display P3', adobeRgb: 'Adobe RGB (1998)' };
    say('colour space', 'fitted', `Converted to ${names[colourSpace]}, with its profile.`);
  }
  checkTitle(rules, picture, say);
  checkDeeds(rules, picture.deeds, say);
  if (rules.originalAsProof === true) {
    if (picture.originalFound === true) say('original as proof', 'fits', 'The original was found.');
    else if (picture.originalFound === false) {
      say(
        'original as proof',
        'refused',
        'The original is asked for as proof, and was not found; say which file it is.',
      );
    } else say('original as proof', 'ask', 'The original is asked for as proof; say which file it is.');
  }
  return {
    checks,
    fitted: {
      ...{ size, format, colourSpace },
      mostKilobytes: rules.mostKilobytes ?? null,
      leastJpegQuality: rules.leastJpegQuality ?? null,
    },
    accepted: checks.every(({ verdict }) => verdict === 'fits' || verdict === 'fitted'),
  };
}

type Say = (what: string, verdict: RuleCheck['verdict'], why: string) => void;
const px = ({ width, height }: Sides) => `${width} × ${height} px`;

function checkPixels(rules: RuleSetDocument, own: Sides, say: Say): Sides {
  const { withinBox, exactBox, leastLongSidePx } = rules.pixels ?? {};
  const box = exactBox ?? withinBox;
  const size = box === undefined ? own : sizeWithin(own, box);
  if (box !== undefined) {
    const reduced = size.width < own.width || size.height < own.height;
    const reaches = size.width === box.width || size.height === box.height;
    if (exactBox !== undefined && !reaches) {
      say(
        'pixels',
        'refused',
        `It has ${px(own)}; a side of ${px(box)} has to be reached, and nothing is enlarged.`,
      );
    } else if (reduced) say('pixels', 'fitted', `Reduced from ${px(own)} to ${px(size)}, to fit ${px(box)}.`);
    else say('pixels', 'fits', `${px(own)} fits ${px(box)}.`);
  }
  if (leastLongSidePx !== undefined) {
    const long = Math.max(size.width, size.height);
    const enough = long >= leastLongSidePx;
    say(
      'least size',
      enough ? 'fits' : 'refused',
      enough
        ? `Its longer side is ${long} px.`
        : `Its longer side is ${long} px; ${leastLongSidePx} are asked for, and nothing is enlarged.`,
    );
  }
  return size;
}

function checkTitle(rules: RuleSetDocument, { title, scientificName }: PictureToCheck, say: Say): void {
  const form = rules.title;
  if (form === undefined) return;
  const { mostCharacters, scientificName: name } = form;
  if (title === null || title.trim() === '') {
    say('title', 'ask', 'A title is asked for.');
    return;
  }
  const length = [...title].length;
  if (mostCharacters !== undefined && length > mostCharacters) {
    say('title', 'refused', `The title has ${length} characters; ${mostCharacters} are allowed.`);
  } else say('title', 'fits', `"${title}"`);
  const within = scientificName !== null && title.toLowerCase().includes(scientificName.toLowerCase());
  if (name === 'required' && !within) {
    say(
      'scientific name',
      scientificName === null ? 'ask' : 'refused',
      scientificName === null
        ? 'The scientific name has to be in the title; say what it is.'
        : `The scientific name, ${scientificName}, has to be in the title.`,
    );
  }
  if (name === 'forbidden' && within) {
    say(
      'scientific name',
      'refused',
      `The title must not hold the scientific name, ${scientificName ?? ''}.`,
    );
  }
}

function checkDeeds(rules: RuleSetDocument, deeds: readonly Deed[] | null, say: Say): void {
  if (rules.whatMayBeDone === undefined && rules.everythingElse === undefined) return;
  if (deeds === null) {
    say(
      'what was done',
      'ask',
      'No list says what was done to it, as after finishing in another program: say what was done to it.',
    );
    return;
  }
  for (const { deed, words } of deeds) {
    const leave = rules.whatMayBeDone?.[deed] ?? rules.everythingElse ?? 'yes';
    if (leave === 'no')
      say('what was done', 'refused', `${capital(words)}; these rules do not allow ${IN_WORDS[deed]}.`);
    if (leave === 'declare') say('what was done', 'fits', `To be declared: ${words}.`);
  }
  const quiet = deeds.every(
    ({ deed }) => (rules.whatMayBeDone?.[deed] ?? rules.everythingElse ?? 'yes') === 'yes',
  );
  if (quiet)
    say('what was done', 'fits', deeds.length === 0 ? 'Nothing but developing.' : 'All of it is allowed.');
}

const capital = (text: string) => text.charAt(0).toUpperCase() + text.slice(1);

/** What a finished file came to, held against the rules that only the file can answer. */
export function checkFile(
  rules: RuleSetDocument,
  file: { readonly bytes: number; readonly quality: number | null; readonly ppi: number | null },
): readonly RuleCheck[] {
  const checks: RuleCheck[] = [];
  const kilobytes = Math.ceil(file.bytes / 1000);
  if (rules.mostKilobytes !== undefined) {
    const fits = file.bytes <= rules.mostKilobytes * 1000;
    const why = `${kilobytes} kB of ${rules.mostKilobytes} kB${file.quality === null ? '' : `, at quality ${file.quality}`}.`;
    checks.push({ what: 'file size', verdict: fits ? 'fitted' : 'refused', why });
  }
  if (
    rules.leastJpegQuality !== undefined &&
    file.quality !== null &&
    file.quality < rules.leastJpegQuality
  ) {
    const why = `To fit the file size its quality had to be ${file.quality}; at least ${rules.leastJpegQuality} is asked for.`;
    checks.push({ what: 'quality', verdict: 'refused', why });
  }
  if (rules.leastPpi !== undefined && file.ppi !== null) {
    const fits = file.ppi >= rules.leastPpi;
    const why = fits
      ? `${file.ppi} pixels per inch.`
      : `${file.ppi} true pixels per inch; ${rules.leastPpi} are asked for, and nothing is enlarged.`;
    checks.push({ what: 'resolution', verdict: fits ? 'fits' : 'refused', why });
  }
  return checks;
}
