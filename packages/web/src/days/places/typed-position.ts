/** A position as it is typed, and how it was read. */
import { readPosition } from '@tepal/formats';
import type { Position } from '@tepal/notebook';
import { digits } from '../../words/amounts.ts';

const notations = {
  degrees: 'degrees',
  utm: 'UTM',
  mgrs: 'MGRS',
  nationalGrid: 'British grid',
} as const;

/** Degrees as they are written back into the field, to a metre. */
export const degreesWords = ({ latitudeDeg, longitudeDeg }: Pick<Position, 'latitudeDeg' | 'longitudeDeg'>) =>
  `${latitudeDeg.toFixed(5)}, ${longitudeDeg.toFixed(5)}`;

export interface FieldState {
  readonly typed: string;
  /** What the field stands for; null while it cannot be read. */
  readonly position: Position | null;
  /** How it was read, or why it cannot be. */
  readonly saying: string;
}

/** Reads what was typed. */
export function positionTyped(typed: string): FieldState {
  if (typed.trim() === '') return { typed, position: null, saying: '' };
  const read = readPosition(typed);
  if (!read.ok) return { typed, position: null, saying: read.fault.message };
  const { latitudeDeg, longitudeDeg, notation, uncertaintyM } = read.value;
  return {
    typed,
    position: { latitudeDeg, longitudeDeg, altitudeM: null, coordinateUncertaintyM: uncertaintyM },
    saying: `Read as ${notations[notation]}: ${degreesWords(read.value)}, within ${digits(uncertaintyM)} m.`,
  };
}

export function positionKept(position: Position): FieldState {
  return { typed: degreesWords(position), position, saying: '' };
}
