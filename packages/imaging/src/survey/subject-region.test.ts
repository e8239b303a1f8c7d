import { beforeAll, describe, expect, it } from 'vitest';
import { testKernel } from '../../fixtures/read-fixtures.ts';
import type { Kernel } from '../kernel.ts';
import { seeded } from '../rendered/render-blur.ts';
import { brightSpots } from './bright-spots.ts';
import { subjectRegion } from './subject-region.ts';
import { surveyFrame } from './survey-frame.ts';

let kernel: Kernel;
beforeAll(async () => {
  kernel = await testKernel();
});

/** A textured disc on an even ground, with patches of light. */
function picture(disc: { x: number; y: number; radius: number }, patches: readonly [number, number][] = []) {
  const random = seeded(2);
  const [width, height] = [960, 640];
  const data = new Uint8Array(width * height).fill(80);
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      if (Math.hypot(x - disc.x, y - disc.y) < disc.radius) data[y * width + x] = 60 + 140 * random();
    }
  }
  for (const [px, py] of patches) {
    for (let y = py; y < py + 60; y++) data.fill(255, y * width + px, y * width + px + 60);
  }
  return surveyFrame(kernel, { width, height, data });
}

describe('subjectRegion', () => {
  it('bounds a sharp disc to within two tiles and tells the room on every side', () => {
    const region = subjectRegion(picture({ x: 400, y: 320, radius: 150 }), { x: 400 / 960, y: 0.5 })!;
    expect(region.touches).toEqual([]);
    expect(Math.abs(region.room.left * 960 - 250)).toBeLessThanOrEqual(64);
    expect(Math.abs(region.room.right * 960 - 410)).toBeLessThanOrEqual(64);
    expect(Math.abs(region.room.top * 640 - 170)).toBeLessThanOrEqual(64);
    expect(Math.abs(region.room.bottom * 640 - 170)).toBeLessThanOrEqual(64);
  });

  it('sees that the subject is cut by a side', () => {
    const region = subjectRegion(picture({ x: 60, y: 320, radius: 150 }), { x: 0.08, y: 0.5 })!;
    expect(region.touches).toEqual(['left']);
  });

  it('is null where all is sharp, or nothing', () => {
    expect(subjectRegion(picture({ x: 480, y: 320, radius: 2000 }), { x: 0.5, y: 0.5 })).toBeNull();
    expect(subjectRegion(picture({ x: 480, y: 320, radius: 0 }), { x: 0.5, y: 0.5 })).toBeNull();
  });
});

describe('brightSpots', () => {
  const disc = { x: 480, y: 320, radius: 150 };
  const box = { x: 0.33, y: 0.25, width: 0.34, height: 0.5 };
  it('finds a light in the background where it is', () => {
    const [spot, ...rest] = brightSpots(picture(disc, [[60, 60]]), box, 'around');
    expect(rest).toEqual([]);
    expect(Math.abs(spot!.box.x * 960 - 60)).toBeLessThanOrEqual(32);
    expect(Math.abs(spot!.box.y * 640 - 60)).toBeLessThanOrEqual(32);
  });
  it('finds what is burnt on the subject', () => {
    const spots = brightSpots(picture(disc, [[450, 300]]), box, 'onSubject');
    expect(spots).toHaveLength(1);
    expect(spots[0]!.burntShare).toBeGreaterThan(0.3);
    expect(brightSpots(picture(disc), box, 'onSubject')).toEqual([]);
  });
});
