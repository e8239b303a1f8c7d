/** The second look at a frame: a crop round the point of focus, and what it shows of exposure. */
import { clipping, evennessStops, type Clipping } from '@tepal/imaging';
import { lumaOf } from '../decode/jpeg-decoder.ts';
import { openFrame, rgbOfFrame } from '../decode/open-frame.ts';
import { cropRound, cutOut, type Luma8 } from '../decode/pixels.ts';
import type { PhotographKind } from '../files/kinds.ts';
import type { Bench } from './bench.ts';

export interface LookRequest {
  readonly path: string;
  readonly kind: PhotographKind;
  /** Fractions of width and height. */
  readonly point: { readonly x: number; readonly y: number };
  /** Other places, to tell who moved. */
  readonly elsewhere: readonly { readonly x: number; readonly y: number }[];
}

export interface LookResult {
  /** Luma round the point, and where the point lies in it [px]. */
  readonly crop: Luma8;
  readonly at: { readonly x: number; readonly y: number };
  /** Smaller crops of the other places. */
  readonly elsewhere: readonly Luma8[];
  readonly clipped: Clipping;
  readonly evennessStops: number;
}

/** Side of the crop that blur is measured in [px]: the measuring window and room for a drift that is left. */
export const CROP_PX = 640;

const ELSEWHERE_PX = 256;

/** Share of the frame's width round the point that exposure is judged in. */
const EXPOSURE_RADIUS = 0.05;

export async function lookAtPoint(bench: Bench, request: LookRequest): Promise<LookResult> {
  const { path, kind, point } = request;
  const picture = await rgbOfFrame(await openFrame(path, kind), bench.room);
  const place = cropRound(picture, point, { width: CROP_PX, height: CROP_PX });
  const crop = lumaOf(cutOut(picture, 3, place));
  const radius = Math.max(8, EXPOSURE_RADIUS * picture.width);
  const round = cutOut(picture, 3, cropRound(picture, point, { width: 2 * radius, height: 2 * radius }));
  return {
    crop,
    at: {
      x: point.x * picture.width - 0.5 - place.left,
      y: point.y * picture.height - 0.5 - place.top,
    },
    elsewhere: request.elsewhere.map((other) =>
      lumaOf(cutOut(picture, 3, cropRound(picture, other, { width: ELSEWHERE_PX, height: ELSEWHERE_PX }))),
    ),
    clipped: clipping(round, radius),
    evennessStops: evennessStops(round, radius),
  };
}
