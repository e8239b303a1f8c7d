import { expect, it } from 'vitest';
import { spreadMarks } from './spread-marks.ts';

it('puts typical in the middle, a half and a double alike to its sides, and keeps within the line', () => {
  expect(spreadMarks({ median: 1, interval90: [0.5, 2] })).toEqual({ from: 50, at: 100, to: 150 });
  expect(spreadMarks({ median: 9, interval90: [0.01, 90] })).toEqual({ from: 0, at: 200, to: 200 });
});
