/** All the pixel work of finishing and delivering, for a thread of its own: ending the thread ends the work. */
import { printSize, sizeWithin, type Sides } from '@tepal/advice';
import { iccProfileName, readIccProfile, type FinishStepsDocument } from '@tepal/formats';
import {
  encodeRendered,
  finishStepwise,
  reduceTo,
  sharpen,
  softProof,
  toEightBit,
  workingToProfileXyz,
  xyzToProfile,
  type Finished,
  type LinearPicture,
  type Medium,
  type ProfileColours,
} from '@tepal/imaging';
import { openFrame, rgb16OfFrame } from '../decode/open-frame.ts';
import { DeskFault } from '../files/faults.ts';
import type { PhotographKind } from '../files/kinds.ts';
import type { TellTask } from '../measure/bench.ts';
import { requireRoom } from './room.ts';
import { encodeJpeg } from './jpeg-file.ts';
import { openSource, type SourcePicture } from './source-picture.ts';
import { profileOf, spaceOf, type OutputSpace } from './spaces.ts';
import { writeTiff16 } from './tiff-file.ts';

/** How large it becomes: its own size, within a box of pixels, or a print. */
export type SizeWish =
  | { readonly kind: 'own' }
  | { readonly kind: 'box'; readonly box: Sides }
  | {
      readonly kind: 'print';
      readonly sheetMm: Sides;
      readonly ppi: number;
      readonly viewingDistanceMm: number;
    };

/** In one of our spaces; in a printer's own, by its profile; or, without steps and smaller size, just as it is. */
export type ColourWish =
  | { readonly kind: 'space'; readonly space: OutputSpace }
  | { readonly kind: 'printer'; readonly profile: Uint8Array }
  | { readonly kind: 'asIs' };

export interface RenderRequest {
  readonly source: { readonly path: string; readonly kind: PhotographKind };
  readonly steps: FinishStepsDocument | null;
  readonly size: SizeWish;
  readonly colour: ColourWish;
  /** For the delivered size; null for none. */
  readonly sharpening: { readonly medium: Medium; readonly strength: number } | null;
  readonly file:
    | { readonly kind: 'tiff'; readonly path: string }
    | { readonly kind: 'jpeg'; readonly path: string; readonly limitBytes: number | null };
}

export interface RenderResult {
  readonly widthPx: number;
  readonly heightPx: number;
  /** Name of the profile in the file. */
  readonly profile: string;
  /** The profile for a file that holds none yet; null where the file holds it already. */
  readonly profileToAttach: Uint8Array | null;
  readonly ppi: number | null;
  readonly quality: number | null;
  readonly outsideGamut: number;
  readonly brighterThanWhite: number;
  readonly developed: SourcePicture['developed'];
  readonly notes: readonly string[];
}

/**
 * @throws DecodeFault, DeskFault or the file system's error; DomainError where a step is out of its range
 */
export async function render(request: RenderRequest, tell: TellTask): Promise<RenderResult> {
  const { source, steps, colour, file } = request;
  if (colour.kind === 'asIs' && source.kind !== 'raw' && steps === null) return copySamples(request);
  tell({ done: 0, saying: 'Reading the picture.' });
  const opened = await openSource(source.path, source.kind, steps?.whiteBalance);
  const { picture: finished, notes: stepNotes } = await finishTelling(opened, steps, tell);
  const sized = sizeOf(finished, request.size);
  tell({ done: 0, saying: 'Fitting the size.' });
  const picture = reduceTo(finished, sized.size.width, sized.size.height);
  const sharpening = request.sharpening;
  if (sharpening !== null && sharpening.strength > 0) {
    const print =
      request.size.kind === 'print'
        ? { ppi: sized.ppi ?? 300, viewingDistanceMm: request.size.viewingDistanceMm }
        : {};
    sharpen(picture, { ...sharpening, ...print });
  }
  tell({ done: 0, saying: 'Writing the file.' });
  const way = encoderOf(colour, steps?.petals?.ease ?? 0);
  const { width, height } = picture;
  await requireRoom(file.path, file.kind === 'tiff' ? width * height * 6 : Math.ceil((width * height) / 8));
  const counts = { outside: 0, brighter: 0 };
  const rows = (top: number, bottom: number) => {
    const strip = way.encode(picture, top, bottom);
    counts.outside += strip.outsideGamut * width * (bottom - top);
    counts.brighter += strip.brighterThanWhite * width * (bottom - top);
    return strip.data;
  };
  let quality: number | null = null;
  if (file.kind === 'tiff') await writeTiff16(file.path, { width, height, profile: way.profile, rows });
  else {
    const { data } = toEightBit({ width, height, data: rows(0, height) });
    ({ quality } = await encodeJpeg({ ...file, width, height, data }));
  }
  return {
    ...{ widthPx: width, heightPx: height, quality, ppi: sized.ppi },
    profile: iccProfileName(way.profile) ?? 'unnamed',
    profileToAttach: file.kind === 'jpeg' ? way.profile : null,
    outsideGamut: counts.outside / (width * height),
    brighterThanWhite: counts.brighter / (width * height),
    developed: opened.developed,
    notes: [...opened.notes, ...stepNotes, ...sized.notes, ...way.notes(picture)],
  };
}

