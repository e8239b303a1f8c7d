/** What to set at the subject, what it rests on, and the odds: the document `tepal/expose/1`. */
import {
  airyDiameterUm,
  blurBudget,
  blurDiscMm,
  correlationAfter,
  depthDiscMm,
  depthOfField,
  effectiveFNumber,
  focusSeries,
  focusSeriesDurationS,
  framesForCorrelatedKeeper,
  framesForKeeper,
  frameVariances,
  lightLossStops,
  snrAtIso,
  STEMS,
  subjectToSensorMm,
  swayInWind,
} from '@tepal/science';
import type { ExposeDocument } from '@tepal/formats';
import { alternatives } from './rule/alternatives.ts';
import { lullAdvice } from './still/lull.ts';
import { checkedRequest, type CheckedRequest, type ExposureRequest } from './question/request.ts';
import { frameAt, lensAt, oddsAt, sceneOf, SHADOW_STOPS, type Scene } from './rule/scene.ts';
import { recommendedSetting } from './rule/recommended.ts';
import type { Setting } from './rule/settings.ts';
import { sharpRange } from './rule/uncertainty.ts';
import { cautionsFor, reasonsFor } from './words/words.ts';

/** Share of the depth of field that neighbours of a focus series overlap. Common practice (20 to 50 %), no source. */
const SERIES_OVERLAP = 0.3;
/** Frames a second of a series. Assumption. */
const SERIES_RATE_HZ = 5;
/** Time after which a photographer's sway has forgotten itself [s]; below 1.1 Hz, so a few tenths. Assumption. */
const BODY_CORRELATION_S = 0.5;

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
  const series = seriesFor(checked, depthOfFieldMm, setting);
  const discMm = blurDiscMm(lens, checked.backgroundMm);
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
    seriesFrames: series?.frames ?? null,
  };

  return {
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
    noise: { midtoneSnr, shadowSnr },
    odds: {
      ...odds,
      sharpRange: [low, high],
      framesFor95,
      framesFor95Range: [framesForKeeper(high), framesForKeeper(low)],
      ...(checked.intervalS === undefined
        ? {}
        : { framesFor95Correlated: correlatedFrames(scene, odds.sharp, checked.intervalS) }),
      basis: checked.hands === undefined ? 'typical' : 'yours',
      waitForLullS: lull.kind === 'wait' ? lull.expectedWaitS : null,
    },
    focusSeries: series,
    reasons: reasonsFor(findings),
    cautions: cautionsFor(findings),
  };
}

/** Steps through a subject that is deeper than one frame holds; null when one frame holds it. */
function seriesFor(
  request: CheckedRequest,
  depthOfFieldMm: number | null,
  setting: Setting,
): ExposeDocument['focusSeries'] {
  if (depthOfFieldMm === null || depthOfFieldMm >= request.subjectDepthMm) return null;
  const { stepMm, framesCovering } = focusSeries(request.subjectDepthMm, depthOfFieldMm, SERIES_OVERLAP);
  return {
    frames: framesCovering,
    stepMm,
    durationS: focusSeriesDurationS(framesCovering, setting.t.exact, SERIES_RATE_HZ),
  };
}

/** Frames that follow at an interval: the slower of the plant's and the photographer's memory correlates them. */
function correlatedFrames(scene: Scene, sharp: number, intervalS: number): number | null {
  const { request } = scene;
  const plant =
    request.windMs === undefined || request.sway !== undefined
      ? undefined
      : swayInWind(STEMS[request.stem], request.windMs);
  const plantS = plant === undefined ? 0 : 1 / (2 * Math.PI * plant.damping * plant.frequencyHz);
  const rho = correlationAfter(intervalS, Math.max(BODY_CORRELATION_S, plantS));
  return framesForCorrelatedKeeper(sharp, Math.min(rho, 0.999));
}

/** Front of the lens to the subject, where the lens's front is known. Principal planes taken as one. */
function workingDistanceMm(request: CheckedRequest): number | null {
  const { focalLengthMm, frontToSensorMm } = request.lens;
  if (frontToSensorMm === undefined) return null;
  const distance = subjectToSensorMm(focalLengthMm, request.magnification) - frontToSensorMm;
  return distance > 0 ? distance : null;
}
