import { describe, expect, it } from 'vitest';
import { SimulatedPhotographer } from '../../fixtures/simulated-photographers.ts';
import type { OutingToLearn, SeriesToLearn } from './frame-to-learn.ts';
import {
  chanceSharpAsLearned,
  learnedFloor,
  learnedForExposure,
  learnedHands,
  learnedPlacement,
  learnedPlant,
  learnedWind,
  priorFactor,
} from './learned.ts';
import { learnFromOutings, type PosteriorOfAll } from './posterior.ts';
import * as prior from './priors.ts';

/** The whole trial is 500 photographers (TEPAL_PHOTOGRAPHERS=500); the suite walks a few of the same ones. */
const PHOTOGRAPHERS = Number(process.env['TEPAL_PHOTOGRAPHERS'] ?? 24);
const OUTINGS = 5;
const SERIES = 4;
const FRAMES = 5;

interface Trial {
  readonly kind: string;
  readonly covered: boolean;
  readonly deviation: number;
}

/** 100 frames of one photographer, learned from, and one outing more that was not. */
function trialOf(seed: number): { trials: Trial[]; gain: number } {
  const photographer = new SimulatedPhotographer(seed);
  const outings = Array.from(
    { length: OUTINGS },
    (_, i) => photographer.outing(`o${i}`, SERIES, FRAMES).outing,
  );
  const all = learnFromOutings(outings);
  const trials: Trial[] = [];
  for (const [name, place] of all.places) {
    const truth = photographer.truths.get(name);
    if (truth === undefined) continue;
    const deviation = (truth - all.mode[place]!) / Math.sqrt(all.covariance[place]![place]!);
    trials.push({ kind: name.split(' ')[0]!, covered: Math.abs(deviation) <= 1.6449, deviation });
  }
  const held = photographer.outing('held out', SERIES, FRAMES, true);
  const nobody = learnFromOutings([]);
  const scoreOf = (posterior: PosteriorOfAll): number =>
    held.frames.reduce((sum, frame) => {
      const chance = chanceSharpAsLearned(posterior, {
        ...frame,
        limit: frame.limitPx ** 2,
        fileKind: 'jpeg',
      });
      const kept = Math.min(1 - 1e-6, Math.max(1e-6, chance));
      return sum + Math.log(frame.sharp ? kept : 1 - kept);
    }, 0);
  return { trials, gain: scoreOf(all) - scoreOf(nobody) };
}

const meanOf = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0) / values.length;

describe('photographers drawn from the priors, with deleted frames, timed lulls and unknown magnifications', () => {
  it('are covered by 90 % of the 90 % intervals, and foretold better than by the priors', () => {
    const found = Array.from({ length: PHOTOGRAPHERS }, (_, i) => trialOf(1000 + i));
    const trials = found.flatMap((one) => one.trials);
    const covered = meanOf(trials.map((trial) => Number(trial.covered)));
    const gains = found.slice(0, 200).map((one) => one.gain);
    const gain = meanOf(gains);
    const error = Math.sqrt(meanOf(gains.map((x) => (x - gain) ** 2)) / (gains.length - 1));
    if (PHOTOGRAPHERS >= 60) {
      const kinds = [...new Set(trials.map(({ kind }) => kind))].map((kind) => {
        const own = trials.filter((trial) => trial.kind === kind);
        const share = meanOf(own.map((trial) => Number(trial.covered)));
        return `${kind} ${(100 * share).toFixed(1)} % of ${own.length}, off by ${meanOf(own.map((t) => t.deviation)).toFixed(2)}`;
      });
      process.stdout.write(
        `learning: ${(100 * covered).toFixed(1)} % of ${trials.length} intervals; gain in log score an outing ${gain.toFixed(2)} ± ${(1.96 * error).toFixed(2)}\n  ${kinds.join('\n  ')}\n`,
      );
      expect(gain - 1.96 * error).toBeGreaterThan(0);
    }
    // 90 ± 4 %, and for a few photographers the scatter of their number on top (about 5 independent intervals each).
    const scatter = PHOTOGRAPHERS >= 500 ? 0 : 2 * Math.sqrt((0.9 * 0.1) / (5 * PHOTOGRAPHERS));
    expect(covered).toBeGreaterThan(0.86 - scatter);
    expect(covered).toBeLessThan(0.94 + scatter);
    expect(gain).toBeGreaterThan(0);
  }, 3_600_000);
});

