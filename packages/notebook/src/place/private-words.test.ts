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
    '52°39\'27.3"',
    '52°39′27.3″',
    '52 39 27.3',
    '0.1244',
  ]) {
    expect(words).toContain(word);
  }
});
