/** The best of a set: ranks within a series, each with its reasons in words. */
import type { MeasuredFrame } from '@tepal/formats';
import { DomainError, requirePositive } from '@tepal/science';
import { compareFileNames } from './files/file-name-order.ts';
import type { FileKind } from './files/companions.ts';
import { pxInWords, shareInWords } from './amounts.ts';

/** What ranking looks at. */
export interface FrameToRank extends Pick<
  MeasuredFrame,
  'file' | 'blur' | 'clipped' | 'evennessStops' | 'clutter'
> {
  readonly kind: FileKind;
}

/** A frame's place in its series, 1 the best, and why. */
export interface RankedFrame {
  readonly file: string;
  readonly rank: number;
  readonly reasons: readonly string[];
}

/** How sharp a frame is at the point, in the trade's words. */
export type Sharpness = 'sharp' | 'nearly' | 'cannotTell' | 'soft';

/** Up to so many times the limit a frame counts as nearly sharp (our choice, no source). */
const NEARLY_UP_TO = 1.5;
/** Blurs closer than this ratio are not told apart: the measurement's own median error within a series. */
const TOLD_APART = 1.05;

/**
 * How sharp a blur is against a limit.
 *
 * @param sigmaPx null where it could not be measured
 * @param limitPx the largest sharp sigma [px], > 0
 */
export function sharpnessOf(sigmaPx: number | null, limitPx: number): Sharpness {
  requirePositive('limitPx', limitPx, 'px');
  if (sigmaPx === null) return 'cannotTell';
  if (sigmaPx <= limitPx) return 'sharp';
  return sigmaPx <= NEARLY_UP_TO * limitPx ? 'nearly' : 'soft';
}

/**
 * Ranks the frames of one series.
 *
 * First by the blur at the point, in steps of 5 % (a ladder, so that the order is one; two blurs just either side of
 * a rung are told apart though close); "cannot tell" stands behind the sharp and nearly sharp, before the soft. Then
 * by what is burnt on the subject (worst channel, in steps of 2 %), then by the evenness of the light (half stops)
 * and the calm of the background (tenths), last by the blur to the digit and the file's name.
 *
 * @param frames of one kind of file: previews of raws and JPEGs are sharpened differently; in any order
 * @param limitPx the largest sharp sigma at the delivery asked for [px], > 0
 * @returns best first; ranks 1..n without gaps
 * @throws DomainError if kinds are mixed or a file occurs twice
 */
export function rankSeries(frames: readonly FrameToRank[], limitPx: number): RankedFrame[] {
  requirePositive('limitPx', limitPx, 'px');
  checkComparable(frames);
  const keyed = frames.map((frame) => ({ frame, key: rankingKey(frame, limitPx) }));
  keyed.sort((a, b) => compareKeys(a.key, b.key) || compareFileNames(a.frame.file, b.frame.file));
  const best = keyed[0]?.frame;
  if (best === undefined) return [];
  const ordered = keyed.map(({ frame }) => frame);
  return ordered.map((frame, i) => ({
    file: frame.file,
    rank: i + 1,
    reasons: i === 0 ? reasonsForBest(frame, ordered, limitPx) : reasonsBehind(frame, best, limitPx),
  }));
}

const CLASSES: readonly Sharpness[] = ['sharp', 'nearly', 'cannotTell', 'soft'];

function rankingKey(frame: FrameToRank, limitPx: number): readonly number[] {
  const { sigmaPx } = frame.blur;
  return [
    CLASSES.indexOf(sharpnessOf(sigmaPx, limitPx)),
    sigmaPx === null ? 0 : blurStep(sigmaPx),
    clippedStep(frame),
    evennessStep(frame),
    clutterStep(frame),
    sigmaPx ?? 0,
  ];
}

/** Sigmas of one step count as equal. Below a tenth of a pixel nothing is told apart. */
function blurStep(sigmaPx: number): number {
  return Math.round(Math.log(Math.max(sigmaPx, 0.1)) / Math.log(TOLD_APART));
}

function worstClipped(frame: FrameToRank): { channel: 'red' | 'green' | 'blue'; share: number } {
  const { red, green, blue } = frame.clipped;
  const share = Math.max(red, green, blue);
  const channel = red === share ? 'red' : green === share ? 'green' : 'blue';
  return { channel, share };
}

const clippedStep = (frame: FrameToRank) => Math.round(worstClipped(frame).share / 0.02);
/** Not known counts as middling: 4 stops of light, three tenths of the background's edges. */
const evennessStep = (frame: FrameToRank) => Math.round((frame.evennessStops ?? 4) / 0.5);
const clutterStep = (frame: FrameToRank) => Math.round((frame.clutter ?? 0.3) / 0.1);

