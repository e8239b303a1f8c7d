/** A picture to a print, screen or archive file, with its caption and without its place. */
import { checkFile, checkRules, type RuleCheck, type Sides } from '@tepal/advice';
import type {
  Deed,
  DeliverDocument,
  DoneDocument,
  FinishStepsDocument,
  RuleSetDocument,
} from '@tepal/formats';
import type { Medium } from '@tepal/imaging';
import type { PlaceWish, Sensitivity } from '@tepal/notebook';
import { readFile, stat, unlink } from 'node:fs/promises';
import { extname } from 'node:path';
import { MADE_BY_TEPAL } from '../decode/describe.ts';
import { DeskFault, reasonOf } from '../files/faults.ts';
import { checkOutput, settle, temporaryName, writeWhole } from '../files/write.ts';
import { doneListOf, doneListPath, readDoneBeside } from '../finish/done-list.ts';
import { asFault, photographKind } from '../finish/finish.ts';
import type { ColourWish, RenderRequest, SizeWish } from '../finish/render-task.ts';
import { profileOf, type OutputSpace } from '../finish/spaces.ts';
import { openPool, type Pool } from '../measure/pool.ts';
import { captionTags, doneTags, ownTags, placeTags, settingTags, type Caption } from './caption.ts';
import { attachProfile, readTags } from './exif-tool.ts';
import { releasePlace } from './place.ts';
import { uprightSize } from './upright-size.ts';
import { withheldFrom } from './withhold.ts';

export interface Delivery {
  readonly picture: string;
  readonly output: string;
  readonly as: 'print' | 'screen' | 'archive';
  readonly replace: boolean;
  /** Longest sides of a screen picture [px]. */
  readonly boxPx: Sides | null;
  /** Size of a print [mm], and the resolution that its pixels are reduced to at most [px per inch]. */
  readonly sizeMm: Sides | null;
  readonly ppi: number;
  readonly limitKb: number | null;
  readonly caption: Caption;
  readonly place: PlaceWish;
  /** How sensitive the subject is; null where its photographer has not said. */
  readonly sensitivity: Sensitivity | null;
  /** What is done to it on the way; nothing unless given. */
  readonly steps?: FinishStepsDocument | null;
  /** sRGB unless given; an archive without steps keeps its own. */
  readonly space?: OutputSpace | null;
  /** Profile of a printer and its paper: the print is converted to it. */
  readonly printerProfile?: string | null;
  readonly viewingDistanceMm?: number;
  /** For the size and the medium, 0 to 2; what the steps say unless given. */
  readonly sharpening?: number | null;
  readonly paper?: Extract<Medium, 'glossyPaper' | 'mattPaper'>;
  /** A set of rules that the picture has to meet; it is refused where it does not. */
  readonly rules?: RuleSetDocument | null;
  /** What was done elsewhere, as the photographer says. */
  readonly deeds?: readonly Deed[] | null;
  /** For rules that ask for it: whether the original was found. */
  readonly originalFound?: boolean | null;
  readonly pool?: Pool;
  /** Stops the pixel work at once. */
  readonly signal?: AbortSignal;
  readonly tell?: (progress: { readonly done: number; readonly saying: string }) => void;
}

/** Room for caption, rights and settings inside a size limit [byte]. */
const TAG_BYTES = 12_000;

/** From where a print is looked at unless said [mm]: the contract's default. */
const USUAL_DISTANCE_MM = 300;

/** What a screen's own resolution is taken for in the tags; it changes nothing. */
const SCREEN_PPI = 72;

/**
 * Writes the delivery.
 *
 * @throws DeskFault with a sentence: the picture cannot be read, the output is there, a wish or a rule refuses it
 */
