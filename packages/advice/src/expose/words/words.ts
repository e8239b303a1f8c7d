/** Reasons and cautions in sentences with numbers. */
import { LEAST_COUNTED_CHANCE, shutterInWords, type BlurBudget, type FrameOdds } from '@tepal/science';
import type { BurstAdvice } from '../still/burst.ts';
import type { Change } from '../still/changes.ts';
import type { LullAdvice } from '../still/lull.ts';
import type { SeriesAdvice } from '../still/series.ts';
import type { TimingAdvice } from '../still/timing.ts';
import { handsAreOwn, SHADOW_STOPS, windAtPlantMs, type Scene } from '../rule/scene.ts';
import { fillWords } from '../fill.ts';
import { isoBounds, isoPosition } from '../rule/noise.ts';
import { LULL_WIND_MS } from '../rule/recommended.ts';
import { exposureErrorStops, type Setting } from '../rule/settings.ts';

/** What the sentences are about. */
export interface Findings {
  readonly scene: Scene;
  readonly setting: Setting;
  readonly budget: BlurBudget;
  readonly odds: FrameOdds;
  readonly framesFor95: number | null;
  /** Null where it reaches infinity. */
  readonly depthOfFieldMm: number | null;
  readonly midtoneSnr: number;
  readonly shadowSnr: number;
  readonly lossStops: number;
  readonly lull: LullAdvice;
  readonly timing: TimingAdvice;
  readonly series: SeriesAdvice | null;
  readonly burst: BurstAdvice;
  readonly changes: readonly Change[];
  readonly fill: Parameters<typeof fillWords>[0];
}

/** A chance as photographers say it: "certain", "nearly all", "about 1 in 4", "none". */
export function oneIn(chance: number): string {
  if (chance >= 0.995) return 'as good as every frame';
  if (chance > 0.75) return `about ${Math.round(chance * 10)} in 10`;
  if (chance > 0.45) return 'about 1 in 2';
  if (chance >= LEAST_COUNTED_CHANCE) return `about 1 in ${Math.round(1 / chance)}`;
  return 'hardly any frame';
}

/** Why this setting, the greatest cause first. */
export function reasonsFor(f: Findings): readonly string[] {
  const { scene, setting, budget, odds } = f;
  const { request } = scene;
  const causes = [
    { name: 'the plane of focus off the point', um: focusPlacementUm(budget) },
    { name: 'the subject moving', um: budget.subjectMotionUm },
    { name: 'the camera moving', um: budget.cameraMotionUm },
    { name: 'diffraction', um: budget.diffractionUm },
    { name: 'the pixels', um: budget.pixelUm },
  ].sort((a, b) => b.um - a.um);
  const frames =
    f.framesFor95 === null
      ? `No count of frames can be promised: a frame is sharp with a chance of ${percent(odds.sharp)}, below ${percent(LEAST_COUNTED_CHANCE)}.`
      : `${sentence(oneIn(odds.sharp))} will be sharp at the point of focus, so ${f.framesFor95 === 1 ? 'one frame is' : `${f.framesFor95} frames are`} enough for one with 95 % certainty.`;
  const lines = [
    frames,
    `At f/${setting.f.marked} and ${shutterInWords(setting.t.marked)} the largest causes of blur at the point are ${causes[0]!.name} (${um(causes[0]!.um)}) and ${causes[1]!.name} (${um(causes[1]!.um)}), against ${um(scene.limitUm)} that this delivery bears.`,
    f.depthOfFieldMm === null
      ? 'Everything beyond the near limit is within the depth of field.'
      : `The depth of field is ${mm(f.depthOfFieldMm)}, the subject ${mm(request.subjectDepthMm)} deep; the plane of focus falls within it in ${percent(odds.inFocus)} of frames.`,
    noiseWords(f),
  ];
  if (scene.lossFactor > 1.001) {
    lines.push(
      `Focusing this close loses ${round(f.lossStops)} stops of light, which is added to the reading.`,
    );
  } else if (!request.lossToAdd) {
    lines.push('The meter read through the lens, so the light lost by focusing close is already in it.');
  }
  lines.push(...fillWords(f.fill), ...burstWords(f), ...seriesWords(f.series), ...stillnessWords(f));
  if (f.changes[0] !== undefined) {
    const { change, sharp } = f.changes[0];
    lines.push(
      `What would help most: ${change.charAt(0).toLowerCase()}${change.slice(1, -1)}; then ${oneIn(sharp)} will be sharp.`,
    );
  }
  return lines;
}

function noiseWords({ scene, setting, midtoneSnr }: Findings): string {
  const { iso } = setting;
  const found = `signal to noise ${round(midtoneSnr)} in the midtones, where this delivery needs ${round(scene.wantedSnr.midtone)}`;
  const { cleanThirds, ceilingThirds } = isoBounds(scene);
  if (iso.thirds <= cleanThirds) return `ISO ${iso.marked} is clean down into the shadows: ${found}.`;
  if (midtoneSnr < scene.wantedSnr.midtone) return `ISO ${iso.marked} will show noise: ${found}.`;
  const over = round((iso.thirds - cleanThirds) / 3);
  return `ISO ${iso.marked} is borne: ${found}; the shadows begin to show it, ${over} stops above ISO ${isoPosition(cleanThirds).marked}, where they are clean, and ${round((ceilingThirds - iso.thirds) / 3)} below the ceiling.`;
}