function compareKeys(a: readonly number[], b: readonly number[]): number {
  for (let i = 0; i < a.length; i++) {
    const difference = (a[i] ?? 0) - (b[i] ?? 0);
    if (difference !== 0) return difference;
  }
  return 0;
}

function reasonsForBest(
  frame: FrameToRank,
  ordered: readonly FrameToRank[],
  limitPx: number,
): readonly string[] {
  const { sigmaPx } = frame.blur;
  if (ordered.length === 1) return alone(sigmaPx, limitPx);
  if (sigmaPx === null) return ['how sharp it is cannot be told; none of the others is measured as sharp'];
  const measured = ordered.flatMap(({ blur }) => (blur.sigmaPx === null ? [] : [blur.sigmaPx]));
  const least = Math.min(...measured);
  const size = pxInWords(sigmaPx);
  if (measured.length === 1) return [`${size} at the point, the only one that could be measured`];
  if (sigmaPx <= least) {
    const tied = measured.filter((sigma) => sigma > sigmaPx && blurStep(sigma) === blurStep(sigmaPx)).length;
    const even = tied > 0 ? `, too close to tell from ${tied === 1 ? 'one other' : `${tied} others`}` : '';
    return [`the sharpest at the point: ${size}${even}`];
  }
  const sharpest = ordered.find(({ blur }) => blur.sigmaPx === least);
  const better = sharpest === undefined ? [] : worseBesidesBlur(sharpest, frame);
  const [own, others] = toldApart(sigmaPx, least);
  return [`${own} at the point against ${others} in the sharpest, too close to tell`, ...better];
}

function alone(sigmaPx: number | null, limitPx: number): readonly string[] {
  if (sigmaPx === null) return ['the only frame; how sharp it is cannot be told'];
  const is = sharpnessOf(sigmaPx, limitPx);
  const words = { sharp: 'sharp', nearly: 'nearly sharp', soft: 'soft', cannotTell: 'not known' }[is];
  return [`the only frame: ${pxInWords(sigmaPx)} at the point, ${words}`];
}

function reasonsBehind(frame: FrameToRank, best: FrameToRank, limitPx: number): readonly string[] {
  const own = frame.blur.sigmaPx;
  const bests = best.blur.sigmaPx;
  if (own === null && bests === null) {
    const others = worseBesidesBlur(frame, best);
    return ['how sharp it is cannot be told', ...others];
  }
  if (own === null) {
    return [`how sharp it is cannot be told; the best is measured at ${pxInWords(bests ?? 0)}`];
  }
  if (bests === null) return [`soft at the point: ${pxInWords(own)}`];
  if (blurStep(own) === blurStep(bests) && sharpnessOf(own, limitPx) === sharpnessOf(bests, limitPx)) {
    const others = worseBesidesBlur(frame, best);
    return [
      `as sharp as the best as far as can be told: ${pxInWords(own)}`,
      ...(others.length > 0 ? others : ['nothing measured tells it from the best']),
    ];
  }
  const [more, less] = toldApart(own, bests);
  return [`softer at the point: ${more} against ${less}`, ...worseBesidesBlur(frame, best)];
}

/** In what a frame is worse than a better one, apart from blur. */
function worseBesidesBlur(worse: FrameToRank, better: FrameToRank): readonly string[] {
  const reasons: string[] = [];
  if (clippedStep(worse) > clippedStep(better)) {
    const { channel, share } = worstClipped(worse);
    reasons.push(
      `${channel} burnt on ${shareInWords(share)} round the point against ${shareInWords(worstClipped(better).share)}`,
    );
  }
  const { evennessStops: own, clutter } = worse;
  const { evennessStops: others, clutter: othersClutter } = better;
  if (own !== null && others !== null && evennessStep(worse) > evennessStep(better)) {
    reasons.push(`less even light: ${own.toFixed(1)} stops against ${others.toFixed(1)}`);
  }
  if (clutter !== null && othersClutter !== null && clutterStep(worse) > clutterStep(better)) {
    reasons.push(
      `busier background: ${shareInWords(clutter)} of its edges in the brightest tenth against ${shareInWords(othersClutter)}`,
    );
  }
  return reasons;
}

/** Two blurs in words, with a further figure where they would read the same. */
function toldApart(a: number, b: number): [string, string] {
  const [x, y] = [pxInWords(a), pxInWords(b)];
  return x === y ? [`${a.toFixed(2)} px`, `${b.toFixed(2)} px`] : [x, y];
}

function checkComparable(frames: readonly FrameToRank[]): void {
  const kinds = [...new Set(frames.map(({ kind }) => kind))];
  if (kinds.length > 1) {
    throw new DomainError('notOneOf', 'frames of one kind of file', 'frames', kinds.join(' and '));
  }
  const files = new Set(frames.map(({ file }) => file));
  if (files.size < frames.length) {
    throw new DomainError('notOneOf', 'each file once', 'frames', 'a file twice');
  }
}
