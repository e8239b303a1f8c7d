/** The check sum of exchange files. */

const TABLE = Array.from({ length: 256 }, (_, n) => {
  let c = n;
  for (let k = 0; k < 8; k++) c = c & 1 ? 0xedb88320 ^ (c >>> 1) : c >>> 1;
  return c >>> 0;
});

/**
 * CRC-32 of some bytes.
 *
 * @returns a whole number from 0 to 2^32 - 1
 * @source IEEE 802.3; the check value of "123456789" is cbf43926 (RFC 3385 and every list of such codes)
 */
export function crc32(bytes: Uint8Array): number {
  let c = 0xffffffff;
  for (const byte of bytes) c = TABLE[(c ^ byte) & 0xff]! ^ (c >>> 8);
  return (c ^ 0xffffffff) >>> 0;
}
