/** The outdoors and the camera in pure functions: numbers in, numbers out. */

// What a caller's mistake looks like.
export {
  DomainError,
  requireFinite,
  requireInRange,
  requireInteger,
  requireNotNegative,
  requireOneOf,
  requirePositive,
  requireShare,
  type DomainErrorCode,
  type Range,
} from './domain-error.ts';

// Two tables of named exports, one a half of the science.
export * from './outdoors/index.ts';
export * from './camera/index.ts';

// What measured blur says.
export * from './learning/index.ts';
