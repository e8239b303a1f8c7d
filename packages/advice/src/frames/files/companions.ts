/** Files of one picture: what the camera wrote twice (raw and JPEG), and the notes beside it, count once. */
import { compareFileNames } from './file-name-order.ts';

/** What a file is in a folder of photographs, by its name. */
export type FileKind = 'raw' | 'jpeg' | 'heif' | 'tiff' | 'png' | 'sidecar';

/** One picture: the file that is measured, and the others of the same exposure. */
export interface PictureFiles {
  /** Path of the file that is measured. */
  readonly measured: string;
  readonly kind: Exclude<FileKind, 'sidecar'>;
  /** Paths of the raw or JPEG of the same picture, and of its sidecars. */
  readonly companions: readonly string[];
}

/** What a folder's files come to. */
export interface FoundPictures {
  readonly pictures: readonly PictureFiles[];
  /** Sidecars that belong to no picture here. */
  readonly strays: readonly string[];
}

const KIND_BY_EXTENSION: Readonly<Record<string, FileKind>> = {
  ...Object.fromEntries(
    '3fr arw cr2 cr3 crw dcr dng erf fff iiq kdc mef mos mrw nef nrw orf pef raf rw2 rwl sr2 srf srw x3f'
      .split(' ')
      .map((extension) => [extension, 'raw' as const]),
  ),
  jpg: 'jpeg',
  jpeg: 'jpeg',
  jpe: 'jpeg',
  heic: 'heif',
  heif: 'heif',
  hif: 'heif',
  tif: 'tiff',
  tiff: 'tiff',
  png: 'png',
  xmp: 'sidecar',
};

/** The kind of a file by its name's ending; null where it is none of a photographer's. */
export function fileKindOf(path: string): FileKind | null {
  return KIND_BY_EXTENSION[extensionOf(path)] ?? null;
}

/**
 * Groups the files of a folder into pictures.
 *
 * A raw file and the JPEG or HEIF of the same folder and base name are one picture: cameras write both from one
 * exposure. Two rendered files without a raw stay two pictures, for nothing says that they came from one. Sidecars are
 * known by both habits, `IMG_1.xmp` and `IMG_1.CR3.xmp`; one with the base name goes with every picture of that name.
 *
 * Of a pair the JPEG is measured: it has the picture's full size, which the preview inside a raw often has not, and
 * it is read faster. The raw alone is measured through its preview.
 *
 * @param paths relative paths, in any order
 * @returns pictures in the order of their names; the order of `paths` has no influence
 */
export function picturesOf(paths: readonly string[]): FoundPictures {
  const sorted = [...new Set(paths)].sort(compareFileNames);
  const photographs = sorted.filter((path) => isPhotograph(fileKindOf(path)));
  const sidecars = sorted.filter((path) => fileKindOf(path) === 'sidecar');
  const pictures = [...groupBy(photographs, baseOf).values()].flatMap(picturesOfOneBase);
  const owned = new Set<string>();
  const withSidecars = pictures.map((picture) => {
    const own = sidecars.filter((sidecar) => belongsTo(sidecar, picture));
    own.forEach((sidecar) => owned.add(sidecar));
    return { ...picture, companions: [...picture.companions, ...own] };
  });
  return {
    pictures: withSidecars.sort((a, b) => compareFileNames(a.measured, b.measured)),
    strays: sidecars.filter((sidecar) => !owned.has(sidecar)),
  };
}

function picturesOfOneBase(files: readonly string[]): PictureFiles[] {
  const raws = files.filter((file) => fileKindOf(file) === 'raw');
  const ofCamera = files.filter((file) => ['jpeg', 'heif'].includes(fileKindOf(file) ?? ''));
  const rest = files.filter((file) => !raws.includes(file) && !ofCamera.includes(file));
  const paired = raws.length > 0 ? [[...ofCamera, ...raws]] : ofCamera.map((file) => [file]);
  return [...paired, ...rest.map((file) => [file])].flatMap((group) => {
    // The JPEG first, then what else the camera rendered, then the raw.
    const order = ['jpeg', 'heif', 'raw', 'tiff', 'png'];
    const [measured, ...companions] = [...group].sort(
      (a, b) => order.indexOf(fileKindOf(a) ?? '') - order.indexOf(fileKindOf(b) ?? ''),
    );
    const kind = measured === undefined ? null : fileKindOf(measured);
    if (measured === undefined || kind === null || kind === 'sidecar') return [];
    return [{ measured, kind, companions }];
  });
}

function belongsTo(sidecar: string, picture: PictureFiles): boolean {
  const stem = baseOf(sidecar);
  return [picture.measured, ...picture.companions].some(
    (file) => stem === file.toLowerCase() || stem === baseOf(file),
  );
}

function isPhotograph(kind: FileKind | null): boolean {
  return kind !== null && kind !== 'sidecar';
}

function extensionOf(path: string): string {
  return /\.([^./\\]+)$/.exec(path)?.[1]?.toLowerCase() ?? '';
}

/** Path without its last ending, in lower case: cards and computers disagree about case. */
function baseOf(path: string): string {
  return path.replace(/\.[^./\\]+$/, '').toLowerCase();
}

function groupBy(values: readonly string[], keyOf: (value: string) => string): Map<string, string[]> {
  const groups = new Map<string, string[]>();
  for (const value of values) {
    const key = keyOf(value);
    groups.set(key, [...(groups.get(key) ?? []), value]);
  }
  return groups;
}
