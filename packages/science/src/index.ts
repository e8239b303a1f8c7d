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

// ---- Outdoors ----------------------------------------------------------------------------------------------------

// ---- Camera ------------------------------------------------------------------------------------------------------
