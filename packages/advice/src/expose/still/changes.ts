/** What to change when nothing is good enough, in order of gain. */
import { framesForKeeper, SUPPORTS, type Support } from '@tepal/science';
import type { CheckedRequest } from '../question/request.ts';
import { chanceWanted, recommendedSetting } from '../rule/recommended.ts';
import { sceneOf, sharpAt } from '../rule/scene.ts';
import type { TimingAdvice } from './timing.ts';

/** One change, and the odds of a frame after it. */
export interface Change {
  readonly change: string;
  readonly sharp: number;
  readonly framesFor95: number | null;
}

/** A change is worth naming when it raises the odds by so much. */
const WORTHWHILE_GAIN = 1.2;
/** What is tried: the plant half sheltered, a stop of light, a looser frame, half the print. */
const HALF = 0.5;
const LOOSER = 1 / Math.SQRT2;

const SUPPORT_WORDS: Readonly<Record<Support, string>> = {
  tripod: 'Use a tripod.',
  beanbag: 'Rest the camera on a beanbag.',
  elbows: 'Rest on your elbows.',
  kneeling: 'Kneel.',
  standing: 'Stand.',
};

/**
 * The changes that help, the greatest gain first; none where a frame is good enough as it is.
 *
 * @param sharp odds of the recommended setting, which stay what they are for fixed values
 */
export function changesWorthwhile(
  request: CheckedRequest,
  sharp: number,
  timing: TimingAdvice,
): readonly Change[] {
  if (sharp >= chanceWanted(request.frames)) return [];
  const asked = changedRequests(request).map(({ change, request: changed }) => {
    const scene = sceneOf(changed);
    const { f, t } = recommendedSetting(scene);
    return { change, sharp: sharpAt(scene, f.exact, t.exact) };
  });
  const timed =
    timing.kind === 'helps' ? [{ change: 'Release at the end of a swing.', sharp: timing.sharp }] : [];
  return [...timed, ...asked]
    .filter((one) => one.sharp >= WORTHWHILE_GAIN * sharp && one.sharp > 0)
    .sort((a, b) => b.sharp - a.sharp)
    .map((one) => ({ ...one, framesFor95: framesForKeeper(one.sharp) }));
}

function changedRequests(
  request: CheckedRequest,
): readonly { readonly change: string; readonly request: CheckedRequest }[] {
  const { delivery, windMs, sway, support, magnification } = request;
  const found: { readonly change: string; readonly request: CheckedRequest }[] = [];
  if (windMs !== undefined && windMs > 0 && sway === undefined) {
    const change = 'Shield the plant so that half of the wind reaches it.';
    found.push({ change, request: { ...request, windMs: HALF * windMs } });
  }
  if (sway !== undefined && sway.amplitudeMm > 0) {
    const halved = { ...sway, amplitudeMm: HALF * sway.amplitudeMm };
    found.push({
      change: 'Steady the stem from outside the frame, or shield it, to half of its swing.',
      request: { ...request, sway: halved },
    });
  }
  // Steadier supports stand first in the list; own figures say nothing of another support.
  const steadier = request.hands === undefined ? SUPPORTS[SUPPORTS.indexOf(support) - 1] : undefined;
  if (steadier !== undefined) {
    found.push({ change: SUPPORT_WORDS[steadier], request: { ...request, support: steadier } });
  }
  found.push({
    change: 'Frame looser, the subject at seven tenths of the size.',
    request: { ...request, magnification: LOOSER * magnification },
  });
  found.push({
    change: 'One stop more light: a reflector, or a brighter hour.',
    request: { ...request, ev100: request.ev100 + 1 },
  });
  found.push({
    change: `Deliver at half the size, ${HALF * delivery.widthMm} x ${HALF * delivery.heightMm} mm.`,
    request: {
      ...request,
      delivery: { ...delivery, widthMm: HALF * delivery.widthMm, heightMm: HALF * delivery.heightMm },
    },
  });
  return found;
}
