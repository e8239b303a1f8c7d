import { beforeAll, describe, expect, it } from 'vitest';
import { photograph, testKernel } from '../../fixtures/read-fixtures.ts';
import type { FloatImage, Rgb16Image } from '../image.ts';
import type { Kernel } from '../kernel.ts';
import { stillness } from '../register/similarity.ts';
import { renderBlur } from '../rendered/render-blur.ts';
import { candidateCrop } from './candidates.ts';
import { createBlendSession, type BlendedFrame, type BlendSession } from './blend-session.ts';

let kernel: Kernel;
let scene: FloatImage;
beforeAll(async () => {
  kernel = await testKernel();
  scene = await photograph('scabious');
});

/** A round petal of the scene, and how far it goes in the frames in which it is sharp. */
const petal = { x: 220, y: 210, radius: 70 };
const moved = { x: 6, y: -4 };

const inPetal = (x: number, y: number) => Math.hypot(x - petal.x, y - petal.y) < petal.radius;

/** The scene with its petal moved and only the petal, or only the rest, sharp. */
function frameOf(petalSharp: boolean, shift: { readonly x: number; readonly y: number }): Rgb16Image {
  const { width, height, data } = scene;
  const soft = renderBlur(kernel, scene, { discDiameterPx: 9 });
  const out = new Uint16Array(width * height * 3);
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      const petalHere = inPetal(x - shift.x, y - shift.y);
      const from = petalHere ? (y - shift.y) * width + x - shift.x : y * width + x;
      const value = (petalHere === petalSharp ? data : soft.data)[from]!;
      out.fill(Math.min(65535, Math.max(0, value * 257)), (y * width + x) * 3, (y * width + x) * 3 + 3);
    }
  }
  return { width, height, data: out };
}

/** Peak signal to noise on the petal, 6 px within its edge [dB]. */
function psnrOnPetal(picture: Uint16Array): number {
  let squares = 0;
  let count = 0;
  const inner = petal.radius - 6;
  for (let y = 0; y < scene.height; y++) {
    for (let x = 0; x < scene.width; x++) {
      if (Math.hypot(x - petal.x, y - petal.y) > inner) continue;
      const at = y * scene.width + x;
      squares += (picture[at * 3]! / 65535 - scene.data[at]! / 255) ** 2;
      count++;
    }
  }
  return -10 * Math.log10(squares / count);
}

function blend(session: BlendSession, frames: readonly Rgb16Image[]) {
  const took = frames.map((frame, index) => session.addFrame(frame, index));
  const result = session.finish();
  const picture = result.pictureRows(0, result.height);
  const source = result.sourceRows(0, result.height);
  result.dispose();
  return { took, picture, source };
}

const placeOf = (frame: BlendedFrame) => {
  if (frame.place === null) throw new Error('the frame was left out');
  return frame.place;
};

describe('a petal that moved in the frame in which it is sharp', () => {
  it('is brought back: over 3 dB above the frame as it is, and above the reference', async () => {
    const reference = frameOf(false, { x: 0, y: 0 });
    const other = frameOf(true, moved);
    const { took, picture } = blend(createBlendSession(await testKernel()), [reference, other]);
    const { local } = placeOf(took[1]!);
    expect(local).not.toBeNull();
    const quality = psnrOnPetal(picture);
    expect(quality).toBeGreaterThan(psnrOnPetal(reference.data) + 3);
    expect(quality).toBeGreaterThan(psnrOnPetal(other.data) + 3);
  });

  it('has no local motion where nothing moved', async () => {
    const frames = [frameOf(false, { x: 0, y: 0 }), frameOf(true, { x: 0, y: 0 })];
    const { took } = blend(createBlendSession(await testKernel()), frames);
    expect(placeOf(took[1]!).local).toBeNull();
  });
});

describe('a touched place', () => {
  it('shows the sharper frame first, aligned', async () => {
    const frames = [frameOf(false, { x: 0, y: 0 }), frameOf(true, { x: 0, y: 0 })];
    const { took } = blend(createBlendSession(await testKernel()), frames);
    const spot = { x: petal.x, y: petal.y, radiusPx: 30 };
    const crops = frames.map((frame, i) => candidateCrop(kernel, frame, placeOf(took[i]!), scene, spot));
    expect(crops[1]!.sharpness).toBeGreaterThan(3 * crops[0]!.sharpness);
    const { x, y, picture } = crops[1]!;
    expect([x, y, picture.width]).toEqual([175, 165, 91]);
    const centre = (45 * 91 + 45) * 3;
    const truth = scene.data[petal.y * scene.width + petal.x]! * 257;
    expect(Math.abs(picture.data[centre]! - truth)).toBeLessThan(1200);
    expect(() => candidateCrop(kernel, frames[0]!, stillness, scene, { ...spot, x: -1 })).toThrow(/spot/);
  });

  it('comes from the chosen frame, and the rest is as it was', async () => {
    const frames = [frameOf(false, { x: 0, y: 0 }), frameOf(true, { x: 0, y: 0 })];
    const free = blend(createBlendSession(await testKernel()), frames);
    const choices = [{ x: petal.x, y: petal.y, radiusPx: 20, index: 0 }];
    const chosen = blend(createBlendSession(await testKernel(), { choices }), frames);
    const at = petal.y * scene.width + petal.x;
    expect([free.source[at], chosen.source[at]]).toEqual([1, 0]);
    // 2 %: the coarsest scales of a place are shared with what lies round it.
    expect(Math.abs(chosen.picture[at * 3]! - frames[0]!.data[at * 3]!)).toBeLessThan(1300);
    const far = 20 * scene.width + 20;
    expect(Math.abs(chosen.picture[far * 3]! - free.picture[far * 3]!)).toBeLessThan(200);
  });
});