export async function deliverPicture(wanted: Delivery): Promise<DeliverDocument> {
  const format = formatOf(wanted);
  await checkOutput(wanted.output, wanted);
  const keepsList = wanted.as === 'archive';
  if (keepsList) await checkOutput(doneListPath(wanted.output), wanted);
  const kind = await photographKind(wanted.picture);
  const original = await readTags(wanted.picture);
  const released = releasePlace(original, wanted);
  const before = await readDoneBeside(wanted.picture);
  const sharpening = sharpeningOf(wanted, before);
  const done = await doneListOf({
    ...{ output: wanted.output, source: wanted.picture, steps: wanted.steps ?? null, before },
    alsoDone: wanted.deeds ?? [],
    sharpened: sharpening !== null,
  });
  const known = before !== null || (wanted.deeds ?? null) !== null || kind === 'raw';
  const ruled = await heldAgainstRules(wanted, kind, known ? done : null);
  const temporary = temporaryName(wanted.output);
  const pool = wanted.pool ?? openPool({ threads: 1 });
  const stop = () => void pool.close();
  wanted.signal?.addEventListener('abort', stop, { once: true });
  try {
    wanted.signal?.throwIfAborted();
    const request: RenderRequest = {
      source: { path: wanted.picture, kind },
      steps: wanted.steps ?? null,
      size: ruled.size,
      colour: await colourOf(wanted, ruled.space),
      sharpening,
      file:
        format === 'tiff'
          ? { kind: 'tiff', path: temporary }
          : { kind: 'jpeg', path: temporary, limitBytes: roomForPicture(ruled.limitKb) },
    };
    const made = await pool.run('render', request, wanted.tell);
    const ppi = made.ppi ?? (wanted.as === 'screen' ? SCREEN_PPI : wanted.ppi);
    const tags = {
      ...settingTags(original),
      ...captionTags({ ...ownTags(original), ...given(wanted.caption) }),
      ...(known ? doneTags(done.deeds) : {}),
      ...(released.place === null ? {} : placeTags(released.place)),
      'IFD0:Software': MADE_BY_TEPAL,
      'IFD0:XResolution': ppi,
      'IFD0:YResolution': ppi,
      'IFD0:ResolutionUnit': 2,
      ...(format === 'jpeg' && made.profile.startsWith('sRGB') ? { 'ExifIFD:ColorSpace': 1 } : {}),
    };
    await attachProfile(temporary, tags, made.profileToAttach);
    const { size: bytes } = await stat(temporary);
    if (ruled.limitKb !== null && bytes > ruled.limitKb * 1000) {
      throw new DeskFault(
        `With its caption it is ${Math.ceil(bytes / 1000)} kB, above the limit of ${ruled.limitKb} kB.`,
      );
    }
    const checks = [
      ...ruled.checks,
      ...(wanted.rules ? checkFile(wanted.rules, { bytes, quality: made.quality, ppi: made.ppi }) : []),
    ];
    refuseBy(wanted.rules ?? null, checks);
    wanted.signal?.throwIfAborted();
    if (keepsList) {
      await writeWhole(doneListPath(wanted.output), `${JSON.stringify(done, null, 2)}\n`, wanted);
    }
    await settle(temporary, wanted.output, wanted);
    return {
      schema: 'tepal/deliver/1',
      output: wanted.output,
      widthPx: made.widthPx,
      heightPx: made.heightPx,
      profile: made.profile,
      bytes,
      withheld: withheldFrom(original, released.rule),
      gamut: { outside: made.outsideGamut, brighterThanWhite: made.brighterThanWhite },
      done: known ? done.deeds.map(({ words }) => words) : ['not known: no list of it is beside the picture'],
      notes: [...made.notes, ...gamutNote(made.outsideGamut, made.profile)],
      ...(made.quality === null ? {} : { quality: made.quality }),
      ...(wanted.as === 'print' ? { ppi } : {}),
      ...(released.place === null ? {} : { placeRule: released.place.rule }),
      ...(wanted.rules ? { checks } : {}),
    };
  } catch (error) {
    if (wanted.signal?.aborted) throw new DeskFault('The work was stopped.');
    throw await asFault(error, wanted.output);
  } finally {
    wanted.signal?.removeEventListener('abort', stop);
    if (wanted.pool === undefined) await pool.close();
    await unlink(temporary).catch(() => undefined);
  }
}

function gamutNote(outside: number, profile: string): readonly string[] {
  if (outside < 0.001) return [];
  const share = (100 * outside).toFixed(outside < 0.1 ? 1 : 0);
  return [
    `${share} % of the picture has colours that ${profile} cannot show; they were made paler, their hue kept.`,
  ];
}

const roomForPicture = (limitKb: number | null) =>
  limitKb === null ? null : Math.max(limitKb * 500, limitKb * 1000 - TAG_BYTES);

