/** The parts of an explanation: a step on the way, a number with its unit, a word in a number's place. */
import type { Explained, Explanation, ExposeDocument, Quantity } from '@tepal/formats';

/** The document before its explanations. */
export type Explainable = Omit<ExposeDocument, 'explanations'>;

/** One step, and the number that it belongs to. */
export function step(
  of: Explained,
  name: string,
  equation: string,
  source: string,
  inputs: readonly Quantity[],
  result: Quantity,
): Explanation {
  return { of, name, equation, source, inputs, result };
}

/** A number by name; no unit for pure numbers. */
export function q(name: string, value: number, unit = ''): Quantity {
  return { name, value, unit };
}

/** A word in a number's place. */
export function word(name: string, value: string): Quantity {
  return { name, value, unit: '' };
}
