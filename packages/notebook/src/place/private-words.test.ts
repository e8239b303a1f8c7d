import { beforeAll, expect, it } from 'vitest';
import {
  inventedRecord,
  inventedSite,
  inventedSubject,
  startInNode,
} from '../../fixtures/invented-things.ts';
import { change } from '../document/change.ts';
import { createNotebook } from '../document/notebook.ts';
import { coordinateWords, privateWords } from './private-words.ts';

beforeAll(startInNode);

it('names the sites, the notes on access, and every exact coordinate of a notebook', () => {
  const position = {
    latitudeDeg: 48.858219,
    longitudeDeg: 2.294512,
    altitudeM: null,
    coordinateUncertaintyM: null,
  };
  const notebook = change(createNotebook(), { message: 'all', timeMs: 0 }, (pen) => {
    pen.put('site', inventedSite());
    pen.put('subject', inventedSubject());
    pen.put('record', inventedRecord({ position }));
  });
  const words = privateWords(notebook);
  for (const word of [
    'Lower hay meadow',
    'Past the third oak.',
    '52.34567',
    '1.23456',
    '48.858219',
    '2.294512',
  ]) {
    expect(words).toContain(word);
  }
  expect(words).not.toContain('field scabious');
});

it('writes a coordinate in the notations a text could hold it in', () => {
  // FS G-19: 52.657570 N = 52 deg 39' 27.252".
  const words = coordinateWords({
    latitudeDeg: 52.65757,
    longitudeDeg: -0.1244,
    altitudeM: null,
    coordinateUncertaintyM: null,
  });
  for (const word of [
    '52.65757',
    '52,65757',
    '52,39.454',
    "52°39'27.3",
    "52°39'27",
    '52°39′27.3',
    '52.6576',
    '52 39 27.3',
    '0.1244',
  ]) {
    expect(words).toContain(word);
  }
});

it('writes a coordinate as grid references', () => {
  const at = (latitudeDeg: number, longitudeDeg: number) =>
    coordinateWords({ latitudeDeg, longitudeDeg, altitudeM: null, coordinateUncertaintyM: null });
  // FS G-4 and G-5.
  for (const word of ['TQ 38882 77331', 'TQ3888277331', 'TQ 388 773'])
    expect(at(51.4779, -0.0015)).toContain(word);
  for (const word of ['448251 5411932', '31UDQ4825111932']) expect(at(48.8582, 2.2945)).toContain(word);
});
