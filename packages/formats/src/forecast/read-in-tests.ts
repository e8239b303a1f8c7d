/** For tests: a forecast that must be read, or must be refused. */
import type { FormatFault } from '../result.ts';
import type { Forecast } from './forecast.ts';
import { readForecast } from './read-forecast.ts';

export function forecastOf(input: Uint8Array | string): Forecast {
  const read = readForecast(input);
  if (!read.ok) throw new Error(read.fault.message);
  return read.value;
}

export function faultOf(input: Uint8Array | string): FormatFault {
  const read = readForecast(input);
  if (read.ok) throw new Error('read without a fault');
  return read.fault;
}
