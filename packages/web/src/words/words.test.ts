import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  apertureWords,
  chanceWords,
  counted,
  digits,
  ratioWords,
  rangeWords,
  shutterWords,
} from './amounts.ts';
import {
  ageWords,
  cameraClockWords,
  clockWords,
  dayKey,
  dayStartMs,
  dayWords,
  leftWords,
  monthWords,
  writtenOffsetMin,
} from './clock.ts';

describe('times in words', () => {
  const dawn = Date.parse('2026-06-11T05:20:00+01:00');

  it('are on the clock of the place', () => {
    expect(clockWords(dawn, 60)).toBe('5:20');
    expect(clockWords(dawn, 0)).toBe('4:20');
    expect(dayWords(dawn, 60)).toBe('Thursday 11 June');
  });

  it('round to the minute without making a sixtieth', () => {
    expect(clockWords(Date.parse('2026-06-11T05:59:40Z'), 0)).toBe('6:00');
  });

  it('keep the offset that was written, and know that Z says none', () => {
    expect(writtenOffsetMin('2026-06-11T05:20:00+01:00')).toBe(60);
    expect(writtenOffsetMin('2026-06-11T05:20:00-03:30')).toBe(-210);
    expect(writtenOffsetMin('2026-06-11T05:20:00Z')).toBeNull();
  });

  it('begin a day at midnight of the place, whatever the offset', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 4e12 }),
        fc.integer({ min: -720, max: 840 }),
        (timeMs, offsetMin) => {
          const start = dayStartMs(dayKey(timeMs, offsetMin), offsetMin);
          expect(start).toBeLessThanOrEqual(timeMs);
          expect(timeMs - start).toBeLessThan(86_400_000);
          expect(clockWords(start, offsetMin)).toBe('0:00');
        },
      ),
      { seed: 11 },
    );
  });

  it('say a camera’s time as the camera wrote it', () => {
    expect(cameraClockWords('2026-06-11T06:02:11')).toBe('6:02');
    expect(cameraClockWords('2026-06-11T06:02:11+09:00')).toBe('6:02');
    expect(cameraClockWords(null)).toBe('');
  });

  it('say months, ages and what is left', () => {
    expect(monthWords('2026-06-11')).toBe('June 2026');
    expect(monthWords('')).toBe('Without a date');
    expect(ageWords(0.2)).toBe('less than an hour old');
    expect(ageWords(2.2)).toBe('2 h old');
    expect(ageWords(170)).toBe('7 days old');
    expect(leftWords(2)).toBe('a few seconds left');
    expect(leftWords(41)).toBe('about 40 s left');
    expect(leftWords(200)).toBe('about 3 min left');
  });
});

describe('numbers in words', () => {
  it('carry the digits that mean something', () => {
    expect([0.1234, 1.96, 12.3, 123.4, 0].map((value) => digits(value))).toEqual([
      '0.12',
      '2',
      '12',
      '123',
      '0',
    ]);
    expect(rangeWords(0.21, 0.52, 'm/s')).toBe('0.2 to 0.5 m/s');
    expect(rangeWords(0.41, 0.44, 'm/s')).toBe('0.4 m/s');
  });

  it('are the dial’s for shutter and aperture, and the trade’s for magnification', () => {
    expect(shutterWords(1 / 200)).toBe('1/200');
    expect(shutterWords(0.625)).toBe('0.63 s');
    expect(shutterWords(2)).toBe('2 s');
    expect(apertureWords(5.6)).toBe('f/5.6');
    expect(apertureWords(11)).toBe('f/11');
    expect(ratioWords(1 / 3)).toBe('1 : 3');
    expect(ratioWords(1)).toBe('1 : 1');
    expect(ratioWords(2)).toBe('2 : 1');
  });

  it('say a chance the way it is said', () => {
    expect(chanceWords(0.25)).toBe('1 in 4');
    expect(chanceWords(0.5)).toBe('1 in 2');
    expect(chanceWords(0.97)).toBe('nearly all');
    expect(chanceWords(0.001)).toBe('none to count on');
    expect(counted(1, 'frame')).toBe('1 frame');
    expect(counted(1200, 'frame')).toBe('1,200 frames');
  });
});
