/** The sway of a flower from a folder of frames: pixels followed, then what they say. */
import { limitUm, freezingTimeS, swayOfDisplacements, type Delivery, type WatchedPath } from '@tepal/science';
import type { SwayDocument } from '@tepal/formats';
import { createSwayTracker, guessPoint, surveyFrame, type SwayTracker } from '@tepal/imaging';
import { lumaOfFrame, openFrame } from '../decode/open-frame.ts';
import { newDecodeRoom } from '../decode/room.ts';
import { DeskFault, reasonOf } from '../files/faults.ts';
import { openKernel } from '../measure/kernel-file.ts';
import { burstOf } from './burst.ts';
import { wordsOfSway } from './words.ts';

export interface SwayWish {
  readonly folder: string;
  readonly point: { readonly x: number; readonly y: number } | null;
  readonly headShare: number | null;
  readonly intervalS: number | null;
  readonly fastestHz: number | null;
  /** m and the sensor's width [mm] for lengths at the subject; null for px alone. */
  readonly scale: SwayScale | null;
  readonly delivery: Delivery;
  tell(progress: { done?: number; total?: number; saying?: string }): void;
}

export interface SwayScale {
  readonly magnification: number;
  readonly sensorMm: { readonly width: number; readonly height: number };
  /** Of the full frame; null where the frames are it. */
  readonly pixels: { readonly width: number; readonly height: number } | null;
}

type FollowedFrame = SwayDocument['frames'][number];

/** @throws DeskFault when nothing can be read, or the times do not part the frames */
export async function swayOfFolder(wish: SwayWish): Promise<SwayDocument> {
  const { folder, tell, scale } = wish;
  const burst = await burstOf(folder, wish.intervalS);
  const failed = [...burst.failed];
  const kernel = await openKernel();
  const room = newDecodeRoom();
  const frames: FollowedFrame[] = [];
  const againsts = new Set<'surroundings' | 'frame'>();
  let tracker: SwayTracker | null = null;
  let point: SwayDocument['point'] | null = null;
  let size = { width: 0, height: 0 };
  tell({ done: 0, total: burst.frames.length, saying: 'Following the flower.' });
  for (const [i, { photograph, atS }] of burst.frames.entries()) {
    try {
      const luma = await lumaOfFrame(await openFrame(photograph.path, photograph.kind), room);
      if (tracker === null) {
        size = { width: luma.width, height: luma.height };
        point =
          wish.point === null
            ? { ...guessPoint(surveyFrame(kernel, luma)), origin: 'guessed' }
            : { ...wish.point, origin: 'marked' };
        const share = wish.headShare === null ? {} : { headShare: wish.headShare };
        tracker = createSwayTracker(kernel, luma, { point, ...share });
      }
      const found = tracker.add(luma);
      if (found !== null) againsts.add(found.against);
      frames.push({ file: photograph.file, atS, xPx: found?.x ?? null, yPx: found?.y ?? null });
    } catch (error) {
      failed.push({ file: photograph.file, reason: reasonOf(error) });
    }
    tell({ done: i + 1 });
  }
  if (point === null)
    throw new DeskFault(`No frame of ${folder} could be read: ${failed[0]?.reason ?? ''}`, 3);
  const kept = frames.filter((frame) => frame.xPx !== null && frame.yPx !== null);
  const path = swayOfDisplacements(
    {
      timesS: kept.map(({ atS }) => atS),
      x: kept.map(({ xPx }) => xPx ?? 0),
      y: kept.map(({ yPx }) => yPx ?? 0),
    },
    wish.fastestHz === null ? {} : { fastestHz: wish.fastestHz },
  );
  const against = againsts.size === 2 ? 'both' : (againsts.values().next().value ?? 'frame');
  const numbers = numbersOf(path, scale, size, wish.delivery);
  const base = { folder, point, frames, times: burst.times, against, savedTo: null, failed } as const;
  const document = { schema: 'tepal/sway/1' as const, ...base, ...numbers };
  return { ...document, ...wordsOfSway(document, path) };
}

/** The path's numbers in px and mm. */
function numbersOf(
  path: WatchedPath,
  scale: SwayScale | null,
  size: { readonly width: number; readonly height: number },
  delivery: Delivery,
) {
  const { kind, directionDeg, shareAlong } = path;
  const none = {
    displacement: null,
    amplitude: null,
    speedPerS: null,
    frequencyHz: null,
    freezingTimeS: null,
  };
  const full = scale === null ? null : (scale.pixels ?? size);
  const frame =
    scale === null || full === null
      ? null
      : {
          sensorWidthMm: Math.max(scale.sensorMm.width, scale.sensorMm.height),
          sensorHeightMm: Math.min(scale.sensorMm.width, scale.sensorMm.height),
          widthPx: Math.max(full.width, full.height),
          heightPx: Math.min(full.width, full.height),
        };
  const limit = frame === null ? null : limitUm(frame, delivery);
  const common = { kind, directionDeg, shareAlong, limitUm: limit };
  if (path.kind !== 'swing') {
    return { ...common, ...none, candidatesHz: path.kind === 'ambiguous' ? path.candidatesHz : [] };
  }
  const mmPerPx =
    scale === null || frame === null ? null : frame.sensorWidthMm / frame.widthPx / scale.magnification;
  const inMm = (px: number) => (mmPerPx === null ? null : px * mmPerPx);
  const lengths = (px: number, [low, high]: readonly [number, number]) => ({
    ...{ px, mm: inMm(px), processPx: [low, high] as const },
    processMm: mmPerPx === null ? null : ([low * mmPerPx, high * mmPerPx] as const),
  });
  const { observed, process } = path;
  const amplitudeMm = inMm(observed.amplitude);
  return {
    ...common,
    displacement: lengths(observed.displacement, process.displacement.interval90),
    amplitude: { px: observed.amplitude, mm: amplitudeMm },
    speedPerS: lengths(observed.speed, process.speed.interval90),
    frequencyHz: { observed: observed.frequencyHz, process: process.frequencyHz.interval90 },
    candidatesHz: path.lookAlikesHz,
    freezingTimeS:
      amplitudeMm === null || limit === null || scale === null
        ? null
        : freezingTimeS({ amplitudeMm, frequencyHz: observed.frequencyHz }, scale.magnification, limit),
  };
}
