/**
 * What the EXIF tags say of a picture, each value judged: what cannot be true becomes null, with a warning.
 *
 * @source CIPA DC-008-2019 (EXIF 2.32), sections 4.6.4 to 4.6.6
 */
import { parseWrittenTime } from '../time.ts';
import type { TagDirectory, TiffTags } from './tiff-tags.ts';

export interface ExifFields {
  /** ISO 8601 to the millisecond, with an offset where the file has one, else the camera's local time without. */
  readonly takenAt: string | null;
  readonly takenAtHasOffset: boolean;
  readonly fNumber: number | null;
  readonly exposureTimeS: number | null;
  readonly iso: number | null;
  readonly focalLengthMm: number | null;
  readonly focalLength35Mm: number | null;
  readonly focusDistanceMm: number | null;
  /** 1 to 8; null where the file does not say. */
  readonly orientation: number | null;
  readonly cameraMake: string | null;
  readonly cameraModel: string | null;
  readonly lens: string | null;
  readonly description: string | null;
  readonly creator: string | null;
  readonly rights: string | null;
  /** Size that the tags name, as stored [px]. */
  readonly statedWidthPx: number | null;
  readonly statedHeightPx: number | null;
  /** Whether there is a position; what it is stays in the file. */
  readonly placePresent: boolean;
}

/** A position read from EXIF, as exact as the camera wrote it. It is secret until released. */
export interface PhotoPlace {
  readonly latitudeDeg: number;
  readonly longitudeDeg: number;
  readonly altitudeM: number | null;
  /** Horizontal positioning error that the device stated [m]. */
  readonly uncertaintyM: number | null;
}

/** The EXIF fields, with a warning for each value that was there and could not be used. */
export function readExifFields(tags: TiffTags): { fields: ExifFields; warnings: readonly string[] } {
  const { main, exif, gps } = tags;
  const warnings: string[] = [...tags.warnings];
  const judged = (name: string, value: number | null, low: number, high: number, unit: string) => {
    if (value === null || (value >= low && value <= high)) return value;
    warnings.push(`${name}: found ${spoken(value)}${unit}, which cannot be; left out.`);
    return null;
  };
  const taken = readTaken(main, exif, warnings);
  const apex = (tag: number, toValue: (apexValue: number) => number) => {
    const value = number(exif, tag);
    return value !== null && Math.abs(value) < 100 ? toValue(value) : null;
  };
  const fNumber = number(exif, 0x829d) ?? apex(0x9202, (av) => 2 ** (av / 2));
  const exposureTime = number(exif, 0x829a) ?? apex(0x9201, (tv) => 2 ** -tv);
  const fields: ExifFields = {
    ...taken,
    fNumber: judged('f-number', fNumber, 0.3, 1000, ''),
    exposureTimeS: judged('exposure time', exposureTime, 1e-7, 1e6, ' s'),
    iso: judged('ISO', readIso(exif), 1, 1e7, ''),
    focalLengthMm: judged('focal length', number(exif, 0x920a), 0.1, 10_000, ' mm'),
    focalLength35Mm: judged('focal length for 35 mm', unlessZero(number(exif, 0xa405)), 0.1, 10_000, ' mm'),
    focusDistanceMm: readFocusDistance(exif),
    orientation: judged('orientation', number(main, 0x0112), 1, 8, ''),
    cameraMake: text(main, 0x010f),
    cameraModel: text(main, 0x0110),
    lens: text(exif, 0xa434),
    description: text(main, 0x010e),
    creator: text(main, 0x013b),
    rights: text(main, 0x8298),
    statedWidthPx: unlessZero(number(exif, 0xa002)) ?? unlessZero(number(main, 0x0100)),
    statedHeightPx: unlessZero(number(exif, 0xa003)) ?? unlessZero(number(main, 0x0101)),
    placePresent: [0x0002, 0x0004, 0x0014, 0x0016].some((tag) => gps.has(tag)),
  };
  return { fields, warnings };
}

