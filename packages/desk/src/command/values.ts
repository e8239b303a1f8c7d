/** How options are read: numbers, sizes, deliveries, readings; each refused with what would be accepted. */
import { InvalidArgumentError } from 'commander';
import type { ExposureRequest } from '@tepal/advice';

type LightReading = ExposureRequest['light'];
type FixedSettings = NonNullable<ExposureRequest['fix']>;
type Delivery = NonNullable<ExposureRequest['delivery']>;

const finite = /^[-+]?(\d+\.?\d*|\.\d+)(e[-+]?\d+)?$/i;

/** A number written with a point; "1/250" is no number here. */
export function numberValue(text: string): number {
  if (!finite.test(text.trim())) throw new InvalidArgumentError(`expected a number but received "${text}"`);
  return Number(text);
}

/** "36x24", two positive numbers. */
export function sizeValue(text: string): { readonly width: number; readonly height: number } {
  const [, width, height] = /^([\d.]+)\s*[x×]\s*([\d.]+)$/i.exec(text.trim()) ?? [];
  if (!(Number(width) > 0) || !(Number(height) > 0)) {
    throw new InvalidArgumentError(`expected WIDTHxHEIGHT, as in 36x24, but received "${text}"`);
  }
  return { width: Number(width), height: Number(height) };
}

/** "420x280mm@300": size and viewing distance in mm. */
export function deliveryValue(text: string): Delivery {
  const [, width, height, distance] =
    /^([\d.]+)\s*[x×]\s*([\d.]+)\s*mm\s*@\s*([\d.]+)(?:\s*mm)?$/i.exec(text.trim()) ?? [];
  const delivery = {
    widthMm: Number(width),
    heightMm: Number(height),
    viewingDistanceMm: Number(distance),
  };
  if (!(delivery.widthMm > 0) || !(delivery.heightMm > 0) || !(delivery.viewingDistanceMm > 0)) {
    throw new InvalidArgumentError(
      `expected WIDTHxHEIGHTmm@DISTANCE in mm, as in 420x280mm@300, but received "${text}"`,
    );
  }
  return delivery;
}

/** An exposure time: "1/250", "0.004", "2s". */
export function timeValue(text: string): number {
  const [, over, under] = /^([\d.]+)(?:\/([\d.]+))?\s*s?$/.exec(text.trim()) ?? [];
  const seconds = Number(over) / Number(under ?? 1);
  if (!(seconds > 0 && Number.isFinite(seconds))) {
    throw new InvalidArgumentError(`expected an exposure time, as in 1/250, but received "${text}"`);
  }
  return seconds;
}

/** "f/8,1/250,800": what a meter read through the lens. */
export function meteredValue(text: string): LightReading {
  const [f = '', time = '', iso = ''] = text.split(',').map((part) => part.trim());
  const fNumber = Number(f.replace(/^f\/?/i, ''));
  const sensitivity = Number(iso.replace(/^iso\s*/i, ''));
  if (!(fNumber > 0) || !(sensitivity > 0) || time === '') {
    throw new InvalidArgumentError(
      `expected f-number, time and ISO, as in f/8,1/250,800, but received "${text}"`,
    );
  }
  return { kind: 'metered', fNumber, exposureTimeS: timeValue(time), iso: sensitivity };
}

/** "f=8,iso=800,t=1/250": any of the three. */
export function fixValue(text: string): FixedSettings {
  const fixed: { fNumber?: number; iso?: number; exposureTimeS?: number } = {};
  for (const part of text.split(',')) {
    const [key = '', value = ''] = part.split('=').map((side) => side.trim());
    if (key === 'f') fixed.fNumber = numberValue(value);
    else if (key === 'iso') fixed.iso = numberValue(value);
    else if (key === 't') fixed.exposureTimeS = timeValue(value);
    else {
      throw new InvalidArgumentError(`expected f=, iso= or t=, as in f=8,iso=800, but received "${part}"`);
    }
  }
  return fixed;
}

/** "0.45,0.40": fractions of width and height from the top left. */
export function pointValue(text: string): { readonly x: number; readonly y: number } {
  const parts = text.split(',').map((part) => part.trim());
  const [x, y] = parts.map(Number);
  const inside = (v: number | undefined): v is number => v !== undefined && v >= 0 && v <= 1;
  if (parts.length !== 2 || parts.includes('') || !inside(x) || !inside(y)) {
    throw new InvalidArgumentError(
      `expected X,Y as fractions from 0 to 1 from the top left, as in 0.45,0.40, but received "${text}"`,
    );
  }
  return { x, y };
}
