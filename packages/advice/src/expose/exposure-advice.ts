/** What to set at the subject, what it rests on, and the odds: the document `tepal/expose/1`. */
import type { ExposeDocument } from '@tepal/formats';
import {
  airyDiameterUm,
  blurBudget,
  blurDiscMm,
  chanceOfKeeper,
  depthDiscMm,
  depthOfField,
  effectiveFNumber,
  framesForKeeper,
  frameVariances,
  lightLossStops,
  shutterInWords,
  snrAtIso,
  subjectToSensorMm,
} from '@tepal/science';
import { fillAdvice, fillSteps } from './fill.ts';
import { checkedRequest, type CheckedRequest, type ExposureRequest } from './question/request.ts';
import { alternatives } from './rule/alternatives.ts';
import { isoBounds, isoPosition, noiseBorneShare } from './rule/noise.ts';
import { recommendedSetting } from './rule/recommended.ts';
import { frameAt, handsAreOwn, lensAt, oddsAt, sceneOf, SHADOW_STOPS, type Scene } from './rule/scene.ts';
import type { Setting } from './rule/settings.ts';
import { sharpRange } from './rule/uncertainty.ts';
import { burstAdvice, BURST_INTERVAL_S } from './still/burst.ts';
import { changesWorthwhile } from './still/changes.ts';
import { lullAdvice, type LullAdvice } from './still/lull.ts';
import { seriesAdvice } from './still/series.ts';
import { timingAdvice, type TimingAdvice } from './still/timing.ts';
import type { Explainable } from './words/explain/quantity.ts';
import { explanationsOf } from './words/explanations.ts';
import { cautionsFor, reasonsFor } from './words/words.ts';

/**
 * Advises on f-number, time and ISO. The rule of the recommendation stands with `recommendedSetting`.
 *
 * @param request the question; lengths in mm, times in s
 * @returns the document; `sharp` and its kin to two digits, the blur to full precision
 * @throws DomainError with one sentence for an impossible question: magnification -1, max-f below min-f, a fixed value
 *   that the lens or the light cannot meet
 */
