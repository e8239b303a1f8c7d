/** Candidate crops for a touched place of a blend: what each frame shows there, the sharpest first. */
import { candidateCrop, type Kernel, type KnownPlace } from '@tepal/imaging';
import { reasonOf } from '../files/faults.ts';
import type { PhotographKind } from '../files/kinds.ts';
import { newDecodeRoom } from '../decode/room.ts';
import type { TellTask } from '../measure/bench.ts';
import { onePicture, pixelsOf } from './frame-pixels.ts';

export interface CandidatesRequest {
  /** The frames that took part, with their numbers in the series and the places that the blend found. */
  readonly frames: readonly {
    readonly path: string;
    readonly kind: PhotographKind;
    readonly index: number;
    readonly place: KnownPlace;
  }[];
  /** Size of the blended picture. */
  readonly widthPx: number;
  readonly heightPx: number;
  /** The touched place [px of the blended picture] and how far round it [px], 4..2,000. */
  readonly x: number;
  readonly y: number;
  readonly radiusPx: number;
}

/** One frame's crop, aligned as in the blend, 8-bit encoded RGB. */
export interface Candidate {
  readonly index: number;
  /** Compares these candidates only; larger is sharper. */
  readonly sharpness: number;
  readonly x: number;
  readonly y: number;
  readonly widthPx: number;
  readonly heightPx: number;
  readonly rgb: Uint8Array;
}

export interface CandidatesResult {
  readonly candidates: readonly Candidate[];
  readonly unread: readonly { readonly index: number; readonly reason: string }[];
}

/** Decodes the frames one after another; what cannot be decoded is told and the rest goes on. */
export async function candidatesAt(
  kernel: Kernel,
  request: CandidatesRequest,
  tell: TellTask,
): Promise<CandidatesResult> {
  const room = newDecodeRoom(onePicture);
  const reference = { width: request.widthPx, height: request.heightPx };
  const candidates: Candidate[] = [];
  const unread: { index: number; reason: string }[] = [];
  for (const [done, { path, kind, index, place }] of request.frames.entries()) {
    tell({ done, saying: `Looking at frame ${done + 1} of ${request.frames.length}.` });
    try {
      const { picture } = await pixelsOf(path, kind, room);
      const { x, y, picture: crop, sharpness } = candidateCrop(kernel, picture, place, reference, request);
      const rgb = Uint8Array.from(crop.data, (code) => Math.round(code / 257));
      candidates.push({ index, sharpness, x, y, widthPx: crop.width, heightPx: crop.height, rgb });
    } catch (error) {
      unread.push({ index, reason: reasonOf(error) });
    }
  }
  candidates.sort((a, b) => b.sharpness - a.sharpness);
  return { candidates, unread };
}
