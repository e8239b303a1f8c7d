/** When direct sun can reach a place: between the horizon's rise and set, to the minute. */
import { formatInstant } from '@tepal/formats';
import { sunHere, type SunHere } from './light-at-plant.ts';
import { horizonOfPlace, type PlantPlace } from '../place.ts';

/** A stretch in which the sun stands above the place's horizon; whether cloud lets it through is another matter. */
export interface SunSpell {
  readonly fromMs: number;
  readonly toMs: number;
  readonly from: string;
  readonly to: string;
}

/** Step at which the sun is looked for where the hours are farther apart [ms], and how near an edge is told [ms]. */
const stepMs = 3_600_000;
const nearMs = 60_000;
/** Widest gap between two hours that is looked into [ms]. */
const longestGapMs = 24 * stepMs;

/**
 * The stretches of time in which the sun clears the horizon of a place, within the hours of a forecast.
 *
 * A gap shorter than an hour, as between two trees, may be missed. Ends with the last hour.
 *
 * @param place with its horizon, slope and aspect
 * @param hours of that place, in order; their suns are not worked out again
 * @throws DomainError if the place is out of range
 */
export function sunSpells(
  place: PlantPlace,
  hours: readonly { readonly timeMs: number; readonly sun: Pick<SunHere, 'clearsHorizon'> }[],
): SunSpell[] {
  const horizon = horizonOfPlace(place);
  const clears = (timeMs: number): boolean => sunHere(place, horizon, timeMs).clearsHorizon;
  const points = hours.flatMap(({ timeMs, sun }, i) => {
    const nextMs = hours[i + 1]?.timeMs ?? timeMs + stepMs;
    const between = Math.max(0, Math.ceil(Math.min(nextMs - timeMs, longestGapMs) / stepMs) - 1);
    return [
      { timeMs, up: sun.clearsHorizon },
      ...Array.from({ length: between }, (_, k) => timeMs + (k + 1) * stepMs).map((at) => ({
        timeMs: at,
        up: clears(at),
      })),
    ];
  });
  const spells: SunSpell[] = [];
  let openMs: number | null = null;
  points.forEach(({ timeMs, up }, i) => {
    if (up === (openMs !== null)) return;
    const before = points[i - 1];
    const edge = before === undefined ? timeMs : edgeBetween(before.timeMs, timeMs, up, clears);
    if (!up) spells.push(spell(openMs ?? edge, edge));
    openMs = up ? edge : null;
  });
  const lastMs = points.at(-1)?.timeMs ?? 0;
  if (openMs !== null && lastMs > openMs) spells.push(spell(openMs, lastMs));
  return spells;
}

function spell(fromMs: number, toMs: number): SunSpell {
  const whole = (timeMs: number) => Math.round(timeMs / 1000) * 1000;
  return {
    fromMs,
    toMs,
    from: formatInstant(whole(fromMs)),
    to: formatInstant(whole(toMs)),
  };
}

function edgeBetween(
  fromMs: number,
  toMs: number,
  upAfter: boolean,
  clears: (timeMs: number) => boolean,
): number {
  let [low, high] = [fromMs, toMs];
  while (high - low > nearMs) {
    const middle = (low + high) / 2;
    if (clears(middle) === upAfter) high = middle;
    else low = middle;
  }
  return high;
}
