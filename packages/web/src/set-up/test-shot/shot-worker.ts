/** Measures a test shot beside the page; the picture stays on this device and is not kept. */
/// <reference lib="webworker" />
import { deliveryLimitPx } from '@tepal/advice';
import {
  brightSpots,
  clipping,
  cropOfRgba,
  evennessStops,
  guessPoint,
  lessExposure,
  loadKernel,
  lumaOfRgba,
  measureBlurAlone,
  subjectRegion,
  surveyFrame,
  type FrameBox,
  type FrameSurvey,
  type Kernel,
  type LumaImage,
  type Rgba8Image,
} from '@tepal/imaging';
import type { ShotAnswer, ShotAsk, ShotMeasures, ShotPoint } from './shot-messages.ts';

// The worker's own global, which the page's types call something else.
const worker = globalThis as unknown as DedicatedWorkerGlobalScope;

interface Taken {
  readonly picture: Rgba8Image;
  readonly luma: LumaImage;
  readonly survey: FrameSurvey;
}

let kernel: Promise<Kernel> | null = null;
let taken: Taken | null = null;

worker.addEventListener('message', ({ data }: MessageEvent<ShotAsk>) => {
  void answer(data).then((said) => worker.postMessage(said));
});

async function answer({ file, point, delivery }: ShotAsk): Promise<ShotAnswer> {
  try {
    kernel ??= fetch('/assets/kernel.wasm').then(async (got) => loadKernel(await got.arrayBuffer()));
    const ready = await kernel;
    if (file !== null) taken = await takeIn(ready, file);
    if (taken === null) return { ok: false, message: 'There is no picture to measure.' };
    return { ok: true, measures: measuresAt(ready, taken, point, delivery) };
  } catch (fault) {
    kernel = null;
    const why = fault instanceof Error ? fault.message : 'no reason given';
    return {
      ok: false,
      message: `The picture could not be measured (${why}). Give a JPEG as the camera wrote it.`,
    };
  }
}

/** Every pixel, upright. */
async function takeIn(ready: Kernel, file: Blob): Promise<Taken> {
  const bitmap = await createImageBitmap(file, { colorSpaceConversion: 'none' });
  const { width, height } = bitmap;
  const canvas = new OffscreenCanvas(width, height);
  const context = canvas.getContext('2d', { willReadFrequently: true });
  if (context === null) throw new Error('this browser hands out no pixels');
  context.drawImage(bitmap, 0, 0);
  bitmap.close();
  const picture = context.getImageData(0, 0, width, height);
  const luma = lumaOfRgba(picture);
  return { picture, luma, survey: surveyFrame(ready, luma) };
}

/** Burnt and even within this share of the frame's width of the point, as everywhere in the house. */
const nearShare = 0.05;
const windowPx = 384;

function measuresAt(
  ready: Kernel,
  { picture, luma, survey }: Taken,
  wanted: ShotPoint | null,
  delivery: ShotAsk['delivery'],
): ShotMeasures {
  const { width, height } = picture;
  const point = wanted ?? guessPoint(survey);
  const limitPx = deliveryLimitPx(
    { widthPx: width, heightPx: height },
    {
      name: 'the print',
      inWords: 'the print',
      longSideMm: Math.max(delivery.widthMm, delivery.heightMm),
      shortSideMm: Math.min(delivery.widthMm, delivery.heightMm),
      viewingDistanceMm: delivery.viewingDistanceMm,
      boxPx: null,
    },
  );
  const radiusPx = nearShare * width;
  const near = cropOfRgba(picture, around(point, picture, 2 * radiusPx));
  const region = subjectRegion(survey, point);
  const subject = region?.box ?? usualBox(point);
  return {
    widthPx: width,
    heightPx: height,
    point,
    pointGuessed: wanted === null,
    blur: measureBlurAlone(ready, lumaWindow(luma, around(point, picture, windowPx)), { limitPx }),
    limitPx,
    clipped: clipping(near, radiusPx),
    less: lessExposure(near, radiusPx),
    evennessStops: evennessStops(cropOfRgba(picture, inPixels(subject, picture))),
    region,
    distractions: brightSpots(survey, subject, 'around', 5),
    burnt: brightSpots(survey, subject, 'onSubject', 5),
  };
}

/** Where sharpness says nothing of the subject: a third of the frame round the point. */
const usualBox = ({ x, y }: ShotPoint): FrameBox => ({
  x: Math.max(0, x - 1 / 6),
  y: Math.max(0, y - 1 / 6),
  width: Math.min(1, x + 1 / 6) - Math.max(0, x - 1 / 6),
  height: Math.min(1, y + 1 / 6) - Math.max(0, y - 1 / 6),
});

interface Box {
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
}

/** A square round a point, moved so far that it lies in the picture. */
function around(
  { x, y }: ShotPoint,
  { width, height }: { width: number; height: number },
  sidePx: number,
): Box {
  const side = Math.min(Math.round(sidePx), width, height);
  const from = (share: number, whole: number) =>
    Math.round(Math.min(whole - side, Math.max(0, share * whole - side / 2)));
  return { left: from(x, width), top: from(y, height), width: side, height: side };
}

const inPixels = (box: FrameBox, { width, height }: Rgba8Image): Box => ({
  left: box.x * width,
  top: box.y * height,
  width: Math.max(1, box.width * width),
  height: Math.max(1, box.height * height),
});

function lumaWindow({ width, data }: LumaImage, box: Box) {
  const out = new Float32Array(box.width * box.height);
  for (let y = 0; y < box.height; y++) {
    const from = (box.top + y) * width + box.left;
    out.set(data.subarray(from, from + box.width), y * box.width);
  }
  return { width: box.width, height: box.height, data: out };
}
