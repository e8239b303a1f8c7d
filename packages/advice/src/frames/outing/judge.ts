/** What a judge would ask of a frame that is kept: questions with the spot shown, never a mark. */
import type { MeasuredFrame } from '@tepal/formats';
import type { BrightSpot, FrameBox, FrameSide, SubjectRegion } from '@tepal/imaging';
import { shareInWords } from '../amounts.ts';
import { frameWords } from '../frame-words.ts';
import { sharpnessOf } from '../ranking.ts';

/** A question and the part of the frame that it is about, as fractions of width and height from the top left. */
export interface JudgeQuestion {
  readonly about: 'sharpness' | 'burnt' | 'eye' | 'whole' | 'room';
  readonly question: string;
  readonly spot: FrameBox;
}

/** What is known of a frame; without a region, nothing is asked of framing. */
export interface FrameBeforeJudge {
  readonly frame: Pick<MeasuredFrame, 'point' | 'blur' | 'clipped'>;
  /** The largest sharp sigma for what it is meant for [px], > 0. */
  readonly limitPx: number;
  readonly subject: SubjectRegion | null;
  /** Bright spots round the subject and burnt ones on it, the strongest first. */
  readonly around: readonly BrightSpot[];
  readonly onSubject: readonly BrightSpot[];
}

/** Half the side of the spot shown for the point of focus, share of the frame. */
const POINT_REACH = 0.04;
/** Less room than this share of the frame is asked about (our choice, no source). */
const LITTLE_ROOM = 0.04;
/** A spot as near to the subject's box as this share of the frame touches it. */
const TOUCHING = 0.02;
/** Burnt less than this on the subject is a glint [share of the pixels round the point]. */
const GLINT = 0.005;
const EDGE_STRIP = 0.03;

/**
 * The questions, the gravest first: sharp where it counts, burnt, what pulls the eye or touches the subject, whether the
 * subject is whole, room round it. No question where nothing was found: that is no praise either.
 *
 * @throws DomainError if the limit is not positive
 * @source practice 1.4 and 5.5: what judges of natural history ask
 */
export function judgeQuestions(known: FrameBeforeJudge): readonly JudgeQuestion[] {
  return [...sharpness(known), ...burnt(known), ...eye(known), ...framing(known.subject)];
}

function sharpness({ frame, limitPx }: FrameBeforeJudge): JudgeQuestion[] {
  const { point, blur } = frame;
  const spot = boxRound(point, POINT_REACH);
  if (sharpnessOf(blur.sigmaPx, limitPx) !== 'sharp') {
    const words = frameWords(frame, limitPx);
    const found = blur.sigmaPx === null ? 'How sharp it is here could not be told' : `Here it is ${words}`;
    return [{ about: 'sharpness', question: `${found}: is it sharp where it counts?`, spot }];
  }
  if (point.origin !== 'guessed') return [];
  const question = 'It is sharp here, a place that was guessed: is this what must be sharp?';
  return [{ about: 'sharpness', question, spot }];
}

function burnt({ frame, onSubject }: FrameBeforeJudge): JudgeQuestion[] {
  const { red, green, blue } = frame.clipped;
  const share = Math.max(red, green, blue);
  const [spot] = onSubject;
  if (spot !== undefined) {
    const question = `${shareInWords(spot.burntShare)} of this is burnt: is anything lost in it?`;
    return [{ about: 'burnt', question, spot: spot.box }];
  }
  if (share < GLINT) return [];
  const colour = red === share ? 'red' : green === share ? 'green' : 'blue';
  const question = `The ${colour} is burnt on ${shareInWords(share)} round the point: is detail lost in it?`;
  return [{ about: 'burnt', question, spot: boxRound(frame.point, 0.05) }];
}

function eye({ subject, around }: FrameBeforeJudge): JudgeQuestion[] {
  return around.slice(0, 2).map(({ box }) => {
    const question =
      subject !== null && near(box, subject.box)
        ? 'Does this bright patch touch the subject?'
        : 'Does this bright patch pull the eye from the subject?';
    return { about: 'eye', question, spot: box };
  });
}

function framing(subject: SubjectRegion | null): JudgeQuestion[] {
  if (subject === null) return [];
  const { box, touches, room } = subject;
  const cut = touches.map((side): JudgeQuestion => ({
    about: 'whole',
    question: `The subject reaches the ${sideInWords(side)}: is it meant to be cut there?`,
    spot: stripAt(side, box),
  }));
  const sides: readonly FrameSide[] = ['left', 'right', 'top', 'bottom'];
  const tight = sides.filter((side) => room[side] > 0 && room[side] < LITTLE_ROOM);
  return [
    ...cut,
    ...tight.map((side): JudgeQuestion => ({
      about: 'room',
      question: `${shareInWords(room[side])} of the ${isAcross(side) ? 'width' : 'height'} is left at the ${sideInWords(side)}: is that room enough?`,
      spot: stripAt(side, box),
    })),
  ];
}

const isAcross = (side: FrameSide) => side === 'left' || side === 'right';

function sideInWords(side: FrameSide): string {
  return isAcross(side) ? `${side} side` : side;
}

/** The strip between the subject and a side, at least so wide that it can be seen. */
function stripAt(side: FrameSide, box: FrameBox): FrameBox {
  const right = 1 - box.x - box.width;
  const bottom = 1 - box.y - box.height;
  switch (side) {
    case 'left':
      return { x: 0, y: box.y, width: Math.max(EDGE_STRIP, box.x), height: box.height };
    case 'right': {
      const width = Math.max(EDGE_STRIP, right);
      return { x: 1 - width, y: box.y, width, height: box.height };
    }
    case 'top':
      return { x: box.x, y: 0, width: box.width, height: Math.max(EDGE_STRIP, box.y) };
    case 'bottom': {
      const height = Math.max(EDGE_STRIP, bottom);
      return { x: box.x, y: 1 - height, width: box.width, height };
    }
  }
}

function near(a: FrameBox, b: FrameBox): boolean {
  return (
    a.x < b.x + b.width + TOUCHING &&
    b.x < a.x + a.width + TOUCHING &&
    a.y < b.y + b.height + TOUCHING &&
    b.y < a.y + a.height + TOUCHING
  );
}

function boxRound(point: { readonly x: number; readonly y: number }, reach: number): FrameBox {
  const x = Math.max(0, point.x - reach);
  const y = Math.max(0, point.y - reach);
  return {
    ...{ x, y },
    width: Math.min(1, point.x + reach) - x,
    height: Math.min(1, point.y + reach) - y,
  };
}
