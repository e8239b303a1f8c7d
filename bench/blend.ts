/** Adding a frame of 20 megapixels to a blend against sharp turning and blurring the same 16-bit frame. */
import { createBlendSession, loadKernel } from '@tepal/imaging';
import { readFileSync } from 'node:fs';
import sharp from 'sharp';

const width = 5472;
const height = 3648;
const data = new Uint16Array(width * height * 3);
for (let y = 0, at = 0; y < height; y++) {
  for (let x = 0; x < width; x++, at += 3) {
    const value = 30_000 + 12_000 * Math.sin(x / 11 + y / 37) + 9000 * Math.cos(y / 17 - x / 91);
    data[at] = value;
    data[at + 1] = 0.9 * value;
    data[at + 2] = 0.7 * value;
  }
}
const kernel = await loadKernel(
  readFileSync(process.env.TEPAL_KERNEL ?? 'packages/imaging/build/kernel.wasm'),
);
const session = createBlendSession(kernel);
const motion = { shiftPx: { x: 8, y: -5 }, rotationDeg: 0.3, scale: 1.005 };
const times: number[] = [];
for (let i = 0; i < 3; i++) {
  const start = performance.now();
  const { used } = session.addFrame({ width, height, data }, i, i === 0 ? undefined : motion);
  if (!used) throw new Error('a frame was left out');
  times.push(performance.now() - start);
}
const start = performance.now();
const blend = session.finish();
if (blend.pictureRows(0, height).length !== data.length) throw new Error('the picture has another size');
const finish = performance.now() - start;
const peak = process.resourceUsage().maxRSS / 1024;
const sharpStart = performance.now();
await sharp(data, { raw: { width, height, channels: 3 } })
  .affine([1, 0.005, -0.005, 1])
  .blur(2)
  .raw({ depth: 'ushort' })
  .toBuffer();
const reference = performance.now() - sharpStart;
const frame = (times[1]! + times[2]!) / 2;
process.stdout.write(
  `blend ${width}x${height}: ${(frame / 1000).toFixed(2)} s a frame, finish ${(finish / 1000).toFixed(2)} s, ` +
    `peak ${peak.toFixed(0)} MiB; ${(frame / reference).toFixed(2)} x sharp turning and blurring it ` +
    `(${(reference / 1000).toFixed(2)} s)\n`,
);
