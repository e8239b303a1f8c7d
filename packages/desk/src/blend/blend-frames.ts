/** The work of a blend in its thread: frames decoded one after another, merged, and written without tags. */
import {
  createBlendSession,
  type Blend,
  type BlendChoice,
  type Kernel,
  type KnownPlace,
} from '@tepal/imaging';
import { writeFile } from 'node:fs/promises';
import type { PhotographKind } from '../files/kinds.ts';
import { reasonOf } from '../files/faults.ts';
import { newDecodeRoom } from '../decode/room.ts';
import type { TellTask } from '../measure/bench.ts';
import { onePicture, pixelsOf } from './frame-pixels.ts';
import { writeTiffStrips } from './tiff-strips.ts';

export interface BlendRequest {
  readonly frames: readonly {
    readonly path: string;
    readonly kind: PhotographKind;
    /** Where an earlier blend of the series found it; then it is not registered again. */
    readonly place?: KnownPlace;
  }[];
  /** Places that come from one frame each, by its place in `frames`. */
  readonly choices: readonly BlendChoice[];
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
  readonly fallback: Blend['fallback'];
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
  const session = createBlendSession(kernel, { choices: request.choices });
  const room = newDecodeRoom(onePicture);
  const unread: { index: number; reason: string }[] = [];
  let hasProfile = false;
  try {
    let done = 0;
    for (const index of outwards(request.frames.length, request.reference)) {
      const { path, kind, place } = request.frames[index]!;
      tell({ done, saying: `Aligning and merging frame ${done + 1} of ${request.frames.length}.` });
      try {
        const { picture, profile } = await pixelsOf(path, kind, room);
        session.addFrame(picture, index, place);
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
    // A decoded frame is as large as half the picture.
    room.rgb = Buffer.alloc(0);
    const blend = session.finish();
    const result = await writeBlend(blend, request);
    blend.dispose();
    return {
      ...result,
      gaps: blend.gaps,
      frames: blend.frames,
      fallback: blend.fallback,
      unread,
      hasProfile,
    };
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

/** Writes the picture and the maps that are wanted. */
async function writeBlend(blend: Blend, request: BlendRequest) {
  const { width, height } = blend;
  const size = { width, height };
  await writeTiffStrips(request.picture, {
    ...size,
    channels: 3,
    bitsPerSample: 16,
    deflate: false,
    rows: (first, count) => blend.pictureRows(first, count),
  });
  if (request.source !== null) {
    await writeTiffStrips(request.source, {
      ...size,
      channels: 1,
      bitsPerSample: 8,
      deflate: true,
      rows: (first, count) => blend.sourceRows(first, count),
    });
  }
  if (request.depth !== null) {
    const scale = 65535 / Math.max(1, request.frames.length - 1);
    // 0 is the first frame of the series, 65535 the last.
    const code = (index: number) => Math.min(65535, Math.max(0, Math.round(index * scale)));
    await writeTiffStrips(request.depth, {
      ...size,
      channels: 1,
      bitsPerSample: 16,
      deflate: true,
      rows: (first, count) => Uint16Array.from(blend.depthRows(first, count), code),
    });
  }
  return { widthPx: width, heightPx: height };
}
