/** Whether a flower is open in an hour, or an insect of that habit to be seen. */

/** When a flower is open: the words of the notebook's subjects. */
export const OPENING_HABITS = ['needs sun', 'morning', 'shut by noon'] as const;
export type OpeningHabit = (typeof OPENING_HABITS)[number];

/** How far open, 0 shut to 1 open, for each habit; null where its input is not known. */
export type OpenByHabit = { readonly [Habit in OpeningHabit]: number | null };

/** What a flower goes by. */
export interface HourOfFlower {
  /** Hours since the sun stood lowest, 12 when it stands highest [h, 0 to 24). */
  readonly solarTimeH: number;
  /** Geometric [°]. */
  readonly sunAltitudeDeg: number;
  /** Whether the sun stands above the horizon of the place. */
  readonly sunClears: boolean;
  /** Share of the light that comes from the sky [0..1]; null where not known. */
  readonly diffuseShare: number | null;
}

/** Sun's share of the light from which a flower that needs it begins to open, and is open. Ours. */
const someSun = 0.2;
const plainSun = 0.45;
/** Solar time up to which a flower of the morning is fully open, and at which it is shut [h]. Ours. */
const morningUntilH = 11;
const morningOverH = 13;
/** The same for one that shuts by noon. Ours. */
const noonFromH = 11.25;
const noonShutH = 12.25;

const falling = (value: number, from: number, to: number) =>
  Math.min(1, Math.max(0, (to - value) / (to - from)));

/**
 * How far a flower of each habit is open.
 *
 * By the sun's own time, so that clocks, time zones and the hemisphere change nothing. Ours throughout, from common
 * practice: species differ, cold and rain keep many shut, and one that opened stays open for minutes behind a cloud.
 */
export function openByHabit(hour: HourOfFlower): OpenByHabit {
  const up = hour.sunAltitudeDeg > 0 ? 1 : 0;
  const sun = hour.diffuseShare === null ? null : 1 - hour.diffuseShare;
  return {
    'needs sun': sun === null ? null : hour.sunClears && up === 1 ? 1 - falling(sun, someSun, plainSun) : 0,
    morning: up * falling(hour.solarTimeH, morningUntilH, morningOverH),
    'shut by noon': up * falling(hour.solarTimeH, noonFromH, noonShutH),
  };
}
