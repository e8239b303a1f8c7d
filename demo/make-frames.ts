/** Makes the invented outing's frames from the photographs in `sources/`. */
import { mkdirSync, readdirSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import sharp from 'sharp';
import { filled, focusedAt } from './focus-layers.ts';
import {
  blurred,
  discKernel,
  drifted,
  generator,
  streakKernel,
  toCodes,
  toLinear,
  withinEllipse,
  type LinearPicture,
} from './optics.ts';
import { DAY, FOCUS, FRAME_SIZE, REPEATS, UTC_OFFSET, type Fault, type RepeatScene } from './scenes.ts';

/** With the encoder's slower search for small files; a frame comes to some 200 kB. */
const QUALITY = 86;
const FIRST_NUMBER = 201;

interface Shot {
  /** Rendered when it is written: all frames at once would fill the memory. */
  readonly render: () => LinearPicture;
  readonly takenAt: string;
  readonly exposureTimeS: number;
  readonly fNumber: number;
  readonly iso: number;
  readonly shows: string;
  readonly credit: string;
}

/** Writes all frames into `into`, which is emptied of its JPEGs first, numbered in the order of their times. */
export async function makeFrames(sources: string, into: string): Promise<number> {
  mkdirSync(into, { recursive: true });
  for (const old of readdirSync(into)) if (old.endsWith('.JPG')) rmSync(join(into, old));
  const random = generator(611);
  const shots: Shot[] = [];
  for (const scene of REPEATS) shots.push(...(await shotsOf(scene, sources, random)));
  shots.push(...(await focusShots(sources, random)));
  shots.sort((a, b) => (a.takenAt < b.takenAt ? -1 : 1));
  for (const [i, shot] of shots.entries()) {
    await write(shot, join(into, `MEAD${String(FIRST_NUMBER + i).padStart(4, '0')}.JPG`), random);
  }
  return shots.length;
}

async function shotsOf(scene: RepeatScene, sources: string, random: () => number): Promise<Shot[]> {
  const source = await read(join(sources, scene.source));
  return scene.frames.map(({ afterS, exposureTimeS, fault }) => ({
    ...handHeld(source, fault, scene.subject, aHand(random)),
    takenAt: after(scene.startsAt, afterS),
    exposureTimeS,
    fNumber: scene.fNumber,
    iso: Math.round((scene.iso * (1 / 250)) / exposureTimeS),
    shows: scene.shows,
    credit: scene.credit,
  }));
}

function handHeld(
  source: LinearPicture,
  fault: Fault,
  subject: RepeatScene['subject'],
  drift: ReturnType<typeof aHand>,
): Pick<Shot, 'render'> {
  return { render: () => spoiled(drifted(source, FRAME_SIZE, drift), fault, subject) };
}

/** Up to some 12 px, a third of a degree and one per cent between frames. */
function aHand(random: () => number) {
  const even = () => 2 * random() - 1;
  return { xPx: 12 * even(), yPx: 8 * even(), turnDeg: 0.35 * even(), scale: 1.012 + 0.01 * even() };
}

function spoiled(picture: LinearPicture, fault: Fault, subject: RepeatScene['subject']): LinearPicture {
  switch (fault.kind) {
    case 'none':
      return picture;
    case 'defocus':
      return blurred(picture, discKernel(fault.discPx));
    case 'hands':
      return blurred(picture, streakKernel(fault.lengthPx, fault.directionDeg));
    case 'plant':
      return withinEllipse(
        blurred(picture, streakKernel(fault.lengthPx, fault.directionDeg)),
        picture,
        subject,
      );
  }
}

async function focusShots(sources: string, random: () => number): Promise<Shot[]> {
  const scene = await read(join(sources, FOCUS.source));
  const map = sharp(join(sources, FOCUS.disparity)).extractChannel(0);
  const { data, info } = await map.raw().toBuffer({ resolveWithObject: true });
  const disparity = filled(data, info.width, info.height);
  return FOCUS.focusAt.map((focusAt, i) => {
    // A hand that rocks forward: the picture grows by a thousandth a step.
    const drift = {
      xPx: 3 * (2 * random() - 1),
      yPx: 3 * (2 * random() - 1),
      turnDeg: 0.1 * random(),
      scale: 1 + 0.001 * i,
    };
    return {
      render: () => drifted(focusedAt(scene, disparity, focusAt, FOCUS.discPxPerCode), FOCUS.size, drift),
      takenAt: after(FOCUS.startsAt, i),
      exposureTimeS: FOCUS.exposureTimeS,
      fNumber: FOCUS.fNumber,
      iso: FOCUS.iso,
      shows: FOCUS.shows,
      credit: FOCUS.credit,
    };
  });
}

async function read(path: string): Promise<LinearPicture> {
  const { data, info } = await sharp(path).removeAlpha().raw().toBuffer({ resolveWithObject: true });
  return toLinear(data, info.width, info.height);
}

async function write(shot: Shot, path: string, random: () => number): Promise<void> {
  const picture = shot.render();
  const { width, height } = picture;
  const codes = toCodes(picture, shot.iso, random);
  const exifTime = `${DAY.replaceAll('-', ':')} ${shot.takenAt}`;
  await sharp(codes, { raw: { width, height, channels: 3 } })
    .jpeg({ quality: QUALITY, mozjpeg: true })
    .withExif({
      IFD0: {
        Artist: 'invented',
        Copyright: shot.credit,
        ImageDescription: `Invented frame, made from a photograph of ${shot.shows}; ${shot.credit}`,
        Model: 'Invented camera',
        DateTime: exifTime,
      },
      IFD2: {
        DateTimeOriginal: exifTime,
        OffsetTimeOriginal: UTC_OFFSET,
        ExposureTime: `1/${String(Math.round(1 / shot.exposureTimeS))}`,
        FNumber: `${String(Math.round(shot.fNumber * 10))}/10`,
        ISOSpeedRatings: String(shot.iso),
        FocalLength: '100/1',
        ColorSpace: '1',
      },
    })
    .toFile(path);
}

function after(localTime: string, seconds: number): string {
  const [h, m, s] = localTime.split(':').map(Number) as [number, number, number];
  const total = h * 3600 + m * 60 + s + seconds;
  const two = (n: number) => String(n).padStart(2, '0');
  return `${two(Math.floor(total / 3600))}:${two(Math.floor(total / 60) % 60)}:${two(total % 60)}`;
}
