/** The words under a crop: how sharp, and what spoiled it. */
import type { MeasuredFrame } from '@tepal/formats';
import { pxInWords } from './amounts.ts';
import { sharpnessOf } from './ranking.ts';

/** What is known beside the measure; whatever is left out is not claimed. */
export interface FrameCircumstances {
  /** What moved when the subject moved: "plant" unless given. */
  readonly subject?: string;
  /** How the camera was held; "hands" are named only when known. */
  readonly held?: 'hand' | 'support';
  /** Side on which the plane of focus lies, seen from the camera. */
  readonly focus?: { readonly side: 'behind' | 'inFront'; readonly distanceMm?: number };
}

/** A cause less likely than this is not named. */
const NAMED_FROM = 0.5;

/**
 * A frame's blur and its cause: "0.9 px, sharp", "1.7 px, plant moved", "1.1 px, focus behind", "cannot tell".
 *
 * A frame within the limit is sharp whatever little blur it has. A cause of which the measure is less than half sure is
 * not named, and the side of the focus, who held the camera and what moved only when they are known.
 *
 * @param limitPx the largest sharp sigma at the delivery asked for [px], > 0
 */
export function frameWords(
  frame: Pick<MeasuredFrame, 'blur'>,
  limitPx: number,
  circumstances: FrameCircumstances = {},
): string {
  const { sigmaPx } = frame.blur;
  if (sigmaPx === null) return 'cannot tell';
  const sharpness = sharpnessOf(sigmaPx, limitPx);
  const size = shownAgainst(sigmaPx, limitPx);
  if (sharpness === 'sharp') return `${size}, sharp`;
  const cause = causeInWords(frame.blur, circumstances);
  if (cause !== null) return `${size}, ${cause}`;
  return sharpness === 'nearly' ? `${size}, nearly sharp` : `${size}, cause not clear`;
}

/** A blur just over the limit is not rounded down to it. */
function shownAgainst(sigmaPx: number, limitPx: number): string {
  const misleading = sigmaPx > limitPx && sigmaPx - limitPx < 0.05;
  return misleading ? `${sigmaPx.toFixed(2)} px` : pxInWords(sigmaPx);
}

function causeInWords(blur: MeasuredFrame['blur'], circumstances: FrameCircumstances): string | null {
  if (blur.confidence < NAMED_FROM) return null;
  switch (blur.cause) {
    case 'defocus':
      return focusInWords(focusOf(blur, circumstances));
    case 'motion':
      return movementInWords(blur, circumstances);
    case 'both':
      return `${focusInWords(focusOf(blur, circumstances))}, ${movementInWords(blur, circumstances)}`;
    case 'sharp':
    case 'unclear':
      return null;
  }
}

/** What is known of the focus otherwise, or what the frame's own map shows. */
function focusOf(
  { focusSide = null }: MeasuredFrame['blur'],
  { focus }: FrameCircumstances,
): FrameCircumstances['focus'] {
  return focus ?? (focusSide === null ? undefined : { side: focusSide });
}

function focusInWords(focus: FrameCircumstances['focus']): string {
  if (focus === undefined) return 'out of focus';
  const side = focus.side === 'behind' ? 'behind' : 'in front';
  if (focus.distanceMm === undefined) return `focus ${side}`;
  const { distanceMm } = focus;
  return distanceMm < 0.95
    ? `focus under 1 mm ${side}`
    : `focus ${String(Math.round(distanceMm))} mm ${side}`;
}

function movementInWords(blur: MeasuredFrame['blur'], circumstances: FrameCircumstances): string {
  const { subject = 'plant', held } = circumstances;
  const length = blur.motion !== null && blur.motion.lengthPx >= 3 ? ` ${pxWhole(blur.motion.lengthPx)}` : '';
  if (blur.moved === 'subject') return `${subject} moved${length}`;
  if (blur.moved === 'camera') return `${held === 'hand' ? 'hands' : 'camera'} moved${length}`;
  return `moved${length}`;
}

const pxWhole = (px: number) => `${String(Math.round(px))} px`;
