// The steps together: their order, the background, the proxy, and what is refused.
import { describe, expect, it } from 'vitest';
import { photograph } from '../../fixtures/read-fixtures.ts';
import { blankPicture, copyPicture, planesOf, type LinearPicture } from '../develop/linear-picture.ts';
import { gaussianBlur } from './plane/box-blur.ts';
import { findBackground, quietenBackground } from './background.ts';
import { finishPicture, finishStepwise, type FinishContext, type FinishSteps } from './finish-picture.ts';
import { createProxyFinisher, makeProxy } from './finish-proxy.ts';
import { luminance } from './plane/luminance.ts';

const rendered: FinishContext = { origin: 'rendered', noise: { perLight: 1e-4, floor: 1e-7 } };

/** The largest difference of two pictures. */
const worst = (one: LinearPicture, other: LinearPicture) => {
  let most = 0;
  planesOf(one).forEach((plane, c) =>
    plane.forEach((v, i) => (most = Math.max(most, Math.abs(v - planesOf(other)[c]![i]!)))),
  );
  return most;
};

/** A sharp round of real texture on the same picture blurred far away, with a bright patch in the blur. */
async function flowerOnMeadow(): Promise<{
  picture: LinearPicture;
  isSubject: (i: number) => boolean;
  patch: number;
}> {
  const image = await photograph('white-umbel');
  const { width, height } = image;
  const light = { width, height, data: image.data.map((code) => 0.03 + 0.6 * (code / 255) ** 2.2) };
  const soft = gaussianBlur(light, 9);
  const picture = blankPicture(width, height);
  const r = 0.22 * width;
  const isSubject = (i: number) =>
    Math.hypot((i % width) - width / 2, Math.floor(i / width) - height / 2) < r;
  const patch = Math.round(0.12 * height) * width + Math.round(0.15 * width);
  for (let i = 0; i < light.data.length; i += 1) {
    const bright =
      Math.hypot((i % width) - (patch % width), Math.floor(i / width) - Math.floor(patch / width)) <
      0.05 * width;
    const value = isSubject(i) ? light.data[i]! : bright ? 0.9 : 0.1 + 0.5 * soft.data[i]!;
    picture.red[i] = value;
    picture.green[i] = 0.9 * value;
    picture.blue[i] = 0.7 * value;
  }
  return { picture, isSubject, patch };
}

describe('the background', () => {
  it('is told from the sharp subject', async () => {
    const { picture, isSubject, patch } = await flowerOnMeadow();
    const { mask, factor } = findBackground(picture);
    let [inside, insideCount, outside, outsideCount] = [0, 0, 0, 0];
    mask.data.forEach((value, i) => {
      const x = (i % mask.width) * factor;
      const y = Math.floor(i / mask.width) * factor;
      const at = y * picture.width + x;
      // The rim between the two, and of the bright patch, is sharp as well.
      const fromMiddle = Math.hypot(x - picture.width / 2, y - picture.height / 2) / picture.width;
      const fromPatch =
        Math.hypot(x - (patch % picture.width), y - Math.floor(patch / picture.width)) / picture.width;
      if ((fromMiddle > 0.18 && fromMiddle < 0.28) || fromPatch < 0.12) return;
      if (isSubject(at)) {
        inside += value;
        insideCount += 1;
      } else {
        outside += value;
        outsideCount += 1;
      }
    });
    expect(inside / insideCount).toBeLessThan(0.15);
    expect(outside / outsideCount).toBeGreaterThan(0.85);
  });

  it('quietened: its bright patch comes down, the subject stays, and parts given by hand count', async () => {
    const { picture, patch } = await flowerOnMeadow();
    const middle = Math.floor(picture.height / 2) * picture.width + Math.floor(picture.width / 2);
    const parts = {
      notSubject: [{ x: 0.15, y: 0.12, radius: 0.1 }],
      subject: [{ x: 0.5, y: 0.5, radius: 0.2 }],
    };
    const done = copyPicture(picture);
    const share = quietenBackground(done, { calm: 0.8, darkerStops: 0.3, paler: 0.3, ...parts });
    expect(share).toBeGreaterThan(0.5);
    expect(done.red[patch]! / picture.red[patch]!).toBeLessThan(0.4);
    expect(done.red[middle]! / picture.red[middle]!).toBeGreaterThan(0.98);
    const before = luminance(picture);
    const after = luminance(done);
    const saturation = (p: LinearPicture, l: { data: Float32Array }, i: number) => p.red[i]! / l.data[i]!;
    expect(saturation(done, after, patch) - 1).toBeLessThan(0.8 * (saturation(picture, before, patch) - 1));
  });

  it('with nothing asked for is as it was', async () => {
    const { picture } = await flowerOnMeadow();
    const done = copyPicture(picture);
    quietenBackground(done, { calm: 0 });
    expect(worst(done, picture)).toBeLessThan(5e-6);
  });
});

