// Bursts rendered from a photograph that moves over another: what was rendered is found again.
import { DomainError, swayOfDisplacements } from '@tepal/science';
import { beforeAll, describe, expect, it } from 'vitest';
import { photograph, testKernel } from '../../fixtures/read-fixtures.ts';
import type { FloatImage } from '../image.ts';
import type { Kernel } from '../kernel.ts';
import { renderBlur, renderDrift, renderNoise, seeded } from '../rendered/render-blur.ts';
import { createSwayTracker } from './track-sway.ts';

let kernel: Kernel;
let flower: FloatImage;
let ground: FloatImage;
beforeAll(async () => {
  kernel = await testKernel();
  flower = await photograph('scabious');
  ground = renderBlur(kernel, await photograph('fern'), { discDiameterPx: 3 });
});

const SIDE = 360;
const RADIUS = 70;

/** The flower shifted by `at` before the ground, both shifted by the camera, on `SIDE` px with noise. */
function frame(at: { x: number; y: number }, camera: { x: number; y: number }, seed: number): FloatImage {
  const still = { rotationDeg: 0, scale: 1 };
  // The motion takes the result back onto the picture.
  const behind = renderDrift(ground, { ...still, shiftPx: { x: -camera.x, y: -camera.y } });
  const moved = { x: at.x + camera.x, y: at.y + camera.y };
  const before = renderDrift(flower, { ...still, shiftPx: { x: -moved.x, y: -moved.y } });
  const data = new Float32Array(SIDE * SIDE);
  const margin = (480 - SIDE) / 2;
  for (let y = 0; y < SIDE; y++) {
    for (let x = 0; x < SIDE; x++) {
      const i = (y + margin) * 480 + x + margin;
      const r = Math.hypot(x - (SIDE - 1) / 2 - moved.x, y - (SIDE - 1) / 2 - moved.y);
      const cover = Math.min(1, Math.max(0, (RADIUS - r) / 2 + 0.5));
      data[y * SIDE + x] = cover * before.data[i]! + (1 - cover) * behind.data[i]!;
    }
  }
  return renderNoise({ width: SIDE, height: SIDE, data }, 2, seed);
}

function drift(random: () => number): () => { x: number; y: number } {
  const at = { x: 0, y: 0 };
  return () => {
    at.x += 1.6 * (random() - 0.5);
    at.y += 1.6 * (random() - 0.5);
    return { ...at };
  };
}

/** Follows a burst along a path [px], six frames a period of `hz`. */
function follow(path: readonly number[], hz: number) {
  const camera = drift(seeded(5));
  const [c, s] = [Math.cos(0.35), Math.sin(0.35)];
  const frames = path.map((u, i) => frame({ x: u * c, y: -u * s }, camera(), i + 1));
  const tracker = createSwayTracker(kernel, frames[0]!, { point: { x: 0.5, y: 0.5 }, headShare: 0.3 });
  const found = frames.map((one) => tracker.add(one)!);
  const sway = swayOfDisplacements({
    timesS: path.map((_, i) => i / (6 * hz)),
    x: found.map(({ x }) => x),
    y: found.map(({ y }) => y),
  });
  if (sway.kind !== 'swing') throw new Error(sway.kind);
  return { found, sway };
}

describe('a flower that sways', () => {
  it('known truth: a sinusoid over eight periods, the camera drifting: amplitude 5 %, frequency 3 %, direction 2°', () => {
    const path = Array.from({ length: 50 }, (_, i) => 9 * Math.sin((2 * Math.PI * i) / 6 + 0.4));
    const { found, sway } = follow(path, 1.2);
    expect(found.every(({ against }) => against === 'surroundings')).toBe(true);
    expect(Math.abs(sway.observed.amplitude / 9 - 1)).toBeLessThan(0.05);
    expect(Math.abs(sway.observed.frequencyHz / 1.2 - 1)).toBeLessThan(0.03);
    expect(Math.abs(sway.directionDeg - (0.35 * 180) / Math.PI)).toBeLessThan(2);
  }, 120_000);

  it('known truth: a damped oscillator driven by noise, against the motion rendered over those frames', () => {
    const random = seeded(21);
    const normal = () => Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
    const [hz, zeta, sigma, steps] = [1.2, 0.08, 6, 400];
    const [w, dt] = [2 * Math.PI * hz, 1 / (hz * 6 * steps)];
    let [x, v] = [sigma, 0];
    const fine: { x: number; v: number }[] = [];
    for (let i = 0; i <= 50 * steps; i++) {
      fine.push({ x, v });
      v += (-2 * zeta * w * v - w * w * x) * dt + 2 * w * sigma * Math.sqrt(zeta * w * dt) * normal();
      x += v * dt;
    }
    const { sway } = follow(
      fine.filter((_, i) => i % steps === 0).map((one) => one.x),
      hz,
    );
    const mean = fine.reduce((sum, one) => sum + one.x, 0) / fine.length;
    const sx = Math.sqrt(fine.reduce((sum, one) => sum + (one.x - mean) ** 2, 0) / fine.length);
    const sv = Math.sqrt(fine.reduce((sum, one) => sum + one.v ** 2, 0) / fine.length);
    expect(Math.abs(sway.observed.displacement / sx - 1)).toBeLessThan(0.05);
    expect(Math.abs(sway.observed.frequencyHz / (sv / (2 * Math.PI * sx)) - 1)).toBeLessThan(0.03);
    expect(sway.process.frequencyHz.interval90[0]).toBeLessThan(hz);
    expect(sway.process.frequencyHz.interval90[1]).toBeGreaterThan(hz);
  }, 120_000);

  it('does not find a flower that is gone, and refuses a frame of another size', () => {
    const here = frame({ x: 0, y: 0 }, { x: 0, y: 0 }, 1);
    const tracker = createSwayTracker(kernel, here, { point: { x: 0.5, y: 0.5 } });
    expect(tracker.add(renderNoise({ ...here, data: here.data.map(() => 90) }, 2, 3))).toBeNull();
    expect(() => tracker.add(flower)).toThrow(DomainError);
  });
});
