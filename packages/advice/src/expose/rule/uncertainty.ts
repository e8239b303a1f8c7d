/** How far the odds may be out: hands, plant and wind are known only to a factor. */
import { sharpAt, sceneOf, type Scene } from './scene.ts';
import type { Setting } from './settings.ts';

/**
 * Standard deviations of the logarithm of each factor. Assumptions, no source: typical hands and an unseen plant to
 * a factor of 1.65, the wind at the plant to 1.35; one's own hands and a sway that was watched to 1.2.
 */
const LOG_SPREAD = { typicalHands: 0.5, ownHands: 0.18, unseenPlant: 0.5, watchedPlant: 0.18, wind: 0.3 };

/** All three factors moved together so that the joint log-normal deviation is at its 5 and 95 % points. */
const EACH = 1.6449 / Math.sqrt(3);

/**
 * Odds of a sharp frame with everything moving more, and less, than guessed: 90 % of cases lie between.
 *
 * @returns [low, high], each 0 to 1, the guess between them
 */
export function sharpRange(scene: Scene, setting: Setting): readonly [number, number] {
  const { request } = scene;
  const { learned = {} } = request;
  const hands =
    learned.hands?.logSpread ?? (request.hands === undefined ? LOG_SPREAD.typicalHands : LOG_SPREAD.ownHands);
  const plant =
    learned.plant?.logSpread ??
    (request.sway === undefined ? LOG_SPREAD.unseenPlant : LOG_SPREAD.watchedPlant);
  const air = learned.wind?.logSpread ?? LOG_SPREAD.wind;
  const sharpWith = (sign: number): number => {
    const luck = {
      hands: Math.exp(sign * EACH * hands),
      plant: Math.exp(sign * EACH * plant),
      wind: Math.exp(sign * EACH * air),
    };
    return sharpAt(sceneOf(request, luck), setting.f.exact, setting.t.exact);
  };
  return [sharpWith(1), sharpWith(-1)];
}
