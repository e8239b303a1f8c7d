/** One registration of two small lumas against sharp shrinking a frame of 20 megapixels to that size. */
import { loadKernel, registerSimilarity, renderDrift, seeded, type FloatImage } from '@tepal/imaging';
import { readFileSync } from 'node:fs';
import sharp from 'sharp';

const seed = 2;
const random = seeded(seed);
const coarse = Buffer.from(Uint8Array.from({ length: 64 * 43 }, () => random() * 255));
const { data } = await sharp(coarse, { raw: { width: 64, height: 43, channels: 1 } })
  .resize(512, 341, { fit: 'fill', kernel: 'cubic' })
  .extractChannel(0)
  .raw()
  .toBuffer({ resolveWithObject: true });
const scene: FloatImage = { width: 512, height: 341, data: Float32Array.from(data) };
const moving = renderDrift(scene, { shiftPx: { x: 6, y: -4 }, rotationDeg: 0.4, scale: 1.01 });
const kernel = await loadKernel(
  readFileSync(process.env.TEPAL_KERNEL ?? 'packages/imaging/build/kernel.wasm'),
);
const frame = Buffer.alloc(5472 * 3648, 100);

async function median(run: () => Promise<number> | number): Promise<number> {
  const times: number[] = [];
  for (let i = 0; i < 9; i++) {
    const start = performance.now();
    if (!Number.isFinite(await run())) throw new Error('the result was not a number');
    times.push(performance.now() - start);
  }
  return times.sort((a, b) => a - b)[4]!;
}

const ours = await median(() => registerSimilarity(kernel, scene, moving).scale);
const shrink = await median(async () => {
  const small = await sharp(frame, { raw: { width: 5472, height: 3648, channels: 1 } })
    .resize(512, 341)
    .raw()
    .toBuffer();
  return small.length;
});
process.stdout.write(
  `register 512x341, seed ${seed}: ${ours.toFixed(1)} ms; ` +
    `${(ours / shrink).toFixed(2)} x sharp shrinking 20 megapixels (${shrink.toFixed(1)} ms)\n`,
);
