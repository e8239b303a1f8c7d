/** What spoiled the frames that are not sharp, counted. */
import type { MeasuredFrame } from '@tepal/formats';
import { sharpnessOf } from '../ranking.ts';

export type SpoilerCause =
  'subjectMoved' | 'cameraMoved' | 'moved' | 'outOfFocus' | 'movedAndOutOfFocus' | 'notClear' | 'cannotTell';

/** One cause, the frames it spoiled, and how to say it. */
export interface Spoiler<Frame> {
  readonly cause: SpoilerCause;
  readonly frames: readonly Frame[];
  /** "the plant moved in 112" */
  readonly clause: string;
  /** Of one frame alone: "the plant moved" */
  readonly alone: string;
}

/** A cause less likely than this is not named. */
const NAMED_FROM = 0.5;

/**
 * What spoiled a frame; null where it is sharp.
 *
 * @param limitPx the largest sharp sigma for this frame [px], > 0
 */
export function spoilerOf(frame: Pick<MeasuredFrame, 'blur'>, limitPx: number): SpoilerCause | null {
  const { blur } = frame;
  const sharpness = sharpnessOf(blur.sigmaPx, limitPx);
  if (sharpness === 'sharp') return null;
  if (sharpness === 'cannotTell') return 'cannotTell';
  if (blur.confidence < NAMED_FROM) return 'notClear';
  switch (blur.cause) {
    case 'defocus':
      return 'outOfFocus';
    case 'both':
      return 'movedAndOutOfFocus';
    case 'motion':
      return blur.moved === null ? 'moved' : blur.moved === 'subject' ? 'subjectMoved' : 'cameraMoved';
    case 'sharp':
    case 'unclear':
      return 'notClear';
  }
}

/**
 * The causes that spoiled frames, the most frequent first; what is not clear or cannot be told stands last.
 *
 * @param limitPxOf the largest sharp sigma of a frame [px]
 * @param known.subject what moved when the subject moved; "plant" unless given
 * @param known.held how the camera was held; hands are named only when they held it
 */
export function spoilersOf<Frame extends Pick<MeasuredFrame, 'blur'>>(
  frames: readonly Frame[],
  limitPxOf: (frame: Frame) => number,
  known: { readonly subject?: string; readonly held?: 'hand' | 'support' | null } = {},
): Spoiler<Frame>[] {
  const { subject = 'plant' } = known;
  const camera = known.held === 'hand' ? 'hands' : 'camera';
  const byCause = new Map<SpoilerCause, Frame[]>();
  for (const frame of frames) {
    const cause = spoilerOf(frame, limitPxOf(frame));
    if (cause === null) continue;
    byCause.set(cause, [...(byCause.get(cause) ?? []), frame]);
  }
  return CAUSES.flatMap((cause) => {
    const spoiled = byCause.get(cause);
    if (spoiled === undefined) return [];
    const count = String(spoiled.length);
    const { clause, alone } = sayings(cause, count, { subject, camera });
    return [{ cause, frames: spoiled, clause, alone }];
  }).sort((a, b) => Number(isDoubt(a.cause)) - Number(isDoubt(b.cause)) || b.frames.length - a.frames.length);
}

const CAUSES: readonly SpoilerCause[] = [
  'subjectMoved',
  'cameraMoved',
  'moved',
  'outOfFocus',
  'movedAndOutOfFocus',
  'notClear',
  'cannotTell',
];

const isDoubt = (cause: SpoilerCause) => cause === 'notClear' || cause === 'cannotTell';

function sayings(
  cause: SpoilerCause,
  count: string,
  { subject, camera }: { readonly subject: string; readonly camera: string },
): { clause: string; alone: string } {
  const of = {
    subjectMoved: [`the ${subject} moved in ${count}`, `the ${subject} moved`],
    cameraMoved: [`the ${camera} moved in ${count}`, `the ${camera} moved`],
    moved: [`something moved in ${count}`, 'something moved'],
    outOfFocus: [`the focus missed in ${count}`, 'the focus missed'],
    movedAndOutOfFocus: [`movement and focus both spoiled ${count}`, 'movement and focus both spoiled it'],
    notClear: [
      `what softened ${count === '1' ? 'one' : count} is not clear`,
      'not sharp at the point, the cause not clear',
    ],
    cannotTell: [`of ${count === '1' ? 'one' : count} it cannot be told`, 'how sharp it is cannot be told'],
  } as const;
  return { clause: of[cause][0], alone: of[cause][1] };
}

/** "a", "a and b", "a, b and c". */
export function listInWords(parts: readonly string[], last = 'and'): string {
  if (parts.length < 2) return parts[0] ?? '';
  return `${parts.slice(0, -1).join(', ')} ${last} ${parts.at(-1) ?? ''}`;
}