async function finishTelling(
  opened: SourcePicture,
  steps: FinishStepsDocument | null,
  tell: TellTask,
): Promise<Finished> {
  const work = finishStepwise(opened.picture, steps ?? {}, opened.context);
  for (;;) {
    const next = work.next();
    if (next.done) return next.value;
    tell({ done: next.value.done, saying: next.value.saying });
    // Lets what was told leave the thread before the next step takes it.
    await new Promise((resolve) => setImmediate(resolve));
  }
}

function sizeOf(
  picture: Sides,
  wish: SizeWish,
): { size: Sides; ppi: number | null; notes: readonly string[] } {
  const own = { width: picture.width, height: picture.height };
  if (wish.kind === 'own') return { size: own, ppi: null, notes: [] };
  if (wish.kind === 'print') {
    const { size, ppi, note } = printSize(own, wish);
    return { size, ppi, notes: note === null ? [] : [note] };
  }
  const { box } = wish;
  const smaller = own.width < box.width && own.height < box.height;
  const note = `The picture is smaller than the box of ${box.width} × ${box.height} px; it was not enlarged.`;
  return { size: sizeWithin(own, box), ppi: null, notes: smaller ? [note] : [] };
}

interface Encoder {
  readonly profile: Uint8Array;
  encode(
    picture: LinearPicture,
    top: number,
    bottom: number,
  ): { readonly data: Uint16Array; readonly outsideGamut: number; readonly brighterThanWhite: number };
  notes(picture: LinearPicture): readonly string[];
}

function encoderOf(colour: ColourWish, ease: number): Encoder {
  if (colour.kind === 'printer') return printerEncoder(colour.profile);
  const name = colour.kind === 'space' ? colour.space : 'wide';
  const space = spaceOf(name);
  return {
    profile: profileOf(name),
    encode(picture, top, bottom) {
      const { image, ...shares } = encodeRendered(picture, space, { ease, rows: [top, bottom] });
      return { data: image.data, ...shares };
    },
    notes: () => [],
  };
}

/** @throws DeskFault where the profile is none that a printer's RGB can be reached by */
export function printerColours(bytes: Uint8Array): ProfileColours {
  const read = readIccProfile(bytes);
  if (!read.ok) throw new DeskFault(`The printer's profile cannot be used: ${read.fault.message}`);
  const { colours, deviceSpace } = read.value;
  if (deviceSpace !== 'rgb' || (colours.kind === 'table' && colours.fromConnection === null)) {
    throw new DeskFault(
      `The printer's profile is for ${deviceSpace}${deviceSpace === 'rgb' ? ' without a way to the paper' : ''}; one for RGB with a way to the paper is needed.`,
    );
  }
  return colours;
}

function printerEncoder(profile: Uint8Array): Encoder {
  const colours = printerColours(profile);
  return {
    profile,
    encode({ width, red, green, blue }, top, bottom) {
      const data = new Uint16Array(width * (bottom - top) * 3);
      let at = 0;
      for (let i = top * width; i < bottom * width; i += 1) {
        const device = xyzToProfile(colours, workingToProfileXyz([red[i]!, green[i]!, blue[i]!]));
        for (let c = 0; c < 3; c += 1) {
          data[at] = Math.round(Math.min(1, Math.max(0, device?.[c] ?? 0)) * 65_535);
          at += 1;
        }
      }
      return { data, outsideGamut: 0, brighterThanWhite: 0 };
    },
    notes(picture) {
      const { share } = softProof(picture, colours);
      return share < 0.001
        ? []
        : [
            `About ${(100 * share).toFixed(share < 0.1 ? 1 : 0)} % of the picture has colours that this paper cannot show.`,
          ];
    },
  };
}

/** Without steps and at its own size: the samples as they are, with their own profile. */
async function copySamples({ source, file }: RenderRequest): Promise<RenderResult> {
  const { picture, profile } = await rgb16OfFrame(await openFrame(source.path, source.kind));
  const { width, height, data } = picture;
  const own = profile ?? profileOf('srgb');
  await requireRoom(file.path, data.byteLength);
  const rows = (top: number, bottom: number) => data.subarray(top * width * 3, bottom * width * 3);
  await writeTiff16(file.path, { width, height, profile: own, rows });
  return {
    ...{ widthPx: width, heightPx: height, ppi: null, quality: null, outsideGamut: 0, brighterThanWhite: 0 },
    ...{ profile: iccProfileName(own) ?? 'unnamed', profileToAttach: null, developed: null },
    notes: profile === null ? ['It came without a profile and was taken for sRGB.'] : [],
  };
}