/** The position in the GPS tags; null where there is none that lies on Earth. */
export function readExifPlace(gps: TagDirectory): PhotoPlace | null {
  const latitudeDeg = degrees(gps, 0x0002, 0x0001, 'S', 90);
  const longitudeDeg = degrees(gps, 0x0004, 0x0003, 'W', 180);
  if (latitudeDeg === null || longitudeDeg === null) return null;
  const altitude = number(gps, 0x0006);
  const below = number(gps, 0x0005) === 1;
  const error = number(gps, 0x001f);
  return {
    latitudeDeg,
    longitudeDeg,
    altitudeM: altitude !== null && Math.abs(altitude) < 20_000 ? (below ? -altitude : altitude) : null,
    uncertaintyM: error !== null && error > 0 && error < 1e6 ? error : null,
  };
}

function degrees(gps: TagDirectory, tag: number, refTag: number, negative: string, limit: number) {
  const parts = gps.get(tag);
  if (parts === undefined || typeof parts === 'string') return null;
  // Missing or 0/0 minutes and seconds count as none: some devices write only the degrees.
  const [deg = Number.NaN, minutes = 0, seconds = 0] = parts;
  const part = (value: number) => (Number.isNaN(value) ? 0 : value);
  const value = deg + part(minutes) / 60 + part(seconds) / 3600;
  if (!(value >= 0 && value <= limit)) return null;
  return text(gps, refTag)?.toUpperCase() === negative ? -value : value;
}

function number(directory: TagDirectory, tag: number): number | null {
  const value = directory.get(tag);
  const first = typeof value === 'string' ? undefined : value?.[0];
  // 0/0 is how EXIF says "unknown".
  return first === undefined || Number.isNaN(first) ? null : first;
}

function text(directory: TagDirectory, tag: number): string | null {
  const value = directory.get(tag);
  return typeof value === 'string' && value.trim() !== '' ? value.trim() : null;
}

const unlessZero = (value: number | null) => (value === 0 ? null : value);
const spoken = (value: number) =>
  Number.isFinite(value) ? String(Number(value.toPrecision(6))) : 'infinity';

/** Above 65534 the old tag overflows; the value then stands in one of two newer ones. */
function readIso(exif: TagDirectory): number | null {
  const iso = number(exif, 0x8827);
  if (iso !== null && iso !== 65_535) return iso;
  return number(exif, 0x8832) ?? number(exif, 0x8831) ?? iso;
}

/** The tag is in metres; 0 means unknown, and an infinite distance is none to focus by. */
function readFocusDistance(exif: TagDirectory): number | null {
  const distanceM = number(exif, 0x9206);
  if (distanceM === null || !(distanceM > 0) || distanceM > 1e5) return null;
  return distanceM * 1000;
}

const EXIF_TIME = /^(\d{4})[:\-/](\d{2})[:\-/](\d{2})[ T](\d{2}):(\d{2}):(\d{2})/;

function readTaken(main: TagDirectory, exif: TagDirectory, warnings: string[]) {
  const none = { takenAt: null, takenAtHasOffset: false };
  const choices = [
    { time: text(exif, 0x9003), subSeconds: text(exif, 0x9291), offset: text(exif, 0x9011), sure: true },
    { time: text(exif, 0x9004), subSeconds: text(exif, 0x9292), offset: text(exif, 0x9012), sure: true },
    { time: text(main, 0x0132), subSeconds: text(exif, 0x9290), offset: text(exif, 0x9010), sure: false },
  ];
  const choice = choices.find(({ time }) => time !== null && /[1-9]/.test(time));
  if (choice?.time === undefined || choice.time === null) return none;
  const m = EXIF_TIME.exec(choice.time);
  const fraction = /^\d{1,9}/.exec(choice.subSeconds ?? '')?.[0];
  const local = m
    ? `${m[1]}-${m[2]}-${m[3]}T${m[4]}:${m[5]}:${m[6]}${fraction ? `.${fraction.slice(0, 3)}` : ''}`
    : '';
  if (parseWrittenTime(local) === null) {
    warnings.push(`time: found "${choice.time.slice(0, 30)}", which is no time; left out.`);
    return none;
  }
  if (!choice.sure) warnings.push('time: the file has only the time of its last change; that was taken.');
  const offset = choice.offset ?? text(exif, 0x9010);
  const whole = `${local}${offset ?? ''}`;
  if (offset !== null && typeof parseWrittenTime(whole)?.offsetMinutes === 'number') {
    return { takenAt: whole, takenAtHasOffset: true };
  }
  return { takenAt: local, takenAtHasOffset: false };
}
