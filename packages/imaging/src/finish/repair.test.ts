// Spots and noise put into known pictures, and taken out again.
import { describe, expect, it } from 'vitest';
import { photograph } from '../../fixtures/read-fixtures.ts';
import { blankPicture, copyPicture, planesOf, type LinearPicture } from '../develop/linear-picture.ts';
import { seeded } from '../rendered/render-blur.ts';
import { findNoise, noiseOfSensor, stabilise, unstabilise, type NoiseModel } from './noise-model.ts';
import { quietenNoise, SCALE_DEVIATIONS, spline } from './noise.ts';
import { removeSpot } from './spot.ts';

/** A photograph as linear light, with a little colour. */
async function linearPhotograph(name: string): Promise<LinearPicture> {
  const image = await photograph(name);
  const picture = blankPicture(image.width, image.height);
  image.data.forEach((code, i) => {
    const light = 0.02 + 0.8 * (code / 255) ** 2.2;
    picture.red[i] = light;
    picture.green[i] = light * 0.9;
    picture.blue[i] = light * 0.6;
  });
  return picture;
}

function gaussian(random: () => number): number {
  return Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
}

/** Noise of a sensor, by the model. */
function addNoise(picture: LinearPicture, { perLight, floor }: NoiseModel, seed: number): void {
  const random = seeded(seed);
  for (const plane of planesOf(picture)) {
    for (let i = 0; i < plane.length; i += 1) {
      plane[i] = plane[i]! + Math.sqrt(perLight * Math.max(0, plane[i]!) + floor) * gaussian(random);
    }
  }
}

const psnr = (one: LinearPicture, other: LinearPicture) => {
  let sum = 0;
  planesOf(one).forEach((plane, c) => plane.forEach((v, i) => (sum += (v - planesOf(other)[c]![i]!) ** 2)));
  return -10 * Math.log10(sum / (3 * one.red.length));
};

describe('a spot', () => {
  it('on a gradient is filled with the gradient, and nothing else changes', () => {
    const picture = blankPicture(120, 90);
    for (let i = 0; i < picture.red.length; i += 1) {
      const [x, y] = [i % 120, Math.floor(i / 120)];
      for (const [c, plane] of planesOf(picture).entries()) plane[i] = 0.2 + 0.002 * x + 0.003 * y + 0.05 * c;
    }
    const truth = copyPicture(picture);
    const spot = { x: 60.5 / 120, y: 45.5 / 90, radius: 6 / 120 };
    for (let i = 0; i < picture.red.length; i += 1) {
      const d = Math.hypot((i % 120) - 60, Math.floor(i / 120) - 45);
      if (d < 4) picture.red[i] = 0.95;
    }
    removeSpot(picture, spot);
    let [changed, inside] = [0, 0];
    planesOf(picture).forEach((plane, c) =>
      plane.forEach((value, i) => {
        const far = Math.hypot((i % 120) - 60.5, Math.floor(i / 120) - 45.5) >= 6;
        const off = Math.abs(value - planesOf(truth)[c]![i]!);
        if (far) changed = Math.max(changed, off);
        else inside = Math.max(inside, off);
      }),
    );
    expect(changed).toBe(0);
    // A gradient is harmonic, so the spread of the rim's difference is exact but for the rim's 64 points.
    expect(inside).toBeLessThan(2e-3);
  });

  it('on a real texture is filled with texture of the same brightness and strength', async () => {
    const truth = await linearPhotograph('pale-daisy');
    const { width, height } = truth;
    const places = [
      [0.3, 0.3],
      [0.5, 0.7],
      [0.7, 0.4],
      [0.25, 0.75],
    ] as const;
    for (const [x, y] of places) {
      const picture = copyPicture(truth);
      const inside: number[] = [];
      for (let i = 0; i < picture.red.length; i += 1) {
        if (Math.hypot((i % width) - x * width, Math.floor(i / width) - y * height) < 6) inside.push(i);
      }
      for (const i of inside) picture.red[i] = picture.green[i] = picture.blue[i] = 0;
      removeSpot(picture, { x, y, radius: 7 / width });
      const of = (p: LinearPicture) => {
        const mean = inside.reduce((sum, i) => sum + p.red[i]!, 0) / inside.length;
        const variance = inside.reduce((sum, i) => sum + (p.red[i]! - mean) ** 2, 0) / inside.length;
        return { mean, deviation: Math.sqrt(variance) };
      };
      const [wanted, found] = [of(truth), of(picture)];
      expect(Math.abs(found.mean - wanted.mean)).toBeLessThan(2 * wanted.deviation);
      expect(found.deviation / wanted.deviation).toBeGreaterThan(0.4);
      expect(found.deviation / wanted.deviation).toBeLessThan(2.5);
    }
  });

  it('can be filled from a place of one’s own, and refuses one that cannot be filled', () => {
    const picture = blankPicture(60, 40);
    picture.red.fill(0.5);
    picture.red[20 * 60 + 30] = 1;
    removeSpot(picture, { x: 0.5, y: 0.5, radius: 0.05, from: { x: 0.2, y: 0.5 } });
    expect(picture.red[20 * 60 + 30]).toBeCloseTo(0.5, 5);
    expect(() => removeSpot(picture, { x: 0.5, y: 0.5, radius: 0.05, from: { x: 0.5, y: 0.5 } })).toThrow(
      /other than the spot/,
    );
    expect(() => removeSpot(blankPicture(5, 5), { x: 0.5, y: 0.5, radius: 0.1 })).toThrow(/room beside/);
  });
});

