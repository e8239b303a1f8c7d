/** What stands behind each number of the advice: equation, source, what went in, what came out. */
import type { Explanation } from '@tepal/formats';
import type { Scene } from '../rule/scene.ts';
import type { Setting } from '../rule/settings.ts';
import { lightSteps } from './explain/light.ts';
import { motionSteps } from './explain/motion.ts';
import { blurSteps, frameSteps } from './explain/odds.ts';
import { opticsSteps } from './explain/optics.ts';
import type { Explainable } from './explain/quantity.ts';

/** Every step, in the order in which the numbers rest on one another. */
export function explanationsOf(
  scene: Scene,
  setting: Setting,
  document: Explainable,
): readonly Explanation[] {
  return [
    ...opticsSteps(scene, setting, document),
    ...lightSteps(scene, setting, document),
    ...motionSteps(scene, setting, document),
    ...blurSteps(scene, document),
    ...frameSteps(document),
  ];
}
