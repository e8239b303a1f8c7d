/** A small picture in linear light as bytes, from the desk to a page. */

/** Planes of the working space, 1 is white; as the imaging package names them. */
export interface ProxyPicture {
  readonly width: number;
  readonly height: number;
  readonly red: Float32Array;
  readonly green: Float32Array;
  readonly blue: Float32Array;
  /** Whether a camera's raw or a rendered picture lies behind it. */
  readonly origin: 'camera' | 'rendered';
}

const HEAD_BYTES = 12;

/** Width, height and origin as 32-bit numbers, then the three planes as 32-bit floats, the lowest byte first. */
export function proxyBytes(picture: ProxyPicture): Uint8Array<ArrayBuffer> {
  const { width, height, red, green, blue, origin } = picture;
  const bytes = new Uint8Array(HEAD_BYTES + 12 * width * height);
  const head = new DataView(bytes.buffer);
  head.setUint32(0, width, true);
  head.setUint32(4, height, true);
  head.setUint32(8, origin === 'camera' ? 1 : 0, true);
  [red, green, blue].forEach((plane, c) => {
    new Float32Array(bytes.buffer, HEAD_BYTES + 4 * c * width * height, width * height).set(plane);
  });
  return bytes;
}

/** @returns null where the bytes are no such picture */
export function readProxy(bytes: Uint8Array<ArrayBuffer>): ProxyPicture | null {
  if (bytes.byteLength < HEAD_BYTES) return null;
  const head = new DataView(bytes.buffer, bytes.byteOffset);
  const width = head.getUint32(0, true);
  const height = head.getUint32(4, true);
  const count = width * height;
  if (count === 0 || bytes.byteLength !== HEAD_BYTES + 12 * count) return null;
  const planes = new Float32Array(bytes.slice(HEAD_BYTES).buffer);
  const [red, green, blue] = [0, 1, 2].map((c) => planes.subarray(c * count, (c + 1) * count));
  return {
    ...{ width, height, red: red!, green: green!, blue: blue! },
    origin: head.getUint32(8, true) === 1 ? 'camera' : 'rendered',
  };
}