describe('what is learned', () => {
  const photographer = new SimulatedPhotographer(7);
  const { outing } = photographer.outing('one', 3, 6, true);
  const inSeries = (change: (series: SeriesToLearn) => SeriesToLearn): OutingToLearn => ({
    ...outing,
    series: outing.series.map(change),
  });

  it('is the priors for a new photographer', () => {
    const nobody = learnFromOutings([]);
    expect(learnedHands(nobody, 'elbows')).toEqual(priorFactor([prior.HANDS, prior.SUPPORT]));
    expect(learnedPlacement(nobody)).toEqual(priorFactor([prior.PLACEMENT]));
    expect(learnedWind(nobody, 'meadow')).toEqual(priorFactor([prior.SITE_WIND]));
    expect(learnedPlant(nobody, 'orchid')).toEqual(priorFactor([prior.PLANT]));
    expect(learnedFloor(nobody, 'a lens', 'raw', 8)).toEqual(
      priorFactor([prior.FLOOR, prior.FLOOR_AT_APERTURE]),
    );
    expect(learnedHands(nobody, 'elbows').interval90[1]).toBeCloseTo(Math.exp(1.6449 * 0.5), 6);
  });

  it('goes into the exposure advice only where frames bear on it', () => {
    const { support, subjectId } = outing.series[0]!;
    const about = { support: support!, siteId: outing.siteId, subjectId };
    expect(learnedForExposure(learnFromOutings([]), about)).toEqual({});
    const learned = learnedForExposure(learnFromOutings([outing]), about);
    expect(Object.keys(learned).sort()).toEqual(['hands', 'placement', 'plant', 'wind']);
    expect(
      learnedForExposure(learnFromOutings([outing]), { ...about, siteId: 'elsewhere' }),
    ).not.toHaveProperty('wind');
  });

  it('is narrower than the priors once there are frames, and the same whatever their order', () => {
    const all = learnFromOutings([outing]);
    const { support } = outing.series[0]!;
    expect(learnedHands(all, support!).logSpread).toBeLessThan(0.5);
    const other = learnFromOutings([{ ...outing, series: [...outing.series].reverse() }]);
    expect(learnedHands(other, support!).median).toBeCloseTo(learnedHands(all, support!).median, 2);
  });

  it('is wider where magnification or support were not noted', () => {
    const known = learnFromOutings([outing]);
    const { support } = outing.series[0]!;
    const noScale = learnFromOutings([inSeries((series) => ({ ...series, magnification: null }))]);
    const noSupport = learnFromOutings([inSeries((series) => ({ ...series, support: null }))]);
    expect(learnedPlacement(noScale).logSpread).toBeGreaterThan(learnedPlacement(known).logSpread);
    expect(learnedHands(noSupport, support!).logSpread).toBeGreaterThan(
      learnedHands(known, support!).logSpread,
    );
  });

  it('counts a burst within a second as little more than one frame', () => {
    const apart = learnFromOutings([outing]);
    const burst = learnFromOutings([
      inSeries((series) => ({
        ...series,
        frames: series.frames.map((frame) => ({ ...frame, afterS: frame.afterS === null ? null : 0.1 })),
      })),
    ]);
    const { support } = outing.series[0]!;
    expect(learnedHands(burst, support!).logSpread).toBeGreaterThan(learnedHands(apart, support!).logSpread);
  });

  it('takes frames known to be deleted for mostly blurred ones', () => {
    const kept = learnFromOutings([inSeries((series) => ({ ...series, deleted: 0 }))]);
    const gone = learnFromOutings([inSeries((series) => ({ ...series, deleted: 20 }))]);
    const excess = (all: PosteriorOfAll) =>
      learnedPlacement(all).median * learnedHands(all, outing.series[0]!.support!).median;
    expect(excess(gone)).toBeGreaterThan(excess(kept));
  });
});
