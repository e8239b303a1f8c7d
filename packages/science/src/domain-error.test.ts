import { describe, expect, it } from 'vitest';
import {
  DomainError,
  requireFinite,
  requireInRange,
  requireInteger,
  requireNotNegative,
  requireOneOf,
  requirePositive,
  requireShare,
} from './domain-error.ts';

const latitude = { what: 'a latitude', unit: 'degrees', min: -90, max: 90 };

describe('a value outside the domain', () => {
  it('is refused in one sentence that says what was expected, for which name, and what came', () => {
    expect(() => requireInRange('latitudeDeg', 95, latitude)).toThrow(
      'expected a latitude in degrees from -90 to 90 for latitudeDeg but received 95',
    );
    expect(() => requirePositive('magnification', -1)).toThrow(
      'expected a number above 0 for magnification but received -1',
    );
    expect(() => requireOneOf('shelter', 'windy', ['open', 'hollow'])).toThrow(
      'expected one of open, hollow for shelter but received "windy"',
    );
    expect(() => requireInRange('x', 5, { min: 0, max: 5, maxExclusive: true })).toThrow(
      'expected a number of at least 0 and below 5 for x but received 5',
    );
  });

  it('carries a code', () => {
    const codeOf = (act: () => unknown) => {
      try {
        act();
      } catch (error) {
        return error instanceof DomainError ? error.code : 'other';
      }
      return 'none';
    };
    expect(codeOf(() => requireInRange('x', 95, latitude))).toBe('outOfRange');
    expect(codeOf(() => requireFinite('x', NaN))).toBe('notFinite');
    expect(codeOf(() => requireInteger('x', 1.5))).toBe('notInteger');
    expect(codeOf(() => requireOneOf('x', 'a', ['b']))).toBe('notOneOf');
  });

  it.each([NaN, Infinity, -Infinity])('%s passes no guard', (value) => {
    expect(() => requireInRange('x', value, {})).toThrow(DomainError);
    expect(() => requireFinite('x', value)).toThrow(DomainError);
    expect(() => requirePositive('x', value)).toThrow(DomainError);
    expect(() => requireNotNegative('x', value)).toThrow(DomainError);
    expect(() => requireShare('x', value)).toThrow(DomainError);
    expect(() => requireInteger('x', value)).toThrow(DomainError);
  });

  it('is passed through unchanged when it lies inside', () => {
    expect(requireInRange('x', -90, latitude)).toBe(-90);
    expect(requireShare('x', 1)).toBe(1);
    expect(requireNotNegative('x', 0)).toBe(0);
    expect(requireInteger('x', 3)).toBe(3);
    expect(requireOneOf('x', 'b', ['a', 'b'])).toBe('b');
  });
});
