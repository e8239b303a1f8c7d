/** What the second look at a series needs of each frame: from its window where that suffices, else by a decode. */
import { burntFromLuma, evennessOfLuma, type Clipping, type MeasuredBlur } from '@tepal/imaging';
import type { Luma8 } from '../../decode/pixels.ts';
import type { SensorClipping } from '../../decode/sensor-clipping.ts';
import { kindByName } from '../../files/kinds.ts';
import type { Pool } from '../pool.ts';
import type { SurveyedFrame } from '../survey-pass.ts';
import { CROP_PX, exposureRadiusPx, type LookResult, type PointExposure } from './look.ts';
import type { WindowStore } from './windows.ts';

interface Place {
  readonly x: number;
  readonly y: number;
}

/** A frame looked at: luma round the point, and its exposure there. */
export interface Looked {
  readonly frame: SurveyedFrame;
  readonly crop: Luma8;
  /** Told from luma by the reference's colours where `estimated`. */
  readonly clipped: Clipping & { readonly estimated?: true };
  readonly inRaw: SensorClipping | null;
  readonly evennessStops: number;
}

export interface SecondLookOptions {
  /** The frame that the others are measured against. */
  readonly reference: SurveyedFrame;
  pointOf(frame: SurveyedFrame): Place;
  /** Other places of the reference, to tell who moved. */
  readonly elsewhere: readonly Place[];
  readonly limitPx: number;
  readonly pool: Pool;
  readonly windows: WindowStore | null;
}

export interface SecondLook {
  /** To be called first. @throws Error with a sentence when the frame cannot be decoded again */
  atReference(): Promise<Looked>;
  /** @throws Error with a sentence when the frame has to be decoded again and cannot be */
  at(frame: SurveyedFrame): Promise<Looked>;
  /** One blur a frame, with who moved where one did. */
  blurs(looked: readonly Looked[]): Promise<readonly MeasuredBlur[]>;
}

/**
 * With the same settings, and no brighter, a frame is burnt nowhere that the reference stays below this code in every
 * colour: blur only lowers what is bright. The rest is room for noise [0..255].
 */
const SURELY_BELOW = 245;