export function exposureAdvice(request: ExposureRequest): ExposeDocument {
  const checked = checkedRequest(request);
  const scene = sceneOf(checked);
  const setting = recommendedSetting(scene);
  const frame = frameAt(scene, setting.f.exact, setting.t.exact);
  const budget = blurBudget(frame, frameVariances(frame), checked.subjectDepthMm);
  const odds = oddsAt(scene, setting.f.exact, setting.t.exact);
  const [low, high] = sharpRange(scene, setting);
  const framesFor95 = framesForKeeper(odds.sharp);
  const lull = lullAdvice(checked, setting);

  const lens = lensAt(scene, setting.f.exact);
  const Ne = effectiveFNumber(lens);
  const { total } = depthOfField(lens, depthDiscMm(scene.frame, checked.delivery));
  const depthOfFieldMm = total.kind === 'finite' ? total.mm : null;
  const lossStops = lightLossStops(checked.magnification, checked.pupilMagnification);
  const midtoneSnr = snrAtIso(scene.sensor, setting.iso.exact);
  const shadowSnr = snrAtIso(scene.sensor, setting.iso.exact, SHADOW_STOPS);
  const series = seriesAdvice(scene, setting, depthOfFieldMm, lull);
  const timing = timingAdvice(scene, setting, lull);
  const changes = changesWorthwhile(checked, odds.sharp, timing);
  const burst = burstAdvice(scene, odds.sharp, BURST_INTERVAL_S);
  const { cleanThirds, ceilingThirds } = isoBounds(scene);
  const ceilingIso = isoPosition(ceilingThirds).marked;
  const discMm = blurDiscMm(lens, checked.backgroundMm);
  const fill = fillAdvice(checked);
  const findings = {
    scene,
    setting,
    budget,
    odds,
    framesFor95,
    depthOfFieldMm,
    midtoneSnr,
    shadowSnr,
    lossStops,
    lull,
    series,
    timing,
    burst,
    changes,
    fill,
  };

  const document: Explainable = {
    schema: 'tepal/expose/1',
    recommended: {
      fNumber: setting.f.marked,
      exposureTimeS: setting.t.exact,
      exposureTimeNominalS: setting.t.marked,
      iso: setting.iso.marked,
    },
    alternatives: alternatives(scene, setting),
    optics: {
      effectiveFNumber: Ne,
      lightLossStops: lossStops,
      depthOfFieldMm,
      workingDistanceMm: workingDistanceMm(checked),
      airyDiameterUm: airyDiameterUm(Ne),
    },
    budget: {
      ...budget,
      totalPx: budget.totalUm / scene.pixelUm,
      limitUm: scene.limitUm,
      limitPx: scene.limitUm / scene.pixelUm,
    },
    background: { discMm, shareOfFrameWidth: discMm / checked.sensor.widthMm },
    noise: {
      midtoneSnr,
      shadowSnr,
      cleanIso: isoPosition(cleanThirds).marked,
      ceilingIso,
      borneShare: noiseBorneShare(scene, setting.iso.thirds),
    },
    odds: {
      ...odds,
      sharpRange: [low, high],
      framesFor95,
      framesFor95Range: [framesForKeeper(high), framesForKeeper(low)],
      ...(checked.intervalS === undefined
        ? {}
        : { framesFor95Correlated: burstAdvice(scene, odds.sharp, checked.intervalS).frames }),
      basis: handsAreOwn(checked) ? 'yours' : 'typical',
      waitForLullS: lull.kind === 'wait' ? lull.expectedWaitS : null,
      within: { frames: checked.frames, chance: chanceOfKeeper(odds.sharp, checked.frames) },
      burst,
    },
    focusSeries: series,
    camera: cameraWords(scene, setting, ceilingIso),
    lull: lullOf(lull),
    timing: timingOf(timing),
    fill,
    changes,
    reasons: reasonsFor(findings),
    cautions: cautionsFor(findings),
  };
  const steps = [...explanationsOf(scene, setting, document), ...fillSteps(checked, fill)];
  return { ...document, explanations: steps };
}

function lullOf(lull: LullAdvice): ExposeDocument['lull'] {
  if (lull.kind !== 'wait') return null;
  const { belowMs, sharpThen: sharp, expectedWaitS, meanLengthS } = lull;
  return { belowMs, sharp, expectedWaitS, meanLengthS };
}

function timingOf(timing: TimingAdvice): ExposeDocument['timing'] {
  if (timing.kind === 'noHelp') return null;
  const { sharp, quietMomentS, longerStops, secondsTimed, secondsWaiting, better } = timing;
  return { sharp, quietMomentS, longerStops, secondsTimed, secondsWaiting, better };
}

/** What to set the camera to, as it is used. */
function cameraWords(
  scene: Scene,
  setting: Setting,
  ceilingIso: number,
): NonNullable<ExposeDocument['camera']> {
  const use = scene.request.camera;
  const slowest = shutterInWords(setting.t.marked);
  const isoCeiling = Math.max(ceilingIso, setting.iso.marked);
  const words =
    use === 'manual'
      ? `Set f/${setting.f.marked}, ${slowest} and ISO ${setting.iso.marked} by hand.`
      : `Set f/${setting.f.marked}, a slowest shutter of ${slowest} and an ISO ceiling of ${isoCeiling}; the camera finds ISO ${setting.iso.marked} in this light.`;
  return { use, fNumber: setting.f.marked, slowestShutterS: setting.t.marked, isoCeiling, words };
}

/** Front of the lens to the subject, where the lens's front is known. Principal planes taken as one. */
function workingDistanceMm(request: CheckedRequest): number | null {
  const { focalLengthMm, frontToSensorMm } = request.lens;
  if (frontToSensorMm === undefined) return null;
  const distance = subjectToSensorMm(focalLengthMm, request.magnification) - frontToSensorMm;
  return distance > 0 ? distance : null;
}
