// Profiles written by us are read by another library, and those of another library by us.
import { crc32, deflateSync } from 'node:zlib';
import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import { iccProfileName } from '../photo/icc-profile-name.ts';
import { readIccProfile } from './read-icc.ts';
import { SRGB_CURVE, writeMatrixProfile } from './write-icc.ts';

/** sRGB's colorants and adaptation, Lindbloom (OI 8.4) and OI C-14. */
const toXyz = [
  ...[0.4360747, 0.3850649, 0.1430804],
  ...[0.2225045, 0.7168786, 0.0606169],
  ...[0.0139322, 0.0971045, 0.7141733],
] as unknown as Parameters<typeof writeMatrixProfile>[0]['toXyz'];
const adaptation = [
  ...[1.0478112, 0.0228866, -0.050127],
  ...[0.0295424, 0.9904844, -0.0170491],
  ...[-0.0092345, 0.0150436, 0.7521316],
] as unknown as typeof toXyz;

const srgbOfSharp = async (name: string) => {
  const pixel = await sharp(Buffer.alloc(3), { raw: { width: 1, height: 1, channels: 3 } })
    .withIccProfile(name)
    .tiff()
    .toBuffer();
  const { icc } = await sharp(pixel).metadata();
  return icc!;
};

describe('a profile of ours', () => {
  const bytes = writeMatrixProfile({ name: 'Made here', toXyz, adaptation, curve: SRGB_CURVE });

  it('is read back by us, name, matrix and curve', () => {
    expect(iccProfileName(bytes)).toBe('Made here');
    const read = readIccProfile(bytes);
    if (!read.ok || read.value.colours.kind !== 'matrix') throw new Error('a matrix profile was expected');
    read.value.colours.toXyz.forEach((value, i) =>
      expect(Math.abs(value - toXyz[i]!)).toBeLessThan(1 / 65_536),
    );
    const [curve] = read.value.colours.curves;
    // OI C-7: half of sRGB's codes is 0.21404114 of the light; the parameters are stored in 16 fractional bits.
    expect(Math.abs(curve[Math.round(0.5 * (curve.length - 1))]! - 0.21404114)).toBeLessThan(2e-4);
  });

  it('is read by another library, which takes it for sRGB', async () => {
    const codes = Buffer.from([0, 12, 40, 90, 128, 200, 255, 60, 3]);
    const tagged = await sharp(codes, { raw: { width: 3, height: 1, channels: 3 } })
      .png()
      .toBuffer();
    const withProfile = await sharp(withIccp(tagged, bytes)).metadata();
    expect(Buffer.compare(withProfile.icc!, Buffer.from(bytes))).toBe(0);
    const converted = await sharp(withIccp(tagged, bytes)).withIccProfile('srgb').raw().toBuffer();
    converted.forEach((code, i) => expect(Math.abs(code - codes[i]!)).toBeLessThanOrEqual(1));
  });

  it('has the same bytes each time', () => {
    expect(writeMatrixProfile({ name: 'Made here', toXyz, adaptation, curve: SRGB_CURVE })).toEqual(bytes);
  });
});

/** A PNG with an iCCP chunk put in after its header. */
function withIccp(png: Buffer, profile: Uint8Array): Buffer {
  const body = Buffer.concat([Buffer.from('iCCPx\0\0', 'latin1'), deflateSync(profile)]);
  const length = Buffer.alloc(4);
  length.writeUInt32BE(body.length - 4);
  const sum = Buffer.alloc(4);
  sum.writeUInt32BE(crc32(body));
  return Buffer.concat([png.subarray(0, 33), length, body, sum, png.subarray(33)]);
}

describe('profiles of another library', () => {
  it('sRGB: its matrix is that of the standard', async () => {
    const read = readIccProfile(await srgbOfSharp('srgb'));
    if (!read.ok || read.value.colours.kind !== 'matrix') throw new Error('a matrix profile was expected');
    expect(read.value).toMatchObject({ deviceSpace: 'rgb', use: 'display' });
    read.value.colours.toXyz.forEach((value, i) => expect(Math.abs(value - toXyz[i]!)).toBeLessThan(3e-4));
  });

  it('CMYK: tables there and back, four channels', async () => {
    const read = readIccProfile(await srgbOfSharp('cmyk'));
    if (!read.ok || read.value.colours.kind !== 'table') throw new Error('tables were expected');
    const { channels, toConnection, fromConnection } = read.value.colours;
    expect(read.value.deviceSpace).toBe('cmyk');
    expect([channels, toConnection.gridPoints.length, toConnection.outputs.length]).toEqual([4, 4, 3]);
    expect([fromConnection?.gridPoints.length, fromConnection?.outputs.length]).toEqual([3, 4]);
    const points = toConnection.gridPoints.reduce((product, n) => product * n, 3);
    expect(toConnection.grid.length).toBe(points);
  });
});

describe('what is no profile', () => {
  it.each([
    ['nothing', new Uint8Array(0)],
    ['a text', new TextEncoder().encode('not a profile '.repeat(20))],
    [
      'a profile cut off',
      writeMatrixProfile({ name: 'x', toXyz, adaptation, curve: SRGB_CURVE }).slice(0, 300),
    ],
  ])('%s gets a sentence', (_name, bytes) => {
    const read = readIccProfile(bytes);
    expect(read.ok).toBe(false);
    if (!read.ok) expect(read.fault.message).toMatch(/^profile, .* but expected /);
  });

  it('whatever bytes are changed, reading ends with a value', () => {
    const good = writeMatrixProfile({ name: 'x', toXyz, adaptation, curve: SRGB_CURVE });
    for (let i = 0; i < 500; i += 1) {
      const bytes = good.slice();
      bytes[(i * 7919) % bytes.length] = (i * 104_729) & 255;
      bytes[(i * 131) % bytes.length] = 255;
      expect(() => readIccProfile(bytes)).not.toThrow();
    }
  });
});
