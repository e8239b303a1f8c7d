/**
 * One survey of 20 megapixels against decoding the same JPEG to grey, and against plain script; the blur of one crop,
 * alone and in a series of eight, against the same decode.
 */
import turbo from '@julusian/jpeg-turbo';
import { loadKernel, measureBlurAlone, measureBlurInSeries, seeded, surveyFrame } from '@tepal/imaging';
import { readFileSync } from 'node:fs';
import sharp from 'sharp';

const width = 5472;
const height = 3648;
const seed = 1;
const random = seeded(seed);
const pixels = new Uint8Array(width * height);
for (let y = 0; y < height; y++) {
  for (let x = 0; x < width; x++) {
    pixels[y * width + x] = 128 + 60 * Math.sin(x / 9) * Math.cos(y / 13) + 30 * (random() - 0.5);
  }
}
const jpeg = await sharp(pixels, { raw: { width, height, channels: 1 } })
  .jpeg({ quality: 92 })
  .toBuffer();
const kernel = await loadKernel(
  readFileSync(process.env.TEPAL_KERNEL ?? 'packages/imaging/build/kernel.wasm'),
);
const grey = Buffer.alloc(width * height);

function median(run: () => number): number {
  let consumed = 0;
  const times = Array.from({ length: 9 }, () => {
    const start = performance.now();
    consumed += run();
    return performance.now() - start;
  });
  if (!Number.isFinite(consumed)) throw new Error('the result was not a number');
  return times.sort((a, b) => a - b)[4]!;
}

/** The tile grid alone, in plain script. */
function plain(): number {
  const tiles = new Float64Array(Math.ceil(width / 32) * Math.ceil(height / 32) * 4);
  for (let y = 1; y < height - 1; y++) {
    const row = (y >> 5) * Math.ceil(width / 32);
    for (let x = 1; x < width - 1; x++) {
      const at = y * width + x;
      const [l, r, u, d] = [pixels[at - 1]!, pixels[at + 1]!, pixels[at - width]!, pixels[at + width]!];
      const gx = r - l;
      const gy = d - u;
      const laplacian = l + r + u + d - 4 * pixels[at]!;
      const to = (row + (x >> 5)) * 4;
      tiles[to]! += gx * gx;
      tiles[to + 1]! += gx * gy;
      tiles[to + 2]! += gy * gy;
      tiles[to + 3]! += laplacian * laplacian;
    }
  }
  return tiles[0]!;
}

const crops = Array.from({ length: 8 }, (_, i) => {
  const side = 640;
  const data = new Float32Array(side * side);
  for (let y = 0; y < side; y++) {
    for (let x = 0; x < side; x++) data[y * side + x] = pixels[(y + i) * width + x + 2 * i]!;
  }
  return { width: side, height: side, data };
});
const alone = median(() => measureBlurAlone(kernel, crops[0]!, { limitPx: 1 }).sigmaPx ?? 0);
const inSeries =
  median(() => measureBlurInSeries(kernel, crops, { limitPx: 1 }).blurs[1]!.sigmaPx ?? 0) / crops.length;

const survey = median(() => surveyFrame(kernel, { width, height, data: pixels }).noiseSigma);
const decode = median(() => turbo.decompressSync(jpeg, grey, { format: turbo.FORMAT_GRAY }).width);
const script = median(plain);
process.stdout.write(
  `survey ${width}x${height}, seed ${seed}: ${survey.toFixed(1)} ms; ` +
    `${(survey / decode).toFixed(2)} x grey decode (${decode.toFixed(1)} ms); ` +
    `${(survey / script).toFixed(2)} x plain script (${script.toFixed(1)} ms)\n`,
);
process.stdout.write(
  `blur of a 640 px crop: alone ${alone.toFixed(1)} ms, ${(alone / decode).toFixed(2)} x grey decode; ` +
    `in a series of ${crops.length} ${inSeries.toFixed(1)} ms a crop, ${(inSeries / decode).toFixed(2)} x\n`,
);