export function openSecondLook(options: SecondLookOptions): SecondLook {
  const { reference, pointOf, elsewhere, limitPx, pool, windows } = options;
  let known: PointExposure | null = null;
  const stillPlaces = new Map<string, Promise<readonly Luma8[]>>();

  const decode = (
    frame: SurveyedFrame,
    wants: { readonly exposure: boolean; readonly elsewhere: boolean },
  ) => {
    const point = pointOf(frame);
    const from = pointOf(reference);
    const moved = ({ x, y }: Place) => ({ x: clamp(x + point.x - from.x), y: clamp(y + point.y - from.y) });
    return pool.run('look', {
      ...{ path: frame.path, kind: frame.kind, point, exposure: wants.exposure },
      elsewhere: wants.elsewhere ? elsewhere.map(moved) : [],
      rawPath: rawBeside(frame),
    });
  };
  const looked = (
    frame: SurveyedFrame,
    crop: Luma8,
    clipped: Looked['clipped'] = NOTHING_CLIPPED,
    inRaw: SensorClipping | null = null,
  ): Looked => ({
    ...{ frame, crop, clipped, inRaw },
    evennessStops: evennessOfLuma(crop, exposureRadiusPx({ width: frame.facts.widthPx })),
  });

  return {
    async atReference() {
      const { crop, exposure }: LookResult = await decode(reference, { exposure: true, elsewhere: false });
      known = exposure;
      return looked(reference, crop, exposure?.clipped, exposure?.inRaw);
    },
    async at(frame) {
      const size = { width: frame.facts.widthPx, height: frame.facts.heightPx };
      const cut = (side: number) =>
        windows?.cut(frame.id, size, pointOf(frame), { width: side, height: side })?.crop ?? null;
      const crop = cut(CROP_PX);
      if (crop !== null && known !== null && alike(frame, reference)) {
        if (isBelow(crop, known)) return looked(frame, crop, NOTHING_CLIPPED);
        const clipped = rawBeside(frame) === null ? burntAsIn(known, cut, exposureRadiusPx(size)) : null;
        if (clipped !== null) return looked(frame, crop, clipped);
      }
      const again = await decode(frame, { exposure: true, elsewhere: false });
      return looked(frame, again.crop, again.exposure?.clipped, again.exposure?.inRaw);
    },
    async blurs(frames) {
      if (frames.length === 0) return [];
      const blurs = await pool.run('blur', { crops: frames.map(({ crop }) => crop), limitPx });
      const still = frames[blurs.findIndex(({ cause }) => cause === 'sharp')]?.frame ?? null;
      const told: MeasuredBlur[] = [];
      for (const [i, blur] of blurs.entries()) {
        const { frame } = frames[i]!;
        told.push(
          // Who moved matters where the motion spoilt the frame; telling it takes another decode.
          blur.motion === null || elsewhere.length === 0 || !spoiltByMotion.has(blur.cause)
            ? blur
            : { ...blur, moved: (await whoMoved(frame, still, blur.motion)) ?? blur.moved },
        );
      }
      return told;
    },
  };

  async function whoMoved(
    frame: SurveyedFrame,
    still: SurveyedFrame | null,
    motion: NonNullable<MeasuredBlur['motion']>,
  ): Promise<MeasuredBlur['moved']> {
    try {
      const places = async (one: SurveyedFrame) =>
        (await decode(one, { exposure: false, elsewhere: true })).elsewhere;
      const here = await places(frame);
      let beside: readonly Luma8[] = [];
      if (still !== null && still !== frame) {
        const asked = stillPlaces.get(still.id) ?? places(still);
        stillPlaces.set(still.id, asked);
        beside = await asked;
      }
      const pairs = here.map((crop, i) => ({ crop, still: beside[i] ?? null }));
      return await pool.run('moved', { motion, places: pairs, limitPx });
    } catch {
      // It was measured at the point; what moved elsewhere stays untold.
      return null;
    }
  }
}

const NOTHING_CLIPPED: Clipping = { red: 0, green: 0, blue: 0 };
const clamp = (value: number) => Math.min(1, Math.max(0, value));

/** Whether two frames were exposed alike, so that what one does not burn the other does not. */
function alike(a: SurveyedFrame, b: SurveyedFrame): boolean {
  const [one, other] = [a.facts.exposure, b.facts.exposure];
  return (
    a.kind === b.kind &&
    one.fNumber === other.fNumber &&
    one.exposureTimeS === other.exposureTimeS &&
    one.iso === other.iso
  );
}

const spoiltByMotion: ReadonlySet<MeasuredBlur['cause']> = new Set(['motion', 'both']);

/** What is burnt round the point, by the reference's colours; null where the window or the light does not allow it. */
function burntAsIn(
  { byLuma }: PointExposure,
  cut: (side: number) => Luma8 | null,
  radiusPx: number,
): Looked['clipped'] | null {
  if (byLuma === null) return null;
  const round = cut(2 * radiusPx);
  const clipped = round === null ? null : burntFromLuma(byLuma, round, radiusPx);
  return clipped === null ? null : { ...clipped, estimated: true };
}

function isBelow(crop: Luma8, reference: PointExposure): boolean {
  let top = 0;
  for (const code of crop.data) if (code > top) top = code;
  return reference.topCode * Math.max(1, top / Math.max(1, reference.topLuma)) <= SURELY_BELOW;
}

/** The path of the raw among a frame's companions; companions are named relative to the folder measured. */
function rawBeside(frame: SurveyedFrame): string | null {
  const raw = frame.companions.find((file) => kindByName(file) === 'raw');
  if (raw === undefined || !frame.path.endsWith(frame.file)) return null;
  return `${frame.path.slice(0, frame.path.length - frame.file.length)}${raw}`;
}
