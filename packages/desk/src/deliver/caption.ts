/** What is written into a delivered file: caption and rights in IPTC and XMP, settings in EXIF, the place if released. */
import { doneInWords } from '@tepal/advice';
import type { Deed } from '@tepal/formats';
import type { ReleasedPlace } from '@tepal/notebook';

export interface Caption {
  readonly title?: string;
  readonly caption?: string;
  readonly creator?: string;
  readonly rights?: string;
  readonly keywords?: readonly string[];
  readonly scientificName?: string;
}

type TagValues = Record<string, string | number | readonly string[]>;

/** IPTC's own limits [bytes]; XMP holds the whole text. */
const iptcLimit = { title: 64, creator: 32, rights: 128, caption: 2000, keyword: 64 };

/** @source IPTC Photo Metadata Standard 2023.1; Darwin Core for the scientific name */
export function captionTags(caption: Caption): TagValues {
  const { title, caption: text, creator, rights, keywords = [], scientificName } = caption;
  const words = [...new Set([...keywords, ...(scientificName === undefined ? [] : [scientificName])])];
  return {
    ...(title === undefined ? {} : { 'XMP-dc:Title': title, 'IPTC:ObjectName': cut(title, iptcLimit.title) }),
    ...(text === undefined
      ? {}
      : {
          'XMP-dc:Description': text,
          'IPTC:Caption-Abstract': cut(text, iptcLimit.caption),
          'IFD0:ImageDescription': text,
        }),
    ...(creator === undefined
      ? {}
      : {
          'XMP-dc:Creator': [creator],
          'IPTC:By-line': [cut(creator, iptcLimit.creator)],
          'IFD0:Artist': creator,
        }),
    ...(rights === undefined
      ? {}
      : {
          'XMP-dc:Rights': rights,
          'XMP-xmpRights:Marked': 'True',
          'IPTC:CopyrightNotice': cut(rights, iptcLimit.rights),
          'IFD0:Copyright': rights,
        }),
    ...(words.length === 0
      ? {}
      : {
          'XMP-dc:Subject': words,
          'IPTC:Keywords': words.map((word) => cut(word, iptcLimit.keyword)),
        }),
    ...(scientificName === undefined ? {} : { 'XMP-dwc:TaxonScientificName': scientificName }),
  };
}

/** Tags of the original that say how it was taken and nothing of where, or of whose camera it was. */
const taken: Readonly<Record<string, string>> = {
  'IFD0:Make': 'IFD0:Make',
  'IFD0:Model': 'IFD0:Model',
  'ExifIFD:LensModel': 'ExifIFD:LensModel',
  'ExifIFD:ExposureTime': 'ExifIFD:ExposureTime',
  'ExifIFD:FNumber': 'ExifIFD:FNumber',
  'ExifIFD:ISO': 'ExifIFD:ISO',
  'ExifIFD:FocalLength': 'ExifIFD:FocalLength',
  'ExifIFD:DateTimeOriginal': 'ExifIFD:DateTimeOriginal',
};

export function settingTags(original: Readonly<Record<string, unknown>>): TagValues {
  return Object.fromEntries(
    Object.entries(taken).flatMap(([from, to]) => {
      const value = original[from];
      return typeof value === 'string' || typeof value === 'number' ? [[to, value]] : [];
    }),
  );
}

/** The list of what was done, so that it goes with the picture wherever that goes. */
export function doneTags(deeds: readonly Deed[]): TagValues {
  return { 'XMP-photoshop:History': `Done: ${doneInWords(deeds)}.` };
}

/** Creator and rights of the original, for a delivery that names none. */
export function ownTags(original: Readonly<Record<string, unknown>>): Caption {
  const text = (...names: string[]) => {
    const value = names.map((name) => original[name]).find((one) => one !== undefined && one !== '');
    const first = Array.isArray(value) ? (value[0] as unknown) : value;
    return typeof first === 'string' && first.trim() !== '' ? first : undefined;
  };
  const creator = text('XMP-dc:Creator', 'IPTC:By-line', 'IFD0:Artist');
  const rights = text('XMP-dc:Rights', 'IPTC:CopyrightNotice', 'IFD0:Copyright');
  return { ...(creator === undefined ? {} : { creator }), ...(rights === undefined ? {} : { rights }) };
}

/** The place as it was released, and nothing more of it. */
export function placeTags(place: ReleasedPlace): TagValues {
  const { latitudeDeg, longitudeDeg, coordinateUncertaintyInMeters, regionName } = place;
  return {
    ...(latitudeDeg === undefined || longitudeDeg === undefined
      ? {}
      : {
          'GPS:GPSLatitude': Math.abs(latitudeDeg),
          'GPS:GPSLatitudeRef': latitudeDeg < 0 ? 'S' : 'N',
          'GPS:GPSLongitude': Math.abs(longitudeDeg),
          'GPS:GPSLongitudeRef': longitudeDeg < 0 ? 'W' : 'E',
          'GPS:GPSMapDatum': 'WGS-84',
        }),
    ...(coordinateUncertaintyInMeters === undefined
      ? {}
      : { 'GPS:GPSHPositioningError': coordinateUncertaintyInMeters }),
    ...(regionName === undefined
      ? {}
      : { 'XMP-photoshop:State': regionName, 'IPTC:Province-State': regionName }),
  };
}

/** Cuts a text to so many bytes of UTF-8 without cutting a character. */
function cut(text: string, bytes: number): string {
  if (Buffer.byteLength(text) <= bytes) return text;
  let out = '';
  for (const character of text) {
    if (Buffer.byteLength(out + character) > bytes) break;
    out += character;
  }
  return out;
}
