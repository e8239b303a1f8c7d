/** The second look at a frame whose window does not suffice: crops of it, and what it shows of exposure in colour. */
import { burntByLuma, clipping, type BurntByLuma, type Clipping } from '@tepal/imaging';
import { lumaOf } from '../../decode/jpeg-decoder.ts';
import { openFrame, topOfFrame, type FrameTop, type OpenFrame } from '../../decode/open-frame.ts';
import { cropRound, cutOut, type Luma8, type PixelSize } from '../../decode/pixels.ts';
import { sensorClippingAt, type SensorClipping } from '../../decode/sensor-clipping.ts';
import type { PhotographKind } from '../../files/kinds.ts';
import type { Bench } from '../bench.ts';

interface Place {
  readonly x: number;
  readonly y: number;
}

export interface LookRequest {
  readonly path: string;
  readonly kind: PhotographKind;
  /** Fractions of width and height. */
  readonly point: Place;
  /** Other places, to tell who moved. */
  readonly elsewhere: readonly Place[];
  /** Whether exposure is asked for; it takes a decode in colour. */
  readonly exposure: boolean;
  /** The raw of the same picture, looked at where the frame itself is burnt. */
  readonly rawPath: string | null;
}

/** Exposure round the point. */
export interface PointExposure {
  /** Of the sensor's samples for a raw, else of the picture. */
  readonly clipped: Clipping;
  /** What the raw has where the picture is burnt; null where there is none, or nothing is burnt. */
  readonly inRaw: SensorClipping | null;
  /** Largest code of any colour of the picture, and largest luma [0..255]. */
  readonly topCode: number;
  readonly topLuma: number;
  /** By which other frames of the series, exposed alike, are judged from luma; null for a sensor's samples. */
  readonly byLuma: BurntByLuma | null;
}

export interface LookResult {
  /** Luma round the point. */
  readonly crop: Luma8;
  /** Smaller crops of the other places. */
  readonly elsewhere: readonly Luma8[];
  readonly exposure: PointExposure | null;
}

/** Side of the crop that blur is measured in [px]: the measuring window and room for a drift that is left. */
export const CROP_PX = 640;
const ELSEWHERE_PX = 256;

/** Share of the frame's width round the point that exposure is judged in. */
const EXPOSURE_RADIUS = 0.05;

/** Radius that exposure is judged in [px]. */
export function exposureRadiusPx(frame: { readonly width: number }): number {
  return Math.max(8, EXPOSURE_RADIUS * frame.width);
}

export async function lookAtPoint({ room }: Bench, request: LookRequest): Promise<LookResult> {
  const { path, kind, point } = request;
  const frame = await openFrame(path, kind);
  // A raw without a full preview is judged by its sensor's samples alone.
  const inColour = request.exposure && (frame.raw === null || frame.raw.preview !== null);
  const channels = inColour ? 3 : 1;
  const rowsOf = (whole: PixelSize) =>
    Math.max(
      lowestRow(whole, point, CROP_PX),
      lowestRow(whole, point, 2 * exposureRadiusPx(whole)),
      ...request.elsewhere.map((place) => lowestRow(whole, place, ELSEWHERE_PX)),
    );
  const top = await topOfFrame(frame, channels, rowsOf, room);
  const cut = (place: Place, side: number): Luma8 => {
    const crop = cutOut(top.rows, channels, square(top.whole, place, side));
    return inColour ? lumaOf(crop) : crop;
  };
  const crops = {
    crop: cut(point, CROP_PX),
    elsewhere: request.elsewhere.map((place) => cut(place, ELSEWHERE_PX)),
  };
  if (!request.exposure) return { ...crops, exposure: null };
  if (inColour) return { ...crops, exposure: await exposureOf(top, frame, request, room) };
  const sensor = await sensorClippingAt(frame, point, EXPOSURE_RADIUS, room);
  const clipped = sensor ?? { red: 0, green: 0, blue: 0 };
  return {
    ...crops,
    exposure: { clipped: channelsOf(clipped), inRaw: sensor, topCode: 255, topLuma: 255, byLuma: null },
  };
}

const square = (whole: PixelSize, place: Place, side: number) =>
  cropRound(whole, place, { width: side, height: side });

function lowestRow(whole: PixelSize, place: Place, side: number): number {
  const { top, height } = square(whole, place, side);
  return top + height;
}

const channelsOf = ({ red, green, blue }: Clipping): Clipping => ({ red, green, blue });

async function exposureOf(
  { whole, rows }: FrameTop,
  frame: OpenFrame,
  { point, rawPath }: LookRequest,
  room: Bench['room'],
): Promise<PointExposure> {
  const radius = exposureRadiusPx(whole);
  const round = cutOut(rows, 3, square(whole, point, 2 * radius));
  const clipped = clipping(round, radius);
  const luma = lumaOf(round);
  const found = {
    ...{ topCode: largest(round.data), topLuma: largest(luma.data) },
    byLuma: burntByLuma(round, luma, radius),
  };
  if (clipped.red + clipped.green + clipped.blue === 0) return { ...found, clipped, inRaw: null };
  const raw =
    frame.raw !== null ? frame : rawPath === null ? null : await openFrame(rawPath, 'raw').catch(() => null);
  const sensor =
    raw === null ? null : await sensorClippingAt(raw, point, EXPOSURE_RADIUS, room).catch(() => null);
  const own = frame.raw !== null && sensor !== null;
  return { ...found, clipped: own ? channelsOf(sensor) : clipped, inRaw: sensor };
}

function largest(codes: Uint8Array): number {
  let most = 0;
  for (let i = 0; i < codes.length; i += 1) if (codes[i]! > most) most = codes[i]!;
  return most;
}
