import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import { lumaOfFrame, openBytes, openFrame } from './open-frame.ts';
import { decoderReason } from './plain-reasons.ts';
import { newDecodeRoom } from './room.ts';

/** What the decoders' libraries say, as they said it of damaged files. */
const said = [
  'source: bad seek to 1234',
  'Input buffer has corrupt header: source: bad seek to 1306',
  'VipsJpeg: Quantization table 0x00 was not defined',
  'VipsJpeg: Corrupt JPEG data: 68 extraneous bytes before marker 0xc2',
  'VipsJpeg: Invalid SOS parameters for sequential JPEG',
  'tiff2vips: Defined set_get_field_type of custom tag 31919 (Tag 31919) is TIFF_SETGET_UNDEFINED',
  'tiff2vips: Using code not yet in table',
  'tiff2vips: Not enough data for scanline 0, expected a request for at most 7200 bytes',
  'Warning treated as error due to failOn setting',
  'Input buffer contains unsupported image format',
  'No error',
  '',
];

const LIBRARY_WORDS = /seek|vips|tiff2|tag \d|failOn|0x|scanline|buffer|No error|SOS|received|luma/i;

describe('reasons', () => {
  it.each(said)('say %j in plain words', (message) => {
    const told = decoderReason(new Error(message));
    expect(told).not.toMatch(LIBRARY_WORDS);
    expect(told).toMatch(/^[a-z].{15,}[^.]$/);
  });

  it('keep the words of the file system', () => {
    expect(decoderReason(Object.assign(new Error('x'), { code: 'EIO' }))).toBe(
      'the disk reports a read error',
    );
  });

  it('reach the user so from a TIFF that is cut off', async () => {
    const whole = await sharp({ create: { width: 64, height: 64, channels: 3, background: '#888' } })
      .tiff()
      .toBuffer();
    const folder = mkdtempSync(join(tmpdir(), 'tepal-reasons-'));
    try {
      const path = join(folder, 'cut.tif');
      writeFileSync(path, whole.subarray(0, whole.length / 2));
      const read = openFrame(path, 'tiff').then((frame) => lumaOfFrame(frame, newDecodeRoom()));
      const told: unknown = await read.then(
        () => null,
        (error: unknown) => error,
      );
      expect(told).toBeInstanceOf(Error);
      expect((told as Error).message).toMatch(/^It cannot be decoded: .*\.$/);
      expect((told as Error).message).not.toMatch(LIBRARY_WORDS);
    } finally {
      rmSync(folder, { recursive: true, force: true });
    }
  });

  it('give the size of a picture too small to be measured, and what would do', async () => {
    const small = await sharp({ create: { width: 8, height: 9, channels: 3, background: '#888' } })
      .jpeg()
      .toBuffer();
    const read = lumaOfFrame(await openBytes(small, 'jpeg'), newDecodeRoom());
    await expect(read).rejects.toThrow('It is 8 × 9 px; pictures of at least 16 × 16 px are measured.');
  });
});
