/** Values of options, read once at the door: what was found, and what would be accepted. */
import { InvalidArgumentError } from 'commander';
import { DELIVERIES, type Delivery } from '@tepal/advice';
import { parseInstantMs } from '@tepal/formats';
import { DeskFault } from '../files/faults.ts';

const shown = (text: string) => (text === '' ? 'nothing' : text);

/** A number with a sign and a point; anything else is refused. */
export function asNumber(text: string): number {
  const value = /^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$/i.test(text.trim()) ? Number(text) : NaN;
  if (!Number.isFinite(value))
    throw new InvalidArgumentError(`expected a number but received ${shown(text)}.`);
  return value;
}

export function asCount(text: string): number {
  const value = asNumber(text);
  if (!Number.isInteger(value) || value < 0) {
    throw new InvalidArgumentError(`expected a whole number from 0 but received ${shown(text)}.`);
  }
  return value;
}

/** "36x24" as two positive numbers. */
export function asPair(text: string): { readonly width: number; readonly height: number } {
  const found = /^(\d+(?:\.\d+)?)\s*[x×]\s*(\d+(?:\.\d+)?)(?:\s*(?:mm|px))?$/i.exec(text.trim());
  const width = Number(found?.[1]);
  const height = Number(found?.[2]);
  if (!(width > 0 && height > 0)) {
    throw new InvalidArgumentError(`expected WIDTHxHEIGHT, such as 36x24, but received ${shown(text)}.`);
  }
  return { width, height };
}

/** "0.45,0.40" as fractions of width and height. */
export function asPoint(text: string): { readonly x: number; readonly y: number } {
  const parts = text.split(',').map((part) => (part.trim() === '' ? NaN : Number(part)));
  const [x, y] = parts;
  const within = (value: number | undefined): value is number =>
    value !== undefined && value >= 0 && value <= 1;
  if (parts.length !== 2 || !within(x) || !within(y)) {
    throw new InvalidArgumentError(
      `expected X,Y as fractions from 0 to 1 of width and height, such as 0.45,0.40, but received ${shown(text)}.`,
    );
  }
  return { x, y };
}

export interface DeliveryWish {
  readonly widthMm: number;
  readonly heightMm: number;
  readonly viewingDistanceMm: number;
}

/** "420x280mm@300". */
export function asDelivery(text: string): DeliveryWish {
  const found = /^(\d+(?:\.\d+)?)\s*[x×]\s*(\d+(?:\.\d+)?)\s*mm\s*@\s*(\d+(?:\.\d+)?)(?:\s*mm)?$/i.exec(
    text.trim(),
  );
  const [widthMm, heightMm, viewingDistanceMm] = [1, 2, 3].map((i) => Number(found?.[i])) as [
    number,
    number,
    number,
  ];
  if (!(widthMm > 0 && heightMm > 0 && viewingDistanceMm > 0)) {
    throw new InvalidArgumentError(
      `expected WIDTHxHEIGHTmm@DISTANCE, such as 420x280mm@300, but received ${shown(text)}.`,
    );
  }
  return { widthMm, heightMm, viewingDistanceMm };
}

/** The wish as what frames are judged for. */
export function judgedFor({ widthMm, heightMm, viewingDistanceMm }: DeliveryWish): Delivery {
  const usual = DELIVERIES[0];
  if (usual === undefined) throw new DeskFault('No delivery is known.', 3);
  return {
    ...usual,
    inWords: `a print of ${widthMm} × ${heightMm} mm seen from ${viewingDistanceMm} mm`,
    longSideMm: Math.max(widthMm, heightMm),
    shortSideMm: Math.min(widthMm, heightMm),
    viewingDistanceMm,
    boxPx: null,
  };
}

/** "1/250", "0.004" or "2" as seconds. */
export function asSeconds(text: string): number {
  const fraction = /^(\d+(?:\.\d+)?)\/(\d+(?:\.\d+)?)\s*s?$/.exec(text.trim());
  const value = fraction ? Number(fraction[1]) / Number(fraction[2]) : Number(text.trim().replace(/s$/, ''));
  if (!(value > 0 && Number.isFinite(value))) {
    throw new InvalidArgumentError(
      `expected a time in s, such as 1/250 or 0.5, but received ${shown(text)}.`,
    );
  }
  return value;
}

export function asInstantMs(text: string): number {
  const found = parseInstantMs(text);
  if (found === null) {
    throw new InvalidArgumentError(
      `expected an ISO 8601 time with an offset, such as 2026-06-01T05:00:00+02:00, but received ${shown(text)}.`,
    );
  }
  return found;
}

/** One of a few words. */
export function oneOf<const T extends string>(words: readonly T[]): (text: string) => T {
  return (text) => {
    const found = words.find((word) => word === text);
    if (found === undefined) {
      throw new InvalidArgumentError(`expected ${words.join(', ')} but received ${shown(text)}.`);
    }
    return found;
  };
}