describe('finishing', () => {
  const steps: FinishSteps = {
    exposureStops: 0.4,
    whiteBalance: { kind: 'daylight', temperatureK: 6000 },
    noise: { grain: 0.5, colour: 1 },
    spots: [{ x: 0.3, y: 0.3, radius: 0.02 }],
    framing: { levelDeg: 1, crop: { left: 0.1, top: 0.1, width: 0.8, height: 0.8 } },
    fillShade: { stops: 0.6 },
    background: { calm: 0.3 },
    tone: { contrast: 1.1, shoulderFrom: 0.7, headroomStops: 0.8 },
  };

  it('without steps gives the picture as it was, bit by bit', async () => {
    const { picture } = await flowerOnMeadow();
    expect(worst(finishPicture(picture, {}, rendered).picture, picture)).toBe(0);
    const nothing = { whiteBalance: { kind: 'asShot' }, exposureStops: 0 } as const;
    expect(worst(finishPicture(picture, nothing, rendered).picture, picture)).toBe(0);
  });

  it('does the same twice, leaves its input alone, and says each step before it', async () => {
    const { picture } = await flowerOnMeadow();
    const before = copyPicture(picture);
    const one = finishPicture(picture, steps, rendered).picture;
    const two = finishPicture(picture, steps, rendered).picture;
    expect(worst(one, two)).toBe(0);
    expect(worst(picture, before)).toBe(0);
    const said = [...finishStepwise(copyPicture(picture), steps, rendered)];
    expect(said.map(({ done, total }) => `${done}/${total}`)).toEqual([
      '0/7',
      '1/7',
      '2/7',
      '3/7',
      '4/7',
      '5/7',
      '6/7',
    ]);
  });

  it('does no further pixel work once the caller stops', async () => {
    const { picture } = await flowerOnMeadow();
    const copy = copyPicture(picture);
    const work = finishStepwise(copy, steps, rendered);
    work.next();
    work.return({ picture: copy, notes: [] });
    expect(worst(copy, picture)).toBe(0);
    expect(work.next().done).toBe(true);
  });

  it('makes a grey patch grey in a rendered picture', () => {
    const picture = blankPicture(40, 40);
    picture.red.fill(0.3);
    picture.green.fill(0.25);
    picture.blue.fill(0.2);
    const { red, green, blue } = finishPicture(
      picture,
      { whiteBalance: { kind: 'greyPatch', x: 0.5, y: 0.5, radius: 0.1 } },
      rendered,
    ).picture;
    expect(red[0]! / green[0]!).toBeCloseTo(1, 4);
    expect(blue[0]! / green[0]!).toBeCloseTo(1, 4);
    expect(() =>
      finishPicture(
        blankPicture(40, 40),
        { whiteBalance: { kind: 'greyPatch', x: 0.5, y: 0.5, radius: 0.1 } },
        rendered,
      ),
    ).toThrow(/neither black nor clipped/);
  });

  it('says when noise could not be measured', () => {
    const flat = blankPicture(64, 64);
    expect(
      finishPicture(flat, { noise: { grain: 1, colour: 1 } }, { origin: 'rendered', noise: null }).notes[0],
    ).toMatch(/could not be measured/);
  });
});

describe('the proxy', () => {
  it('shows what the full picture will be: the same steps, reduced after or before, differ little', async () => {
    const { picture } = await flowerOnMeadow();
    const steps: FinishSteps = { exposureStops: 0.3, fillShade: { stops: 0.8 }, tone: { contrast: 1.15 } };
    const small = makeProxy(picture, Math.ceil(picture.width / 2));
    const before = createProxyFinisher(small, rendered).view(steps);
    const after = createProxyFinisher(
      makeProxy(finishPicture(picture, steps, rendered).picture, Math.ceil(picture.width / 2)),
      rendered,
    ).view({});
    let sum = 0;
    before.rgba.forEach((code, i) => (sum += Math.abs(code - after.rgba[i]!)));
    expect(sum / before.rgba.length).toBeLessThan(2.5);
  });

  it('does again only what changed, and gives the same as from the start', async () => {
    const { picture } = await flowerOnMeadow();
    const kept = createProxyFinisher(picture, rendered);
    const first: FinishSteps = { fillShade: { stops: 1 }, tone: { contrast: 1.2 } };
    kept.view(first);
    kept.view({ ...first, exposureStops: 1 });
    const again = kept.view({ ...first, tone: { contrast: 0.8 } });
    const anew = createProxyFinisher(picture, rendered).view({ ...first, tone: { contrast: 0.8 } });
    expect(Buffer.compare(Buffer.from(again.rgba.buffer), Buffer.from(anew.rgba.buffer))).toBe(0);
    expect(Buffer.compare(Buffer.from(again.warnings.buffer), Buffer.from(anew.warnings.buffer))).toBe(0);
  });

  it('warns of petals that the screen cannot show, and of what is brighter than white', () => {
    const picture = blankPicture(3, 1);
    picture.red.set([0.5, 0.9, 1.4]);
    picture.green.set([0.45, 0, 1.4]);
    picture.blue.set([0.4, 0.05, 1.4]);
    expect([...createProxyFinisher(picture, rendered).view({}).warnings]).toEqual([0, 1, 2]);
    expect([...createProxyFinisher(picture, rendered).view({ petals: { ease: 0.3 } }).warnings]).toEqual([
      0, 1, 2,
    ]);
  });
});
