/** What a frame says of itself, as the library keeps it: size, time, settings, camera. Nothing of a place. */
import { parseWrittenTime } from '@tepal/formats';
import type { OpenFrame } from './open-frame.ts';
import type { PixelSize } from './pixels.ts';

export interface FrameFacts {
  /** After orientation [px], of what is measured. */
  readonly widthPx: number;
  readonly heightPx: number;
  /** ISO 8601, with an offset where the camera wrote one; null where it wrote no time. */
  readonly takenAt: string | null;
  /** The written digits as if they were UTC [ms]; null without a time. */
  readonly takenAtMs: number | null;
  readonly camera: string | null;
  readonly exposure: {
    readonly fNumber: number | null;
    readonly exposureTimeS: number | null;
    readonly iso: number | null;
    readonly focalLengthMm: number | null;
  };
  /** Whether Tepal itself made the file: such a picture is no frame. */
  readonly madeByTepal: boolean;
}

/** What Tepal writes as the software of its own pictures. */
export const MADE_BY_TEPAL = 'Tepal, from originals';

/** @param size of the decoded picture, upright */
export function describeFrame(frame: OpenFrame, size: PixelSize): FrameFacts {
  const found = frame.said;
  const raw = frame.raw?.header ?? null;
  const takenAt = found?.takenAt ?? raw?.takenAt ?? null;
  const camera =
    [found?.cameraMake, found?.cameraModel].filter((part) => part).join(' ') || (raw?.camera ?? null);
  return {
    widthPx: size.width,
    heightPx: size.height,
    takenAt,
    takenAtMs: takenAt === null ? null : (parseWrittenTime(takenAt)?.localMs ?? null),
    camera,
    exposure: {
      fNumber: found?.fNumber ?? raw?.fNumber ?? null,
      exposureTimeS: found?.exposureTimeS ?? raw?.exposureTimeS ?? null,
      iso: found?.iso ?? raw?.iso ?? null,
      focalLengthMm: found?.focalLengthMm ?? raw?.focalLengthMm ?? null,
    },
    madeByTepal: frame.kind !== 'raw' && frame.bytes.includes(MADE_BY_TEPAL),
  };
}
