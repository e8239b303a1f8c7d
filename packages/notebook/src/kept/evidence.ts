/** Evidence: what measuring found of an outing's frames, from which everything learned is worked out anew. */
import * as v from 'valibot';
import { fileHash, id, instant, oneOf, prose, within, type Kept } from './fields.ts';

export const BLUR_CAUSES = ['sharp', 'defocus', 'motion', 'both', 'unclear'] as const;

const BLUR = 'a frame as measured: "sigma low high cause confidence ..." by writeFrameEvidence';

/**
 * The measured frames of one outing. The kept set-ups say how they were taken, the outing in what wind; neither is
 * copied here, so that what is noted later counts as well.
 *
 * - outingId: null where the frames belong to no kept outing; then `day` alone says when
 * - day: the first frame's time, by the camera's clock
 * - frames: by the file's hash, a line each as `writeFrameEvidence` makes it. Two devices that measured the same frame
 *   have it once
 */
export const evidenceSchema = v.looseObject({
  id,
  outingId: v.nullable(id),
  day: v.nullable(instant),
  frames: v.record(fileHash, v.pipe(v.string(BLUR), v.maxLength(600, BLUR)), 'measured frames by hash'),
  notes: prose,
});

export type Evidence = Kept<v.InferOutput<typeof evidenceSchema>>;

/** One frame as evidence. What is null was not measured or not written by the camera. */
export interface FrameEvidence {
  readonly hash: string;
  /** By the camera's clock [ms since 1970, as if its digits were UTC]. */
  readonly takenAtMs: number | null;
  readonly sigmaPx: number | null;
  readonly sigmaLowPx: number | null;
  readonly sigmaHighPx: number | null;
  readonly cause: (typeof BLUR_CAUSES)[number];
  readonly confidence: number;
  readonly moved: 'camera' | 'subject' | null;
  readonly widthPx: number;
  readonly heightPx: number;
  readonly fNumber: number | null;
  readonly exposureTimeS: number | null;
  readonly focalLengthMm: number | null;
  /** 'raw', 'jpeg', ... */
  readonly fileKind: string;
  /** Frames of one framing share it; of no meaning outside its outing. */
  readonly series: string;
  /** Number at the end of the camera's file name; gaps tell of deleted frames. */
  readonly fileNumber: number | null;
  readonly camera: string | null;
}

const SEPARATOR = '|';
const numberText = (value: number | null): string =>
  value === null ? '' : String(Number(value.toPrecision(6)));
const words = (text: string | null): string => (text ?? '').replaceAll(SEPARATOR, ' ').slice(0, 120);

/** A frame as one line: short, since a season has thousands of them. */
export function writeFrameEvidence(frame: FrameEvidence): string {
  return [
    frame.takenAtMs === null ? '' : String(Math.round(frame.takenAtMs)),
    numberText(frame.sigmaPx),
    numberText(frame.sigmaLowPx),
    numberText(frame.sigmaHighPx),
    frame.cause,
    numberText(frame.confidence),
    frame.moved ?? '',
    frame.widthPx,
    frame.heightPx,
    numberText(frame.fNumber),
    numberText(frame.exposureTimeS),
    numberText(frame.focalLengthMm),
    words(frame.fileKind),
    words(frame.series),
    frame.fileNumber ?? '',
    words(frame.camera),
  ].join(SEPARATOR);
}

const CAUSE = oneOf(BLUR_CAUSES);

/** The frame of a line; null where the line is not one that this version can read. */
export function readFrameEvidence(hash: string, line: string): FrameEvidence | null {
  const parts = line.split(SEPARATOR);
  if (parts.length < 16) return null;
  const number = (i: number): number | null => {
    const text = parts[i] ?? '';
    const value = Number(text);
    return text === '' || !Number.isFinite(value) ? null : value;
  };
  const cause = v.safeParse(CAUSE, parts[4]);
  const [widthPx, heightPx, confidence] = [number(7), number(8), number(5)];
  if (!cause.success || widthPx === null || heightPx === null || confidence === null) return null;
  if (!v.safeParse(within(0, 1, ''), confidence).success) return null;
  const moved = parts[6];
  return {
    hash,
    takenAtMs: number(0),
    sigmaPx: number(1),
    sigmaLowPx: number(2),
    sigmaHighPx: number(3),
    cause: cause.output,
    confidence,
    moved: moved === 'camera' || moved === 'subject' ? moved : null,
    widthPx,
    heightPx,
    fNumber: number(9),
    exposureTimeS: number(10),
    focalLengthMm: number(11),
    fileKind: parts[12]!,
    series: parts[13]!,
    fileNumber: number(14),
    camera: parts[15] === '' ? null : parts[15]!,
  };
}
