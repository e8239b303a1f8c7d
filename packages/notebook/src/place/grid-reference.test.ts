import { squareOfGridReference, nationalGridOfDegrees } from '@tepal/science';
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { inventedSite } from '../../fixtures/invented-things.ts';
import { positionOfReceiver } from '../kept/phone-position.ts';
import { SENSITIVITIES } from '../kept/subject.ts';
import { gridReferenceOfReleased } from './grid-reference.ts';
import { privatePlaceOfSite } from './private-place.ts';
import { release } from './release.ts';

const at = (latitudeDeg: number, longitudeDeg: number, coordinateUncertaintyM: number | null = 8) =>
  privatePlaceOfSite(
    inventedSite({ position: { latitudeDeg, longitudeDeg, altitudeM: null, coordinateUncertaintyM } }),
  );
const released = (
  place: ReturnType<typeof at>,
  wish: 'exact' | 'coarse' | 'region',
  sensitivity: 'none' | 'high',
) => {
  const answer = release(place, { audience: 'public', wish, sensitivity });
  if (!answer.ok) throw new Error(answer.why);
  return answer.place;
};

it('an exact place has the reference of a square no finer than it is known', () => {
  // FS G-4: TQ 38882 77331.
  const exact = (uncertainty: number | null) =>
    gridReferenceOfReleased(released(at(51.4779, -0.0015, uncertainty), 'exact', 'none'));
  expect(exact(8)).toBe('TQ 3888 7733');
  expect(exact(30)).toBe('TQ 388 773');
  expect(exact(null)).toBe('TQ 388 773');
  expect(exact(400)).toBe('TQ 38 77');
});

it('a cell’s square holds the whole cell, and is the same for every place in it', () => {
  const place = fc.record({
    latitudeDeg: fc.double({ min: 50.2, max: 58, noNaN: true }),
    longitudeDeg: fc.double({ min: -5, max: 1.5, noNaN: true }),
  });
  fc.assert(
    fc.property(place, fc.constantFrom(...SENSITIVITIES), ({ latitudeDeg, longitudeDeg }, sensitivity) => {
      const answer = release(at(latitudeDeg, longitudeDeg), {
        audience: 'public',
        wish: 'coarse',
        sensitivity,
      });
      if (!answer.ok) throw new Error(answer.why);
      const reference = gridReferenceOfReleased(answer.place);
      if (reference === null) return;
      const square = squareOfGridReference(reference)!;
      const [middle, truth] = [square.centre, { latitudeDeg, longitudeDeg }].map(nationalGridOfDegrees);
      if (middle?.kind !== 'onGrid' || truth?.kind !== 'onGrid') throw new Error('off the grid');
      expect(Math.abs(middle.eastingM - truth.eastingM)).toBeLessThanOrEqual(square.sideM / 2 + 0.1);
      expect(Math.abs(middle.northingM - truth.northingM)).toBeLessThanOrEqual(square.sideM / 2 + 0.1);
      // What was released says it all: from the cell alone the same reference comes.
      const { latitudeDeg: cellLat, longitudeDeg: cellLon } = answer.place;
      const again = release(at(cellLat!, cellLon!), { audience: 'public', wish: 'coarse', sensitivity });
      expect(again.ok && gridReferenceOfReleased(again.place)).toBe(reference);
    }),
    { seed: 20261125, numRuns: 300 },
  );
});

it('a place off the grid, or withheld, has none', () => {
  expect(gridReferenceOfReleased(released(at(48.85, 2.29), 'exact', 'none'))).toBeNull();
  const withheld = release(at(52, -1), { audience: 'public', sensitivity: 'none' });
  expect(withheld.ok && gridReferenceOfReleased(withheld.place)).toBeNull();
});

it('a phone’s accuracy is doubled (FS 8.2), and none is no uncertainty at all', () => {
  const reading = { latitudeDeg: 52, longitudeDeg: -1, altitudeM: null };
  expect(positionOfReceiver({ ...reading, accuracyM: 4.5 }).coordinateUncertaintyM).toBe(9);
  expect(positionOfReceiver({ ...reading, accuracyM: null }).coordinateUncertaintyM).toBeNull();
  expect(positionOfReceiver({ ...reading, accuracyM: 0 }).coordinateUncertaintyM).toBeNull();
});
