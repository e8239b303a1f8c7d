/** The outing in plain sentences: how many frames are sharp, what spoiled the others, what would have helped. */
import type { MeasuredFrame } from '@tepal/formats';
import { asSentence, pxInWords, shutterInWords } from '../amounts.ts';
import {
  coarsePrintInWords,
  DELIVERIES,
  deliveryLimitPx,
  largestDelivery,
  printResolutionPpi,
  type Delivery,
} from '../delivery.ts';
import { rescuedBy, type Rescued, type SpoiledFrame } from './remedies.ts';
import { listInWords, spoilersOf, type Spoiler } from './spoilers.ts';

/** What the verdict looks at. */
export type FrameToJudge = Pick<
  MeasuredFrame,
  'file' | 'series' | 'widthPx' | 'heightPx' | 'exposure' | 'blur'
>;

export interface VerdictOptions {
  /** What the frames are judged for; A3 unless given. */
  readonly delivery?: Delivery;
  /** What moved when the subject moved; "plant" unless given. */
  readonly subject?: string;
  /** How the camera was held; hands are named only when known. */
  readonly held?: 'hand' | 'support';
}

/** So many frames spoiled by one cause, at known settings, before anything is said of what would have helped. */
const FEWEST_FOR_ADVICE = 5;

/**
 * The verdict on an outing.
 *
 * The first sentence is the answer. The second counts what spoiled the rest, with the shutter most of them were taken
 * at. The third says what would have helped, by how much and on what basis, and stands only where at least five frames
 * were spoiled by one cause at a known setting and some of them would have been sharp.
 *
 * @param frames all frames of the outing, in any order
 * @returns one to three sentences
 */
export function outingVerdict(
  frames: readonly FrameToJudge[],
  options: VerdictOptions = {},
): readonly string[] {
  const { delivery = DELIVERIES[0], subject = 'plant' } = options;
  if (delivery === undefined || frames.length === 0) return ['There are no frames to judge yet.'];
  const limitOf = (frame: FrameToJudge) => deliveryLimitPx(frame, delivery);
  const sharp = frames.filter(({ blur }, i) => {
    const frame = frames[i];
    return blur.sigmaPx !== null && frame !== undefined && blur.sigmaPx <= limitOf(frame);
  });
  const spoilers = spoilersOf(frames, limitOf, { subject, held: options.held ?? null });
  return [
    answer(frames, sharp.length, delivery),
    ...spoiledSentence(frames, spoilers),
    ...remedySentence(frames, spoilers, sharp.length, limitOf),
  ];
}

function answer(frames: readonly FrameToJudge[], sharp: number, delivery: Delivery): string {
  const count = frames.length;
  const enough = `sharp enough for ${delivery.inWords}${coarsest(frames, delivery)}`;
  if (frames.every(({ blur }) => blur.sigmaPx === null)) {
    return count === 1
      ? 'How sharp the one frame is cannot be told.'
      : `How sharp the ${String(count)} frames are cannot be told.`;
  }
  if (sharp === count) {
    if (count === 1) return `The one frame is ${enough}.`;
    return count === 2 ? `Both frames are ${enough}.` : `All ${String(count)} frames are ${enough}.`;
  }
  if (sharp > 0)
    return `${String(sharp)} of ${String(count)} frames ${sharp === 1 ? 'is' : 'are'} ${enough}.`;
  const unmeasured = frames.some(({ blur }) => blur.sigmaPx === null);
  return noneSharp(frames, enough, unmeasured);
}

/** The lowest resolution at which the frames print, where it is low for the distance. */
function coarsest(frames: readonly FrameToJudge[], delivery: Delivery): string {
  const least = frames.reduce((a, b) =>
    printResolutionPpi(b, delivery) < printResolutionPpi(a, delivery) ? b : a,
  );
  const words = coarsePrintInWords(least, delivery);
  return words === null ? '' : ` ${words}`;
}

function noneSharp(frames: readonly FrameToJudge[], enough: string, unmeasured: boolean): string {
  const count = frames.length;
  const best = frames.reduce((a, b) => ((b.blur.sigmaPx ?? Infinity) < (a.blur.sigmaPx ?? Infinity) ? b : a));
  const size = pxInWords(best.blur.sigmaPx ?? 0);
  const lesser = largestDelivery(best, best.blur.sigmaPx);
  const serves = lesser === null ? '' : `, sharp enough for ${lesser.inWords}`;
  if (count === 1) return `The one frame is not ${enough}: ${size}${serves}.`;
  const none = count === 2 ? 'Neither frame is' : `None of the ${String(count)} frames is`;
  const measured = unmeasured ? `${none} known to be ${enough}` : `${none} ${enough}`;
  return `${measured}; the sharpest has ${size}${serves}.`;
}

function spoiledSentence(
  frames: readonly FrameToJudge[],
  spoilers: readonly Spoiler<FrameToJudge>[],
): string[] {
  const [first, ...rest] = spoilers;
  if (first === undefined) return [];
  if (frames.length === 1) {
    return first.cause === 'cannotTell' ? [] : [asSentence(`${first.alone}${shutterOfOne(first)}.`)];
  }
  if (spoilers.length === 1 && first.cause === 'cannotTell' && first.frames.length === frames.length)
    return [];
  const clauses = [`${first.clause}${mostlyAt(first)}`, ...rest.map((spoiler) => spoiler.clause)];
  return [asSentence(`${listWithShutter(clauses)}.`)];
}

