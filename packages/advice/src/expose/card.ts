/** The pocket card: for one kit and one light, three magnifications by three airs, to be printed on one page. */
import type { CardDocument } from '@tepal/formats';
import { framesForKeeper, plantMotionBoundsMs, shutterInWords } from '@tepal/science';
import { checkedRequest, type ExposureRequest } from './question/request.ts';
import { isoBounds, isoPosition } from './rule/noise.ts';
import { recommendedSetting } from './rule/recommended.ts';
import { handsAreOwn, sceneOf, sharpAt } from './rule/scene.ts';
import { sharpRange } from './rule/uncertainty.ts';

/** What a card is made for. Everything else is as `ExposureRequest` has it. */
export interface CardRequest extends Pick<
  ExposureRequest,
  | 'sensor'
  | 'pixels'
  | 'lens'
  | 'support'
  | 'hands'
  | 'learned'
  | 'stabilisation'
  | 'stem'
  | 'delivery'
  | 'frames'
  | 'isoCeiling'
  | 'slowestShutterS'
> {
  /** Three or so; 1:10, 1:3 and life size unless said. */
  readonly magnifications?: readonly number[];
  /** Light of the scene at ISO 100; 12, a heavy overcast or open shade, unless said. */
  readonly ev100?: number;
}

const MAGNIFICATIONS = [0.1, 1 / 3, 1];
const OVERCAST_EV = 12;

/** A flower fills about a third of the frame's width and is a third as deep as wide. Ours. */
const DEPTH_OVER_FIELD = 1 / 9;
/** Far enough not to matter; the card says nothing of backgrounds. */
const BACKGROUND_MM = 1000;

const { still, stirring, nodding } = plantMotionBoundsMs;

/** The airs of a card, each by the middle of its range [m/s at the plant]. */
const AIRS = [
  { air: 'still', windMs: still / 2 },
  { air: 'stirring', windMs: (still + stirring) / 2 },
  { air: 'nodding', windMs: (stirring + nodding) / 2 },
] as const;

/**
 * The card. Unlike the advice for the moment, which sets for the lull, each row sets for its own air.
 *
 * @throws DomainError as `exposureAdvice` does
 */
export function pocketCard(card: CardRequest): CardDocument {
  const { magnifications = MAGNIFICATIONS, ev100 = OVERCAST_EV, ...kit } = card;
  const rows = magnifications.flatMap((magnification) => {
    const subjectDepthMm = (DEPTH_OVER_FIELD * card.sensor.widthMm) / magnification;
    return AIRS.map(({ air, windMs }) => {
      const asked: ExposureRequest = {
        ...kit,
        magnification,
        subjectDepthMm,
        backgroundMm: BACKGROUND_MM,
        light: { kind: 'ev100', ev100 },
        windMs,
      };
      return { air, windMs, ...rowOf(asked, windMs), magnification, subjectDepthMm };
    });
  });
  const first = checkedRequest({
    ...kit,
    magnification: magnifications[0] ?? 1,
    subjectDepthMm: 1,
    backgroundMm: BACKGROUND_MM,
    light: { kind: 'ev100', ev100 },
  });
  const bounds = isoBounds(sceneOf(first));
  return {
    schema: 'tepal/card/1',
    ev100,
    support: first.support,
    basis: handsAreOwn(first) ? 'yours' : 'typical',
    delivery: first.delivery,
    cleanIso: isoPosition(bounds.cleanThirds).marked,
    ceilingIso: isoPosition(bounds.ceilingThirds).marked,
    rows,
    rules: RULES,
  };
}

const RULES = [
  'One stop less light: twice the ISO, or one stop wider.',
  'Nodding: wait for the lull, or release at the end of a swing.',
  'Frames are for one sharp at the point of focus with 95 % certainty; pause between short bursts.',
];

function rowOf(asked: ExposureRequest, windMs: number) {
  const scene = sceneOf(checkedRequest(asked));
  const setting = recommendedSetting(scene, windMs);
  const sharp = sharpAt(scene, setting.f.exact, setting.t.exact);
  const [low, high] = sharpRange(scene, setting);
  const range: readonly [number | null, number | null] = [framesForKeeper(high), framesForKeeper(low)];
  return {
    fNumber: setting.f.marked,
    exposureTimeNominalS: setting.t.marked,
    shutter: shutterInWords(setting.t.marked),
    iso: setting.iso.marked,
    sharp,
    framesFor95: framesForKeeper(sharp),
    framesFor95Range: range,
  };
}
