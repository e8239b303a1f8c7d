/** A small invented card for tests: raws, JPEGs and sidecars of a camera's folder, without pictures in them. */
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';

export interface RenderedCard {
  readonly pictures: number;
  /** Of each raw [byte]; the JPEG has half. */
  readonly bytes?: number;
  readonly sidecars?: boolean;
}

/** Writes the card; every file has a content of its own, and the time stands in an EXIF block of each JPEG. */
export function renderCard(card: string, { pictures, bytes = 20_000, sidecars = true }: RenderedCard): void {
  const folder = join(card, 'DCIM', '100MEADW');
  mkdirSync(folder, { recursive: true });
  for (let i = 1; i <= pictures; i += 1) {
    const name = join(folder, `IMG_${String(i).padStart(4, '0')}`);
    writeFileSync(`${name}.CR2`, noise(i, bytes));
    const time = `2026:05:10 06:${String(i % 60).padStart(2, '0')}:00`;
    writeFileSync(`${name}.JPG`, Buffer.concat([jpegHead(time), noise(i + 1000, bytes >> 1)]));
    if (sidecars) writeFileSync(`${name}.CR2.xmp`, `<x:xmpmeta picture="${i}"/>`);
  }
  if (sidecars) writeFileSync(join(card, 'DCIM', 'READ.ME'), 'An invented card.');
}

/** Bytes that no other seed gives. */
function noise(seed: number, length: number): Buffer {
  const bytes = Buffer.alloc(length);
  let state = (seed * 2_654_435_761) >>> 0;
  for (let i = 0; i < length; i += 1) {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    bytes[i] = state >>> 24;
  }
  return bytes;
}

/** Start of a JPEG with DateTimeOriginal in its EXIF directory (tag 0x9003, 20 characters). */
function jpegHead(time: string): Buffer {
  const tiff = Buffer.alloc(26 + 18 + 20);
  tiff.write('II*\0', 0, 'latin1');
  tiff.writeUInt32LE(8, 4);
  tiff.writeUInt16LE(1, 8);
  entry(tiff, 10, [0x8769, 4, 1, 26]);
  tiff.writeUInt16LE(1, 26);
  entry(tiff, 28, [0x9003, 2, 20, 44]);
  tiff.write(`${time}\0`, 44, 'latin1');
  const payload = Buffer.concat([Buffer.from('Exif\0\0', 'latin1'), tiff]);
  const length = Buffer.alloc(2);
  length.writeUInt16BE(payload.length + 2);
  return Buffer.concat([Buffer.from([0xff, 0xd8, 0xff, 0xe1]), length, payload]);
}

function entry(tiff: Buffer, at: number, [tag, type, count, value]: [number, number, number, number]): void {
  tiff.writeUInt16LE(tag, at);
  tiff.writeUInt16LE(type, at + 2);
  tiff.writeUInt32LE(count, at + 4);
  tiff.writeUInt32LE(value, at + 8);
}