describe('the model of noise', () => {
  it('of a sensor: photons per white and read noise (EMVA 1288; 3 electrons at 10,000 electrons of white)', () => {
    const sensor = { pixelPitchUm: 4.35, quantumEfficiency: 0.5, readNoiseElectrons: 3 };
    const model = noiseOfSensor(sensor, 1600);
    const white = 1 / model.perLight;
    // OI N-7: 528.5 electrons at the metered midtone; white is 78/8.125 above it. 11,000 photons there, ours 10,880: 2 %.
    expect(Math.abs(white / (528.5 * (78 / 8.125)) - 1)).toBeLessThan(0.02);
    expect(model.floor).toBeCloseTo((3 / white) ** 2, 12);
  });

  it('is found in a photograph within a third of what was put in', async () => {
    for (const model of [
      { perLight: 1 / 2000, floor: 2e-6 },
      { perLight: 1 / 8000, floor: 5e-7 },
    ]) {
      const picture = await linearPhotograph('white-umbel');
      addNoise(picture, model, 11);
      const { width, height, red } = picture;
      const found = findNoise({ width, height, data: red });
      const at = (m: NoiseModel, light: number) => Math.sqrt(m.perLight * light + m.floor);
      for (const light of [0.1, 0.3, 0.6]) {
        expect(Math.abs(at(found!, light) / at(model, light) - 1), `${light}`).toBeLessThan(0.33);
      }
    }
    expect(findNoise({ width: 20, height: 20, data: new Float32Array(400) })).toBeNull();
  });

  it('is made 1 at every tone by stabilising, and comes back without bias', () => {
    const model = { perLight: 1 / 500, floor: 1e-5 };
    const random = seeded(3);
    for (const light of [0.05, 0.2, 0.7]) {
      let [sum, squares] = [0, 0];
      const n = 20_000;
      for (let k = 0; k < n; k += 1) {
        const t = stabilise(
          model,
          light + Math.sqrt(model.perLight * light + model.floor) * gaussian(random),
        );
        sum += t;
        squares += t * t;
      }
      const mean = sum / n;
      // 2 % for the deviation: three times its standard error, and the transform's own remainder.
      expect(Math.abs(Math.sqrt(squares / n - mean * mean) - 1)).toBeLessThan(0.03);
      expect(Math.abs(unstabilise(model, mean) / light - 1)).toBeLessThan(0.02);
    }
    expect(
      unstabilise({ perLight: 0, floor: 1e-4 }, stabilise({ perLight: 0, floor: 1e-4 }, 0.3)),
    ).toBeCloseTo(0.3, 9);
  });
});

describe('taking noise away', () => {
  it('leaves white noise of deviation 1 in each scale as the table says (2 %)', () => {
    const random = seeded(9);
    let smooth = Float32Array.from({ length: 512 * 512 }, () => gaussian(random)) as Float32Array;
    SCALE_DEVIATIONS.forEach((wanted, scale) => {
      const next = spline(smooth, 512, 512, 2 ** scale);
      let squares = 0;
      next.forEach((value, i) => (squares += (smooth[i]! - value) ** 2));
      expect(Math.abs(Math.sqrt(squares / next.length) / wanted - 1), `${scale}`).toBeLessThan(
        scale < 2 ? 0.02 : 0.05,
      );
      smooth = next;
    });
  });

  it.each([
    ['white-umbel', 1 / 300, 3],
    ['pale-daisy', 1 / 300, 3],
    ['scabious', 1 / 100, 4],
  ] as const)(
    'brings %s with noise %d nearer to the truth by at least %d dB',
    async (name, perLight, gain) => {
      const truth = await linearPhotograph(name);
      const noisy = copyPicture(truth);
      const model = { perLight, floor: 1e-5 };
      addNoise(noisy, model, 5);
      const before = psnr(noisy, truth);
      quietenNoise(noisy, model, { grain: 1, colour: 1 });
      expect(psnr(noisy, truth) - before).toBeGreaterThan(gain);
    },
  );

  it('leaves a picture alone where the model says that there is none, and nothing is asked for', async () => {
    const picture = await linearPhotograph('fern');
    const before = copyPicture(picture);
    quietenNoise(picture, { perLight: 0, floor: 0 }, { grain: 1, colour: 1 });
    quietenNoise(picture, { perLight: 0.01, floor: 0 }, { grain: 0, colour: 0 });
    expect(psnr(picture, before)).toBe(Infinity);
  });

  it('does the same whatever strips the picture is worked in', () => {
    const random = seeded(2);
    const tall = blankPicture(40, 700);
    for (const plane of planesOf(tall))
      for (let i = 0; i < plane.length; i += 1) plane[i] = 0.3 + 0.05 * gaussian(random);
    const model = { perLight: 0.008, floor: 0 };
    const lower = { ...blankPicture(40, 500) };
    planesOf(lower).forEach((plane, c) => plane.set(planesOf(tall)[c]!.subarray(200 * 40)));
    quietenNoise(tall, model, { grain: 1, colour: 1 });
    quietenNoise(lower, model, { grain: 1, colour: 1 });
    // 100 rows below the cut, beyond the reach of the coarsest scale, both are the same but for 32-bit rounding.
    let most = 0;
    for (let i = 100 * 40; i < 300 * 40; i += 1) {
      most = Math.max(most, Math.abs(lower.red[i]! - tall.red[i + 200 * 40]!));
    }
    expect(most).toBeLessThan(5e-5);
  });
});
