/**
 * Insects as classes of motion. No measured figures for insects on flowers were found: the speeds are assumptions, of
 * the order that walking, wing-shuffling and hovering have to the eye.
 */

/** What sits on the subject and moves of itself: spreads along each axis of the view, and along the view. */
export interface OwnMotion {
  /** [mm/s], >= 0. */
  readonly speedMmS: number;
  /** [mm], >= 0. */
  readonly foreAndAftMm: number;
}

export const INSECT_CLASSES = ['torpid', 'resting', 'feeding', 'hovering'] as const;
export type InsectClass = (typeof INSECT_CLASSES)[number];

/** How an insect of a class moves. */
export interface InsectMotion {
  /** Share of the time that it stands still on its perch [0..1]; then it moves as the plant does. */
  readonly stillShare: number;
  /** Its own motion while it moves. */
  readonly own: OwnMotion;
}

/**
 * By class. Torpid: cold, roosting or asleep, it moves with its perch alone. Resting: shuffles wings and feelers.
 * Feeding: walks over the flower. Hovering: never still. Assumptions, no source.
 */
export const INSECT_MOTION: Readonly<Record<InsectClass, InsectMotion>> = {
  torpid: { stillShare: 1, own: { speedMmS: 0, foreAndAftMm: 0 } },
  resting: { stillShare: 0.8, own: { speedMmS: 5, foreAndAftMm: 0.2 } },
  feeding: { stillShare: 0.4, own: { speedMmS: 10, foreAndAftMm: 1 } },
  hovering: { stillShare: 0, own: { speedMmS: 40, foreAndAftMm: 5 } },
};
