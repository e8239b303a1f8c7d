/** When a file on a card was taken, and by which camera, from the first bytes of it. */
import { readPhotoMetadata } from '@tepal/formats';
import { kindByName } from '../files/kinds.ts';
import type { CardFile, CardPicture } from './card.ts';
import type { Disk } from './disk.ts';
import { startOf } from './known.ts';

export interface Taken {
  /** The camera's local time, ISO 8601; where the file does not tell, the time of its change. */
  readonly takenAt: string;
  readonly camera: string | null;
}

/** The tags of nearly every camera lie within this. */
const HEAD_BYTES = 512 * 1024;

/** By the first file of the picture that tells; a raw of a kind that only its decoder reads is asked last. */
export async function takenOf(disk: Disk, picture: CardPicture): Promise<Taken> {
  const photographs = picture.files.filter(({ file }) => kindByName(file) !== null);
  const raws = photographs.filter(({ file }) => kindByName(file) === 'raw');
  for (const [files, tell] of [[photographs, byTags] as const, [raws, byDecoder] as const]) {
    for (const file of files) {
      const told = await headOf(disk, file)
        .then(tell)
        .catch(() => null);
      if (told !== null) return told;
    }
  }
  return { takenAt: localTime(picture.files[0]?.modifiedMs ?? 0), camera: null };
}

const headOf = (disk: Disk, { path, bytes }: CardFile) =>
  startOf(disk, path, Math.min(HEAD_BYTES, Math.max(1, bytes)));

function byTags(head: Buffer): Taken | null {
  const read = readPhotoMetadata(head);
  if (!read.ok || read.value.takenAt === null) return null;
  return { takenAt: read.value.takenAt, camera: read.value.cameraModel };
}

async function byDecoder(head: Buffer): Promise<Taken | null> {
  // Loaded only for the cards that need it.
  const { rawHeader } = await import('../decode/raw-decoder.ts');
  const { takenAt, camera } = await rawHeader(head);
  return takenAt === null ? null : { takenAt, camera };
}

/** Cards keep local times. */
function localTime(ms: number): string {
  const t = new Date(ms);
  return new Date(ms - t.getTimezoneOffset() * 60_000).toISOString().slice(0, 19);
}
