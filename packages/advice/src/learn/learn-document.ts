/** What was learned as the document `tepal/learn/1`. */
import type { LearnDocument, LearnedParameter } from '@tepal/formats';
import { list, type Notebook } from '@tepal/notebook';
import { SUPPORTS, type NormalPrior } from '@tepal/science';
import { gatherEvidence } from './gather.ts';
import {
  learnedFloor,
  learnedHands,
  learnedLull,
  learnedPlacement,
  learnedPlant,
  learnedWind,
  priorFactor,
  type LearnedFactor,
} from './learned.ts';
import { learnFromOutings } from './posterior.ts';
import * as prior from './priors.ts';

/**
 * Everything learned from a notebook: each parameter's prior, posterior and the frames behind it. A notebook without
 * evidence gets the priors.
 */
export function learnDocument(notebook: Notebook): LearnDocument {
  const { outings, unused } = gatherEvidence(notebook);
  const all = learnFromOutings(outings);
  const parameter = (
    name: string,
    saying: string,
    learned: LearnedFactor,
    laws: readonly NormalPrior[],
  ): LearnedParameter => {
    const before = priorFactor(laws);
    const [low, high] = learned.interval90;
    const from =
      learned.frames === 0
        ? 'typical figures; none of your frames bear on it yet'
        : `from ${learned.frames} of your frames`;
    return {
      name,
      unit: 'times typical',
      prior: { median: before.median, interval90: [...before.interval90] },
      posterior: { median: learned.median, interval90: [low, high] },
      frames: learned.frames,
      logSpread: learned.logSpread,
      saying: `${saying} ${twoDigits(learned.median)} times as much as typical (${twoDigits(low)} to ${twoDigits(high)}), ${from}.`,
    };
  };
  const floors = new Map(
    outings
      .flatMap(({ series }) => series)
      .flatMap(({ frames }) => frames)
      .map(
        ({ lens, fileKind, fNumber }) =>
          [`${lens} ${fileKind} ${fNumber}`, { lens, fileKind, fNumber }] as const,
      ),
  );
  return {
    schema: 'tepal/learn/1',
    frames: all.used,
    unused,
    parameters: [
      ...SUPPORTS.map((support) =>
        parameter(`hands ${support}`, `Hands, ${support}: the camera moves`, learnedHands(all, support), [
          prior.HANDS,
          prior.SUPPORT,
        ]),
      ),
      parameter('focus placement', 'The focus lies off the point', learnedPlacement(all), [prior.PLACEMENT]),
      parameter('lulls', 'When you release, the wind is', learnedLull(all), [prior.LULL]),
      ...list(notebook, 'site').map(({ id, name }) =>
        parameter(
          `wind ${id}`,
          `${name}: against its forecast the wind at the plant is`,
          learnedWind(all, id),
          [prior.SITE_WIND],
        ),
      ),
      ...list(notebook, 'subject').map(({ id, scientificName }) =>
        parameter(`sway ${id}`, `${scientificName} sways`, learnedPlant(all, id), [prior.PLANT]),
      ),
      ...[...floors.values()].map(({ lens, fileKind, fNumber }) =>
        parameter(
          `floor ${lens} ${fileKind} f/${fNumber}`,
          `${lens} at f/${fNumber}, ${fileKind}: with nothing moving the blur is`,
          learnedFloor(all, lens, fileKind, fNumber),
          [prior.FLOOR, prior.FLOOR_AT_APERTURE],
        ),
      ),
    ],
  };
}

const twoDigits = (value: number): string => String(Number(value.toPrecision(2)));
