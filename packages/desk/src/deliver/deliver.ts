/** A picture to a print, screen or archive file, with its caption and without its place. */
import { iccProfileName, type DeliverDocument } from '@tepal/formats';
import { privatePlaceOfRecord, release, type PlaceWish, type Sensitivity } from '@tepal/notebook';
import { stat, unlink, writeFile } from 'node:fs/promises';
import { extname } from 'node:path';
import { MADE_BY_TEPAL } from '../decode/describe.ts';
import { openFrame } from '../decode/open-frame.ts';
import type { PixelSize } from '../decode/pixels.ts';
import { DeskFault, reasonOf } from '../files/faults.ts';
import { kindOfFile } from '../files/kinds.ts';
import { checkOutput, settle, temporaryName } from '../files/write.ts';
import { captionTags, ownTags, placeTags, settingTags, type Caption } from './caption.ts';
import { readTags, writeTags } from './exif-tool.ts';
import { fitWithin, pictureToDeliver, srgbJpeg, turnedFor, writeTiff16 } from './render.ts';
import { withheldFrom } from './withhold.ts';

export interface Delivery {
  readonly picture: string;
  readonly output: string;
  readonly as: 'print' | 'screen' | 'archive';
  readonly replace: boolean;
  /** Longest sides of a screen picture [px]. */
  readonly boxPx: PixelSize | null;
  /** Size of a print [mm], and the resolution that its pixels are reduced to at most [px per inch]. */
  readonly sizeMm: PixelSize | null;
  readonly ppi: number;
  readonly limitKb: number | null;
  readonly caption: Caption;
  readonly place: PlaceWish;
  /** How sensitive the subject is; null where its photographer has not said. */
  readonly sensitivity: Sensitivity | null;
}

/** Room for caption, rights and settings inside a size limit [byte]. */
const TAG_BYTES = 12_000;

/**
 * Writes the delivery.
 *
 * @throws DeskFault with a sentence: the picture cannot be read, the output is there, a wish is refused
 */
export async function deliverPicture(wanted: Delivery): Promise<DeliverDocument & Record<string, unknown>> {
  const format = formatOf(wanted);
  await checkOutput(wanted.output, wanted);
  const frame = await opened(wanted.picture);
  const original = await readTags(wanted.picture);
  const released = releasePlace(original, wanted);

  const { picture, profile } = await pictureToDeliver(frame);
  const { size, ppi, notes } = sizeFor(picture, wanted);
  const temporary = temporaryName(wanted.output);
  const work = `${temporary}.work.tif`;
  try {
    const tags = {
      ...settingTags(original),
      ...captionTags({ ...ownTags(original), ...given(wanted.caption) }),
      ...(released.place === null ? {} : placeTags(released.place)),
      'IFD0:Software': MADE_BY_TEPAL,
      'IFD0:XResolution': ppi,
      'IFD0:YResolution': ppi,
      'IFD0:ResolutionUnit': 2,
    };
    let profileName = 'sRGB';
    let quality: number | null = null;
    if (format === 'jpeg') {
      const limitBytes = wanted.limitKb === null ? null : wanted.limitKb * 1000;
      const reserved = limitBytes === null ? null : Math.max(limitBytes / 2, limitBytes - TAG_BYTES);
      const jpeg = await srgbJpeg({ picture, profile, size, limitBytes: reserved, work });
      quality = jpeg.quality;
      await writeFile(temporary, jpeg.bytes, { flag: 'wx' });
      await writeTags(temporary, tags);
    } else {
      await writeTiff16(temporary, picture, size);
      const bytes = profile ?? (await srgbProfile());
      profileName = iccProfileName(bytes) ?? 'unnamed';
      await writeFile(`${work}.icc`, bytes);
      await writeTags(temporary, tags, `${work}.icc`);
    }
    const { size: bytes } = await stat(temporary);
    if (wanted.limitKb !== null && bytes > wanted.limitKb * 1000) {
      throw new DeskFault(
        `With its caption it is ${Math.ceil(bytes / 1000)} kB, above the limit of ${wanted.limitKb} kB.`,
      );
    }
    await settle(temporary, wanted.output, wanted);
    return {
      schema: 'tepal/deliver/1',
      output: wanted.output,
      widthPx: size.width,
      heightPx: size.height,
      profile: profileName,
      bytes,
      withheld: withheldFrom(original, released.rule),
      ...(quality === null ? {} : { quality }),
      ...(wanted.as === 'print' ? { ppi } : {}),
      ...(released.place === null ? {} : { placeRule: released.place.rule }),
      notes,
    };
  } finally {
    await Promise.all([temporary, work, `${work}.icc`].map((path) => unlink(path).catch(() => undefined)));
  }
}

