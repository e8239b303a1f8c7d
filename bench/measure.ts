/**
 * Measuring a folder against decoding it: `tepal measure` over 20-megapixel JPEGs, by libjpeg-turbo's `djpeg -grayscale`
 * over the same files with one process a core. Both sides in one run; processor time beside wall time, since another
 * program's load lies on both. Seed 1. --quick measures 6 frames instead of 100. Needs the built desk and djpeg.
 */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { availableParallelism, tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';

const root = process.cwd();
const source = join(root, 'demo/sources');
const count = process.argv.includes('--quick') ? 6 : 100;
const [width, height] = [5472, 3648];

/** Frames of one scene, drifted by hand, every fifth of them soft; noise as at a middling ISO. */
async function render(folder: string): Promise<void> {
  const picture = readdirSync(source).find((name) => name === 'marguerites.jpg');
  if (picture === undefined) throw new Error(`no photograph lies in ${source}`);
  const room = { width: width + 200, height: height + 200 };
  const scene = await sharp(join(source, picture))
    .resize({ ...room, fit: 'cover' })
    .removeAlpha()
    .raw()
    .toBuffer();
  let state = 1;
  const roll = () => (state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0) / 2 ** 32;
  for (let i = 0; i < Math.min(count, 10); i += 1) {
    const [left, top] = [Math.floor(roll() * 40), Math.floor(roll() * 40)];
    let frame = sharp(scene, { raw: { ...room, channels: 3 } }).extract({ left, top, width, height });
    if (i % 5 === 4) frame = frame.blur(1 + 2 * roll());
    const pixels = await frame.raw().toBuffer();
    for (let k = 0; k < pixels.length; k += 1) {
      pixels[k] = Math.min(255, Math.max(0, pixels[k]! + Math.round((roll() + roll() + roll() - 1.5) * 5)));
    }
    const jpeg = await sharp(pixels, { raw: { width, height, channels: 3 } })
      .jpeg({ quality: 92 })
      .toBuffer();
    // A hundred files of ten contents: decoding and measuring do not know it, for no two bear one name.
    for (let copy = i; copy < count; copy += 10)
      writeFileSync(join(folder, `F${String(copy).padStart(4, '0')}.jpg`), jpeg);
  }
}

/** Wall and processor time of a command and all that it starts [ms]. */
function timed(command: string): { wallMs: number; cpuMs: number } {
  const started = performance.now();
  const { stderr, status } = spawnSync(
    'bash',
    ['-c', `TIMEFORMAT='%U %S'; time { ${command}; } 2>/dev/null`],
    {
      encoding: 'utf8',
      maxBuffer: 2 ** 28,
      stdio: ['ignore', 'ignore', 'pipe'],
    },
  );
  if (status !== 0) throw new Error(`${command} ended with ${String(status)}`);
  const [user, system] = stderr.trim().split(/\s+/).slice(-2).map(Number);
  return { wallMs: performance.now() - started, cpuMs: 1000 * (user! + system!) };
}

const folder = mkdtempSync(join(tmpdir(), 'tepal-bench-'));
try {
  if (spawnSync('djpeg', ['-version']).error !== undefined) {
    process.stdout.write(
      'measure: djpeg is not installed (Debian: libjpeg-turbo-progs); nothing to compare with.\n',
    );
  } else {
    await render(folder);
    const cores = availableParallelism();
    const decode = timed(`ls '${folder}'/*.jpg | xargs -P ${cores} -n 1 djpeg -grayscale -outfile /dev/null`);
    const tepal = join(root, 'packages/desk/bin/tepal.js');
    const measure = timed(`'${process.execPath}' '${tepal}' measure '${folder}' --json >/dev/null`);
    const bytes = readdirSync(folder).reduce((sum, name) => sum + readFileSync(join(folder, name)).length, 0);
    process.stdout.write(
      `measure: ${count} JPEGs of 20 megapixels, ${Math.round(bytes / count / 1e5) / 10} MB each, ${cores} cores\n` +
        `  djpeg -grayscale  ${Math.round(decode.wallMs / count)} ms a frame, processor ${Math.round(decode.cpuMs / count)} ms\n` +
        `  tepal measure     ${Math.round(measure.wallMs / count)} ms a frame, processor ${Math.round(measure.cpuMs / count)} ms\n` +
        `  ratio             ${(measure.wallMs / decode.wallMs).toFixed(2)}, of processor time ${(measure.cpuMs / decode.cpuMs).toFixed(2)}; wanted at most 1.25\n`,
    );
  }
} finally {
  rmSync(folder, { recursive: true, force: true });
}
