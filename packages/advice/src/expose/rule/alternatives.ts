/** Two other settings for the same light, and what each trades. */
import {
  chanceOfKeeper,
  depthDiscMm,
  depthOfField,
  F_NUMBER_DIAL,
  framesForKeeper,
  ISO_DIAL,
  SHUTTER_DIAL,
  shutterInWords,
  type DepthOfField,
  type DialPosition,
} from '@tepal/science';
import type { ExposeAlternative } from '@tepal/formats';
import { lensAt, sharpAt, type Scene } from './scene.ts';
import { BASE_ISO_THIRDS, isoBounds, noiseBorneShare } from './noise.ts';
import { fNumbersOf, type Setting } from './settings.ts';
import { oneIn } from '../words/words.ts';

/** A move along the dials in third stops; each keeps the exposure: f + t = iso. */
interface Move {
  readonly f: number;
  readonly t: number;
  readonly iso: number;
  readonly trade: (words: TradeWords) => string;
}

interface TradeWords {
  readonly setting: Setting;
  readonly from: Setting;
  readonly odds: string;
  readonly depth: string;
  readonly noise: string;
}

/** What may be traded; the two that are worth most of those that the dials, the lens and what is fixed allow are taken. */
const MOVES: readonly Move[] = [
  {
    f: 3,
    t: -3,
    iso: 0,
    trade: (w) => `One stop more depth (${w.depth}) for twice the time; ${w.odds} sharp at the point.`,
  },
  {
    f: 0,
    t: -3,
    iso: -3,
    trade: (w) => `Half the ISO for twice the time, ${shutterInWords(w.setting.t.marked)}; ${w.odds} sharp.`,
  },
  {
    f: -3,
    t: 3,
    iso: 0,
    trade: (w) => `Half the time and a softer background for less depth (${w.depth}); ${w.odds} sharp.`,
  },
  {
    f: 0,
    t: 3,
    iso: 3,
    trade: (w) => `Half the time for twice the ISO${w.noise}; ${w.odds} sharp.`,
  },
];

/**
 * Up to two alternatives, the better one first; none where the three values are fixed. Worth is the chance of a sharp
 * frame within the frames that one is willing to take, times the share of pictures that bear the noise, times the root
 * of the share of the subject's depth that is held. Ours.
 */
export function alternatives(scene: Scene, from: Setting): readonly ExposeAlternative[] {
  return judgedMoves(scene, from)
    .sort((a, b) => b.worth - a.worth)
    .slice(0, 2)
    .map(({ alternative }) => alternative);
}

function judgedMoves(
  scene: Scene,
  from: Setting,
): { readonly worth: number; readonly alternative: ExposeAlternative }[] {
  const { fix } = scene.request;
  const fs = fNumbersOf(scene);
  const found: { readonly worth: number; readonly alternative: ExposeAlternative }[] = [];
  for (const move of MOVES) {
    if ((fix.fNumber !== undefined && move.f !== 0) || (fix.iso !== undefined && move.iso !== 0)) continue;
    if (fix.exposureTimeS !== undefined && move.t !== 0) continue;
    const f = moved(F_NUMBER_DIAL, from.f, move.f);
    const t = moved(SHUTTER_DIAL, from.t, move.t);
    const iso = moved(ISO_DIAL, from.iso, move.iso);
    if (f === undefined || t === undefined || iso === undefined) continue;
    if (move.iso < 0 && iso.thirds < BASE_ISO_THIRDS) continue;
    if (move.f !== 0 && !fs.some(({ thirds }) => thirds === f.thirds)) continue;
    const setting = { f, t, iso };
    const sharp = sharpAt(scene, f.exact, t.exact);
    const trade = move.trade({
      setting,
      from,
      odds: oneIn(sharp),
      depth: depthInWords(scene, f),
      noise: iso.thirds > isoBounds(scene).ceilingThirds ? ', with noise that this delivery shows' : '',
    });
    found.push({
      worth:
        chanceOfKeeper(sharp, scene.request.frames) *
        noiseBorneShare(scene, iso.thirds) *
        depthHeld(scene, f),
      alternative: {
        fNumber: f.marked,
        exposureTimeS: t.exact,
        exposureTimeNominalS: t.marked,
        iso: iso.marked,
        sharp,
        framesFor95: framesForKeeper(sharp),
        trade,
      },
    });
  }
  return found;
}

/** The dial's position so many thirds on; a value that lies on no mark moves to one only when it must. */
function moved(dial: readonly DialPosition[], from: DialPosition, thirds: number): DialPosition | undefined {
  return thirds === 0 ? from : dial.find((position) => position.thirds === from.thirds + thirds);
}

function depthInWords(scene: Scene, f: DialPosition): string {
  const { total } = depthAt(scene, f);
  return total.kind === 'finite' ? `${Number(total.mm.toPrecision(2))} mm` : 'to the horizon';
}

/** Root of the share of the subject's depth that lies within the depth of field. */
function depthHeld(scene: Scene, f: DialPosition): number {
  const { total } = depthAt(scene, f);
  const { subjectDepthMm } = scene.request;
  return total.kind === 'infinite' || total.mm >= subjectDepthMm ? 1 : Math.sqrt(total.mm / subjectDepthMm);
}

function depthAt(scene: Scene, f: DialPosition): DepthOfField {
  return depthOfField(lensAt(scene, f.exact), depthDiscMm(scene.frame, scene.request.delivery));
}