async function opened(path: string) {
  try {
    const kind = await kindOfFile(path);
    if (kind.is === 'photograph') return await openFrame(path, kind.kind);
    throw new DeskFault(
      kind.is === 'wrong' ? `${path}: ${kind.reason}` : `${path} is no JPEG, PNG, TIFF or raw picture.`,
      3,
    );
  } catch (error) {
    if (error instanceof DeskFault) throw error;
    throw new DeskFault(`${path} cannot be read: ${reasonOf(error)}`, 3);
  }
}

function formatOf({ output, as, limitKb }: Delivery): 'jpeg' | 'tiff' {
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
  return format;
}

/** Where the picture's own coordinates may go, by the notebook's one rule. */
function releasePlace(original: Readonly<Record<string, unknown>>, wanted: Delivery) {
  if (wanted.place === 'none') {
    return { place: null, rule: 'left out, for no place was asked for (--place)' };
  }
  const at = (name: string) => {
    const value = original[`Composite:${name}`];
    return typeof value === 'number' && Number.isFinite(value) ? value : null;
  };
  const latitudeDeg = at('GPSLatitude');
  const longitudeDeg = at('GPSLongitude');
  if (latitudeDeg === null || longitudeDeg === null) {
    return { place: null, rule: 'left out; the picture has no coordinates to release' };
  }
  const position = { latitudeDeg, longitudeDeg, altitudeM: at('GPSAltitude'), coordinateUncertaintyM: null };
  const sealed = privatePlaceOfRecord({ position }, null);
  if (sealed === null) return { place: null, rule: 'left out; the picture has no coordinates to release' };
  const answer = release(sealed, {
    audience: 'public',
    wish: wanted.place,
    sensitivity: wanted.sensitivity,
  });
  if (!answer.ok) throw new DeskFault(answer.why);
  const exact = answer.place.kind === 'exact';
  return { place: answer.place, rule: exact ? null : `only as released. ${answer.place.rule}` };
}

/** Never enlarged: a print that would need more pixels is told its true resolution. */
function sizeFor(picture: PixelSize, wanted: Delivery): { size: PixelSize; ppi: number; notes: string[] } {
  const own = { width: picture.width, height: picture.height };
  if (wanted.as === 'archive') return { size: own, ppi: wanted.ppi, notes: [] };
  if (wanted.as === 'screen') {
    const size = wanted.boxPx === null ? own : fitWithin(own, wanted.boxPx);
    const smaller =
      wanted.boxPx !== null && own.width < wanted.boxPx.width && own.height < wanted.boxPx.height;
    const notes = smaller
      ? [
          `The picture is smaller than the box of ${wanted.boxPx.width} × ${wanted.boxPx.height} px; it was not enlarged.`,
        ]
      : [];
    return { size, ppi: 72, notes };
  }
  if (wanted.sizeMm === null) return { size: own, ppi: wanted.ppi, notes: [] };
  const paper = turnedFor(own, wanted.sizeMm);
  const inches = Math.min(paper.width / own.width, paper.height / own.height) / 25.4;
  const ownPpi = 1 / inches;
  if (ownPpi <= wanted.ppi) {
    const ppi = Math.round(ownPpi * 10) / 10;
    const notes =
      ownPpi < wanted.ppi
        ? [
            `At ${Math.round(own.width * inches * 25.4)} × ${Math.round(own.height * inches * 25.4)} mm it has ${Math.floor(ownPpi)} pixels per inch, not ${wanted.ppi}; it was not enlarged.`,
          ]
        : [];
    return { size: own, ppi, notes };
  }
  const factor = wanted.ppi / ownPpi;
  const size = { width: Math.round(own.width * factor), height: Math.round(own.height * factor) };
  return { size, ppi: wanted.ppi, notes: [] };
}

function given(caption: Caption): Caption {
  return Object.fromEntries(
    Object.entries(caption).filter(([, value]) => value !== undefined && value.length > 0),
  ) as Caption;
}

/** The sRGB profile that the image library carries, for pictures that come without one. */
export async function srgbProfile(): Promise<Uint8Array> {
  const { default: sharp } = await import('sharp');
  const pixel = await sharp(Buffer.alloc(3), { raw: { width: 1, height: 1, channels: 3 } })
    .withIccProfile('srgb')
    .png()
    .toBuffer();
  const { icc } = await sharp(pixel).metadata();
  if (icc === undefined) throw new DeskFault('The sRGB profile is missing from this installation.', 3);
  return icc;
}