/** What the rules make of the wish: size, space and limit, or a refusal. */
async function heldAgainstRules(
  wanted: Delivery,
  kind: RenderRequest['source']['kind'],
  done: DoneDocument | null,
): Promise<{
  size: SizeWish;
  space: OutputSpace | null;
  limitKb: number | null;
  checks: readonly RuleCheck[];
}> {
  const rules = wanted.rules ?? null;
  if (rules === null) {
    return { size: sizeWish(wanted), space: wanted.space ?? null, limitKb: wanted.limitKb, checks: [] };
  }
  const size = await uprightSize(wanted.picture, kind, wanted.steps ?? null);
  const answer = checkRules(rules, {
    size,
    title: wanted.caption.title ?? null,
    scientificName: wanted.caption.scientificName ?? null,
    deeds: done === null ? null : done.deeds,
    originalFound: wanted.originalFound ?? null,
  });
  refuseBy(rules, answer.checks);
  const { fitted } = answer;
  const boxed = rules.pixels?.withinBox ?? rules.pixels?.exactBox;
  return {
    size: boxed === undefined ? sizeWish(wanted) : { kind: 'box', box: fitted.size },
    space: fitted.colourSpace,
    limitKb: fitted.mostKilobytes ?? wanted.limitKb,
    checks: answer.checks,
  };
}

function refuseBy(rules: RuleSetDocument | null, checks: readonly RuleCheck[]): void {
  const against = checks.filter(({ verdict }) => verdict === 'refused' || verdict === 'ask');
  if (rules === null || against.length === 0) return;
  throw new DeskFault(`Not as ${rules.name} asks. ${against.map(({ why }) => why).join(' ')}`);
}

function sizeWish({ as, boxPx, sizeMm, ppi, viewingDistanceMm = USUAL_DISTANCE_MM }: Delivery): SizeWish {
  if (as === 'screen' && boxPx !== null) return { kind: 'box', box: boxPx };
  if (as === 'print' && sizeMm !== null) return { kind: 'print', sheetMm: sizeMm, ppi, viewingDistanceMm };
  return { kind: 'own' };
}

async function colourOf(wanted: Delivery, space: OutputSpace | null): Promise<ColourWish> {
  const printer = wanted.printerProfile ?? null;
  if (printer !== null) {
    if (wanted.as !== 'print') throw new DeskFault("A printer's profile is for a print.");
    try {
      return { kind: 'printer', profile: await readFile(printer) };
    } catch (error) {
      throw new DeskFault(`The profile ${printer} cannot be read: ${reasonOf(error)}.`, 3);
    }
  }
  if (wanted.as === 'archive' && space === null) {
    return (wanted.steps ?? null) === null ? { kind: 'asIs' } : { kind: 'space', space: 'wide' };
  }
  return { kind: 'space', space: space ?? 'srgb' };
}

/** As said, else as the steps say: those given here, or those that the finished picture was made by. */
function sharpeningOf(wanted: Delivery, before: DoneDocument | null): RenderRequest['sharpening'] {
  if (wanted.as === 'archive') return null;
  const steps = wanted.steps ?? before?.steps;
  const strength = wanted.sharpening ?? steps?.sharpening?.strength ?? 0;
  if (strength === 0) return null;
  return { medium: wanted.as === 'screen' ? 'screen' : (wanted.paper ?? 'glossyPaper'), strength };
}

function formatOf({ output, as, limitKb, rules }: Delivery): 'jpeg' | 'tiff' {
  const end = extname(output).toLowerCase();
  const format = ['.jpg', '.jpeg'].includes(end) ? 'jpeg' : ['.tif', '.tiff'].includes(end) ? 'tiff' : null;
  if (format === null)
    throw new DeskFault(
      `The output needs the ending .jpg or .tif, but ${output} has ${end === '' ? 'none' : end}.`,
    );
  if (as === 'archive' && format !== 'tiff') {
    throw new DeskFault('An archive picture keeps all of its samples: its output is a .tif.');
  }
  if (as === 'screen' && format !== 'jpeg') throw new DeskFault('A screen picture is a .jpg.');
  if (limitKb !== null && format !== 'jpeg') throw new DeskFault('A size limit in kB needs a .jpg.');
  const asked = rules?.format;
  if (asked !== undefined && asked !== format) {
    throw new DeskFault(
      `${rules?.name ?? 'The rules'} asks for a ${asked === 'jpeg' ? '.jpg' : '.tif'}, but ${output} ends in ${end}.`,
    );
  }
  return format;
}

function given(caption: Caption): Caption {
  return Object.fromEntries(
    Object.entries(caption).filter(([, value]) => value !== undefined && value.length > 0),
  ) as Caption;
}

/** The sRGB profile, for pictures that come without one. */
export async function srgbProfile(): Promise<Uint8Array> {
  return profileOf('srgb');
}
