/** The point of focus through a series: marked in one frame and carried by registration, else guessed. */
import { carryPoint, invertSimilarity, scaleSimilarity, type Registration } from '@tepal/imaging';
import { DeskFault } from '../files/faults.ts';
import { registerPair } from './grouping.ts';
import { openSmallLumas } from './small-lumas.ts';
import { inTurn, type PassOptions, type SurveyedFrame } from './survey-pass.ts';

export interface PointOfFocus {
  /** Fractions of width and height from the top left. */
  readonly x: number;
  readonly y: number;
  readonly origin: 'marked' | 'carried' | 'guessed';
}

/** Where each frame of a series lies on the one that the point was set in; null where that cannot be told. */
export type SeriesRegistration = ReadonlyMap<string, Registration | null>;

/** A registration below this correlation is not of the same scene. */
const TRUSTED_FROM = 0.5;

/** Registers every frame of a series on one of them. */
export async function registerSeries(
  frames: readonly SurveyedFrame[],
  anchor: SurveyedFrame,
  options: Pick<PassOptions, 'library' | 'pool' | 'signal'>,
): Promise<SeriesRegistration> {
  const found = new Map<string, Registration | null>();
  const lumas = openSmallLumas(options.library);
  await inTurn(frames, options.pool.size, async (frame) => {
    if (options.signal.aborted) throw new DeskFault('The work was stopped.');
    if (frame === anchor) return;
    const registration = await registerPair(anchor, frame, lumas, options.pool);
    found.set(
      frame.id,
      registration !== null && registration.correlation >= TRUSTED_FROM ? registration : null,
    );
  });
  return found;
}

/**
 * The point in every frame of a series.
 *
 * @param point in the anchor, fractions of width and height
 * @param origin of the point in the anchor; where it cannot be carried to, a marked point stands as it was marked
 */
export function carryPoints(
  frames: readonly SurveyedFrame[],
  anchor: SurveyedFrame,
  point: { readonly x: number; readonly y: number },
  origin: 'marked' | 'guessed',
  registered: SeriesRegistration,
): ReadonlyMap<string, PointOfFocus> {
  return new Map(
    frames.map((frame): [string, PointOfFocus] => {
      if (frame === anchor) return [frame.id, { ...point, origin }];
      const registration = registered.get(frame.id) ?? null;
      if (registration === null) return [frame.id, { ...point, origin }];
      return [
        frame.id,
        {
          ...carried(frame, anchor, point, registration),
          origin: origin === 'marked' ? 'carried' : 'guessed',
        },
      ];
    }),
  );
}

/** Small lumas share the frames' fractions to within a pixel of theirs, so the motion is scaled to full size. */
function carried(
  frame: SurveyedFrame,
  anchor: SurveyedFrame,
  point: { readonly x: number; readonly y: number },
  registration: Registration,
): { x: number; y: number } {
  const factor = smallFactor(frame);
  const size = (one: SurveyedFrame) => ({ width: one.facts.widthPx, height: one.facts.heightPx });
  const there = carryPoint(
    invertSimilarity(scaleSimilarity(registration, factor)),
    size(anchor),
    size(frame),
    {
      x: point.x * anchor.facts.widthPx - 0.5,
      y: point.y * anchor.facts.heightPx - 0.5,
    },
  );
  const clamp = (value: number) => Math.min(1, Math.max(0, value));
  return {
    x: clamp((there.x + 0.5) / frame.facts.widthPx),
    y: clamp((there.y + 0.5) / frame.facts.heightPx),
  };
}

/** Pixels of the frame to one of its small luma, as the survey makes it. */
export function smallFactor(frame: SurveyedFrame): number {
  return Math.ceil(Math.max(frame.facts.widthPx, frame.facts.heightPx) / 512);
}
