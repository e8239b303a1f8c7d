/** What a thread decodes in: buffers that the next frame uses again, and its share of the memory for pictures. */

/** Memory that decoders share out among themselves, so that all threads together stay within it. */
export interface PictureMemory {
  /** The largest picture's worth that can be asked for [bytes]. */
  readonly totalBytes: number;
  /**
   * Waits until so much is free, works, and gives it back. Never asked for again from inside `work`.
   *
   * @param untilEnd keep it until the thread has ended, for only then is what it took free again; whatever the thread
   *   does before that is done within it
   */
  hold<T>(bytes: number, work: () => Promise<T>, untilEnd?: boolean): Promise<T>;
}

export interface DecodeRoom {
  luma: Buffer;
  rgb: Buffer;
  readonly memory: PictureMemory;
  /** Set when the thread has grown by a large picture and its memory comes back only when it ends. */
  worn: boolean;
}

/** For all threads together [bytes]; with the program itself and its libraries it stays well below 1 GiB. */
export const PICTURE_MEMORY_BYTES = 480 * 2 ** 20;

/** Buffers larger than this are not kept for the next frame [bytes]. */
const KEPT_BYTES = 64 * 2 ** 20;

/** A room whose memory nobody else draws on. */
export function newDecodeRoom(memory: PictureMemory = alone()): DecodeRoom {
  return { luma: Buffer.alloc(0), rgb: Buffer.alloc(0), memory, worn: false };
}

function alone(): PictureMemory {
  return { totalBytes: PICTURE_MEMORY_BYTES, hold: (_, work) => work() };
}

/** A buffer of the room, at least so long; the same one as before where that suffices. */
export function roomFor(room: DecodeRoom, which: 'luma' | 'rgb', bytes: number): Buffer {
  if (room[which].length < bytes) room[which] = Buffer.allocUnsafeSlow(bytes);
  if (room[which].length > KEPT_BYTES) room.worn = true;
  return room[which];
}
