/** The work of a blend in its thread: frames decoded one after another, merged, and written without tags. */
import { createBlendSession, type Blend, type Kernel } from '@tepal/imaging';
import { writeFile } from 'node:fs/promises';
import sharp from 'sharp';
import type { PhotographKind } from '../files/kinds.ts';
import { reasonOf } from '../files/faults.ts';
import { openFrame, rgb16OfFrame } from '../decode/open-frame.ts';
import type { TellTask } from '../measure/bench.ts';

export interface BlendRequest {
  readonly frames: readonly { readonly path: string; readonly kind: PhotographKind }[];
  /** Which of them gives the geometry, the encoding and the profile. */
  readonly reference: number;
  /** Temporary files to write: the picture, and the maps where wanted. */
  readonly picture: string;
  readonly profile: string;
  readonly depth: string | null;
  readonly source: string | null;
}

export interface BlendResult {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly gaps: Blend['gaps'];
  readonly frames: Blend['frames'];
  /** Frames that could not be decoded, by their place in the request. */
  readonly unread: readonly { readonly index: number; readonly reason: string }[];
  /** Whether the reference came with a profile of its own, written to `profile`. */
  readonly hasProfile: boolean;
}

/**
 * @throws Error with a sentence when the reference cannot be decoded
 */
export async function blendFrames(
  kernel: Kernel,
  request: BlendRequest,
  tell: TellTask,
): Promise<BlendResult> {
  const session = createBlendSession(kernel);
  const unread: { index: number; reason: string }[] = [];
  let hasProfile = false;
  try {
    let done = 0;
    for (const index of outwards(request.frames.length, request.reference)) {
      const { path, kind } = request.frames[index]!;
      tell({ done, saying: `Aligning and merging frame ${done + 1} of ${request.frames.length}.` });
      try {
        const { picture, profile } = await rgb16OfFrame(await openFrame(path, kind));
        session.addFrame(picture, index);
        if (index === request.reference && profile !== null) {
          hasProfile = true;
          await writeFile(request.profile, profile);
        }
      } catch (error) {
        if (index === request.reference)
          throw new Error(`The reference ${path}: ${reasonOf(error)}`, { cause: error });
        unread.push({ index, reason: reasonOf(error) });
      }
      done += 1;
    }
    tell({ done, saying: 'Finishing the picture.' });
    const { picture, source, depth, gaps, frames } = session.finish();
    const { width, height } = picture;
    await sharp(picture.data, { raw: { width, height, channels: 3 } })
      .toColourspace('rgb16')
      .tiff({ compression: 'none' })
      .toFile(request.picture);
    if (request.source !== null) await writeGrey(request.source, source);
    if (request.depth !== null) await writeGrey(request.depth, depthCodes(depth, request.frames.length));
    return { widthPx: width, heightPx: height, gaps, frames, unread, hasProfile };
  } catch (error) {
    session.dispose();
    throw error;
  }
}

/** The reference first, then its neighbours on one side and the other: each lies near one that is already placed. */
function outwards(count: number, reference: number): number[] {
  const after = Array.from({ length: count - reference - 1 }, (_, i) => reference + 1 + i);
  const before = Array.from({ length: reference }, (_, i) => reference - 1 - i);
  return [reference, ...after, ...before];
}

/** 0 is the first frame of the series, 65535 the last. */
function depthCodes(depth: Blend['depth'], frames: number) {
  const scale = 65535 / Math.max(1, frames - 1);
  const data = Uint16Array.from(depth.data, (index) =>
    Math.min(65535, Math.max(0, Math.round(index * scale))),
  );
  return { width: depth.width, height: depth.height, data };
}

async function writeGrey(
  path: string,
  map: { readonly width: number; readonly height: number; readonly data: Uint8Array | Uint16Array },
): Promise<void> {
  const { width, height, data } = map;
  await sharp(data, { raw: { width, height, channels: 1 } })
    .toColourspace(data instanceof Uint16Array ? 'grey16' : 'b-w')
    .tiff({ compression: 'deflate' })
    .toFile(path);
}