/** Clauses that hold a comma are parted by semicolons. */
function listWithShutter(clauses: readonly string[]): string {
  return clauses.some((clause) => clause.includes(',')) ? clauses.join('; ') : listInWords(clauses);
}

const MOTION = new Set(['subjectMoved', 'cameraMoved', 'moved', 'movedAndOutOfFocus']);

function mostlyAt(spoiler: Spoiler<FrameToJudge>): string {
  if (!MOTION.has(spoiler.cause)) return '';
  const shutter = commonest(spoiler.frames.map(({ exposure }) => shutterOf(exposure.exposureTimeS)));
  if (shutter === null) return '';
  if (shutter.count === spoiler.frames.length) {
    return shutter.count === 1 ? `, at ${shutter.value}` : `, all at ${shutter.value}`;
  }
  return shutter.count * 2 > spoiler.frames.length ? `, mostly at ${shutter.value}` : '';
}

function shutterOfOne(spoiler: Spoiler<FrameToJudge>): string {
  const shutter = MOTION.has(spoiler.cause)
    ? shutterOf(spoiler.frames[0]?.exposure.exposureTimeS ?? null)
    : null;
  return shutter === null ? '' : ` at ${shutter}`;
}

const shutterOf = (timeS: number | null) => (timeS !== null && timeS > 0 ? shutterInWords(timeS) : null);

function commonest(values: readonly (string | null)[]): { value: string; count: number } | null {
  const counts = new Map<string, number>();
  for (const value of values) if (value !== null) counts.set(value, (counts.get(value) ?? 0) + 1);
  return [...counts]
    .map(([value, count]) => ({ value, count }))
    .reduce<{ value: string; count: number } | null>(
      (best, next) => (best === null || next.count > best.count ? next : best),
      null,
    );
}

function remedySentence(
  frames: readonly FrameToJudge[],
  spoilers: readonly Spoiler<FrameToJudge>[],
  sharpBefore: number,
  limitOf: (frame: FrameToJudge) => number,
): string[] {
  const spoiler = spoilers.find(({ cause }) => cause in REMEDIES);
  const remedy = spoiler === undefined ? undefined : REMEDIES[spoiler.cause as keyof typeof REMEDIES];
  if (spoiler === undefined || remedy === undefined) return [];
  const known = spoiler.frames.filter(({ exposure }) => (exposure[remedy.setting] ?? 0) > 0);
  const least = leastOfSeries(frames);
  const spoiled = known.flatMap((frame): SpoiledFrame[] => {
    const found = least.get(frame.series);
    // A frame that is the only one measured of its series has nothing to be compared with.
    if (found === undefined || found.count < 2) return [];
    return [{ blur: frame.blur, leastSigmaPx: found.sigmaPx, limitPx: limitOf(frame) }];
  });
  if (spoiled.length < FEWEST_FOR_ADVICE) return [];
  const rescued = rescuedBy(spoiled, remedy.shrink);
  if (rescued.count === 0) return [];
  const words = `${remedy.words}${remedy.setting === 'exposureTimeS' ? halvedShutter(known) : ''} would have made`;
  return [`${words} ${byHowMuch(rescued, spoiled.length, sharpBefore)}, ${remedy.basis}.`];
}

const REMEDIES = {
  subjectMoved: motionRemedy('as long as it moved as it did'),
  cameraMoved: motionRemedy('held as it was'),
  moved: motionRemedy('the movement being what it was'),
  outOfFocus: {
    setting: 'fNumber',
    shrink: Math.SQRT1_2,
    words: 'A smaller aperture by one stop',
    basis: 'by the blur measured with its defocus made smaller by the f-number',
  },
} as const;

function motionRemedy(given: string) {
  return {
    setting: 'exposureTimeS',
    shrink: 0.5,
    words: 'Half the exposure time',
    basis: `by the blur measured with its movement halved, ${given}`,
  } as const;
}

function halvedShutter(frames: readonly FrameToJudge[]): string {
  const times = frames.map(({ exposure }) => exposure.exposureTimeS);
  const shutter = commonest(times.map(shutterOf));
  const time = times.find((timeS) => shutter !== null && shutterOf(timeS) === shutter.value) ?? null;
  if (shutter === null || time === null || shutter.count * 2 <= frames.length) return '';
  const most = shutter.count === frames.length ? '' : ' for most of them';
  return `, ${shutterInWords(time / 2)}${most},`;
}

function byHowMuch(rescued: Rescued, of: number, sharpBefore: number): string {
  const { count, low, high } = rescued;
  const range = low < high ? ` (${String(low)} to ${String(high)})` : '';
  const ratio = sharpBefore === 0 ? 0 : (sharpBefore + count) / sharpBefore;
  const times = ratio >= 1.8 && ratio <= 2.2 ? ', about twice as many in all' : '';
  return `about ${String(count)}${range} of these ${String(of)} sharp${times}`;
}

/** The measured frames of each series: how many, and the least blur among them. */
function leastOfSeries(frames: readonly FrameToJudge[]): Map<string, { count: number; sigmaPx: number }> {
  const least = new Map<string, { count: number; sigmaPx: number }>();
  for (const { series, blur } of frames) {
    if (blur.sigmaPx === null) continue;
    const found = least.get(series) ?? { count: 0, sigmaPx: blur.sigmaPx };
    least.set(series, { count: found.count + 1, sigmaPx: Math.min(found.sigmaPx, blur.sigmaPx) });
  }
  return least;
}