function burstWords({ burst, framesFor95 }: Findings): readonly string[] {
  if (burst.frames === null || framesFor95 === null || burst.frames <= framesFor95) return [];
  return [
    `Frames of a burst are alike: at ${round(1 / burst.intervalS)} a second it takes ${burst.frames} for the same certainty, so pause between short bursts.`,
  ];
}

function seriesWords(series: SeriesAdvice | null): readonly string[] {
  if (series === null) return [];
  const { frames, durationS, meanLullS, chanceWhole, worthIt } = series;
  const plan = `One frame cannot hold the whole depth; ${frames} frames stepped through it would, in about ${round(durationS)} s`;
  const against = meanLullS === null ? '' : ` against lulls of ${round(meanLullS)} s`;
  const verdict = worthIt
    ? 'A series is worth trying.'
    : `All of them would be still with a chance of ${percent(chanceWhole)}: the best single frame is the safer picture.`;
  return [`${plan}${against}. ${verdict}`];
}

function stillnessWords({ scene, lull, timing }: Findings): readonly string[] {
  const lines: string[] = [];
  const { fix } = scene.request;
  const windMs = windAtPlantMs(scene.request);
  const chosen = fix.fNumber === undefined || fix.exposureTimeS === undefined || fix.iso === undefined;
  if (chosen && scene.request.sway === undefined && windMs !== undefined && windMs > LULL_WIND_MS) {
    lines.push(
      `The setting is chosen for a lull of ${round(LULL_WIND_MS)} m/s at the plant; the odds are for the wind as it is, ${round(windMs)} m/s.`,
    );
  }
  if (lull.kind === 'wait') {
    lines.push(
      `Wait for a lull: below ${round(lull.belowMs)} m/s at the plant ${oneIn(lull.sharpThen)} will be sharp. It comes in about ${round(lull.expectedWaitS)} s and lasts about ${round(lull.meanLengthS)} s.`,
    );
  }
  if (timing.kind === 'helps') {
    const against =
      timing.secondsWaiting === null
        ? ''
        : timing.better === 'timing'
          ? ` That beats waiting: about ${round(timing.secondsTimed)} s to a sharp one against ${round(timing.secondsWaiting)} s.`
          : ` Waiting is quicker: about ${round(timing.secondsWaiting)} s to a sharp one against ${round(timing.secondsTimed)} s.`;
    lines.push(
      `Released at the end of a swing, ${oneIn(timing.sharp)} will be sharp; the turn bears ${round(timing.longerStops)} stops more time than mid-swing.${against}`,
    );
  }
  return lines;
}

/** What may spoil it, and what the numbers do not know. */
export function cautionsFor(f: Findings): readonly string[] {
  const { scene, setting, budget } = f;
  const { request } = scene;
  const lines: string[] = [];
  const error = exposureErrorStops(scene, setting);
  if (Math.abs(error) > 0.25) {
    const side = error > 0 ? 'over' : 'under';
    lines.push(`These values ${side}expose by ${round(Math.abs(error))} stops in this light.`);
  }
  if (request.windMs === undefined && request.sway === undefined) {
    lines.push('No wind or sway was given, so the plant is taken as still.');
  }
  if (request.sway !== undefined) {
    lines.push(
      'The sway is taken as straight across the view; any swing towards the camera also moves the focus.',
    );
  }
  if (Math.hypot(budget.pixelUm, budget.diffractionUm) > scene.limitUm) {
    lines.push(
      `Diffraction alone is too much for this delivery at f/${setting.f.marked}: ${um(budget.diffractionUm)} of the ${um(scene.limitUm)} allowed. Open the aperture or deliver smaller.`,
    );
  }
  if (f.shadowSnr < scene.wantedSnr.shadow) {
    lines.push(`Shadows ${-SHADOW_STOPS} stops down will be noisy: signal to noise ${round(f.shadowSnr)}.`);
  }
  if (setting.iso.thirds > isoBounds(scene).ceilingThirds) {
    lines.push(
      'The light is too weak for the ISO that this delivery bears; use a slower shutter on a rest, or more light.',
    );
  }
  if (f.lull.kind === 'noneToHope') {
    lines.push(
      `Still air would help (${oneIn(f.lull.sharpThen)} below ${round(f.lull.belowMs)} m/s), but such a lull is not to be expected in this wind. Shield the plant or come back.`,
    );
  }
  if (!handsAreOwn(request)) {
    lines.push(
      'The hands are typical ones, not yours: the range of odds is wide until frames of yours have been measured.',
    );
  }
  return lines;
}

/** What focus placement adds at the point: the rest of its total. */
function focusPlacementUm(b: BlurBudget): number {
  const others = b.pixelUm ** 2 + b.diffractionUm ** 2 + b.subjectMotionUm ** 2 + b.cameraMotionUm ** 2;
  return Math.sqrt(Math.max(0, b.totalAtPointUm ** 2 - others));
}

function round(x: number): string {
  return String(Number(x.toPrecision(2)));
}

function um(x: number): string {
  return `${round(x)} µm`;
}

function mm(x: number): string {
  return `${round(x)} mm`;
}

function percent(p: number): string {
  return `${round(100 * p)} %`;
}

function sentence(words: string): string {
  return words.charAt(0).toUpperCase() + words.slice(1);
}
