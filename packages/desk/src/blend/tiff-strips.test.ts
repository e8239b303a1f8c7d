import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { writeTiffStrips } from './tiff-strips.ts';

let folder = '';
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'strips-'));
});
afterAll(() => rm(folder, { recursive: true }));

// Read back by libvips (libtiff), which did not write it; 64 rows a strip, so 150 rows end in a short one.
describe('a TIFF written strip by strip', () => {
  it.each([
    [3, 16, false],
    [1, 16, true],
    [1, 8, true],
    [3, 16, true],
  ] as const)(
    '%i channels of %i bit, deflated: %s, comes back bit for bit',
    async (channels, bits, deflate) => {
      const [width, height] = [37, 150];
      const length = width * height * channels;
      const codes = Array.from({ length }, (_, i) => (i * 7919) % 2 ** bits);
      const data = bits === 8 ? Uint8Array.from(codes) : Uint16Array.from(codes);
      const path = join(folder, `${channels}-${bits}-${String(deflate)}.tif`);
      await writeTiffStrips(path, {
        width,
        height,
        channels,
        bitsPerSample: bits,
        deflate,
        rows: (first, count) => data.slice(first * width * channels, (first + count) * width * channels),
      });
      const found = await sharp(path)
        .toColourspace(channels === 3 ? 'rgb16' : bits === 16 ? 'grey16' : 'b-w')
        .raw(bits === 16 ? { depth: 'ushort' } : {})
        .toBuffer({ resolveWithObject: true });
      expect([found.info.width, found.info.height, found.info.channels]).toEqual([width, height, channels]);
      const { buffer, byteOffset, byteLength } = found.data;
      const read = bits === 16 ? new Uint16Array(buffer, byteOffset, byteLength / 2) : found.data;
      expect([...read]).toEqual([...data]);
    },
  );

  it('does not write over a file', async () => {
    const path = join(folder, 'there.tif');
    const source = { width: 2, height: 1, channels: 1, bitsPerSample: 8, deflate: false } as const;
    const rows = () => Uint8Array.of(1, 2);
    await writeTiffStrips(path, { ...source, rows });
    await expect(writeTiffStrips(path, { ...source, rows })).rejects.toThrow(/exist/i);
  });
});
