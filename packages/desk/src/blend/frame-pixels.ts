/** A frame decoded for blending: as many bits as its file has, in a buffer that the next frame uses again. */
import type { PhotographKind } from '../files/kinds.ts';
import { openFrame, rgb16OfFrame, rgbOfFrame } from '../decode/open-frame.ts';
import type { Rgb16, Rgb8 } from '../decode/pixels.ts';
import type { DecodeRoom } from '../decode/room.ts';
import { sharpHeader } from '../decode/sharp-decoder.ts';

/** What decoding one frame may take [bytes]: it is the only one at the time. */
export const onePicture = {
  totalBytes: 1800 * 2 ** 20,
  hold: <T>(_: number, work: () => Promise<T>) => work(),
};

/** Pixels with as many bits as the file has, and its profile; they may lie in `room`, valid until the next decode. */
export async function pixelsOf(
  path: string,
  kind: PhotographKind,
  room: DecodeRoom,
): Promise<{ readonly picture: Rgb8 | Rgb16; readonly profile: Uint8Array | null }> {
  const frame = await openFrame(path, kind);
  if (frame.raw !== null) return rgb16OfFrame(frame);
  const { profile, bitsPerSample } = frame.header ?? (await sharpHeader(frame.bytes));
  if (bitsPerSample === 16) return rgb16OfFrame(frame);
  return { picture: await rgbOfFrame(frame, room), profile };
}
