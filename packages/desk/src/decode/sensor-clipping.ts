/** What a raw's sensor caught round a place of the upright picture, colour by colour. */
import type { OpenFrame } from './open-frame.ts';
import { isTurned } from './pixels.ts';
import { rawMosaic } from './raw-decoder.ts';
import { clippingOfMosaic, type SensorClipping } from './raw-mosaic.ts';
import type { DecodeRoom } from './room.ts';

export type { SensorClipping } from './raw-mosaic.ts';

/**
 * @param point fractions of the upright picture's width and height
 * @param radius share of the upright picture's width
 * @returns null where the frame is no raw, or its sensor has no 2 by 2 pattern of colours
 * @throws DecodeFault when its pixels are damaged
 */
export async function sensorClippingAt(
  frame: OpenFrame,
  point: { readonly x: number; readonly y: number },
  radius: number,
  room: DecodeRoom,
): Promise<SensorClipping | null> {
  if (frame.raw === null || !frame.raw.header.bayer) return null;
  const mosaic = await rawMosaic(frame.bytes, frame.raw.header, room);
  const { orientation } = frame;
  const uprightWidth = isTurned(orientation) ? mosaic.height : mosaic.width;
  const stored = asStored(point, orientation);
  const centre = { x: stored.x * mosaic.width - 0.5, y: stored.y * mosaic.height - 0.5 };
  return clippingOfMosaic(mosaic, centre, radius * uprightWidth);
}

/** A place of the upright picture in the picture as stored, both as fractions. @source EXIF 2.32, tag 0x0112 */
export function asStored(
  { x, y }: { readonly x: number; readonly y: number },
  orientation: OpenFrame['orientation'],
): { readonly x: number; readonly y: number } {
  switch (orientation) {
    case 2:
      return { x: 1 - x, y };
    case 3:
      return { x: 1 - x, y: 1 - y };
    case 4:
      return { x, y: 1 - y };
    case 5:
      return { x: y, y: x };
    case 6:
      return { x: y, y: 1 - x };
    case 7:
      return { x: 1 - y, y: 1 - x };
    case 8:
      return { x: 1 - y, y: x };
    default:
      return { x, y };
  }
}
