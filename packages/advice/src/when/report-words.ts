/** A forecast held against what an airfield measured: whether to trust it, said in a sentence. */
import { formatInstant, type AirfieldReport, type Forecast, type ForecastInstant } from '@tepal/formats';

/** A report older or newer than this against an hour of the forecast says nothing of it [ms]. Ours, no source. */
const NEAR_MS = 90 * 60_000;

/** A wind that differs by less than this is the forecast's own rounding [m/s]. Ours, no source. */
const SAME_WIND_MS = 1;

/**
 * What the report says of the forecast. An airfield is open ground, mown short, and not the meadow: the comparison is of
 * the air mass, at 10 m, and good for verification and the next hours only.
 *
 * @returns one or two sentences, never empty
 */
export function reportInWords(report: AirfieldReport, forecast: Forecast): readonly string[] {
  const instant = nearest(forecast.instants, report.timeMs);
  const clock = formatInstant(report.timeMs).slice(11, 16);
  const from = `${report.station} at ${clock} UTC`;
  if (instant === null) return [`${from}: the forecast has no hour near that time to be held against.`];
  return [windWords(report, instant, from), airWords(report, instant, from)].filter(
    (words) => words !== null,
  );
}

function nearest(instants: readonly ForecastInstant[], timeMs: number): ForecastInstant | null {
  const away = (instant: ForecastInstant) => Math.abs(instant.timeMs - timeMs);
  const found = instants.reduce<ForecastInstant | null>(
    (best, instant) => (best === null || away(instant) < away(best) ? instant : best),
    null,
  );
  return found === null || away(found) > NEAR_MS ? null : found;
}

function windWords(report: AirfieldReport, instant: ForecastInstant, from: string): string {
  const { windSpeedMs: measured, windGustMs: gust } = report;
  const expected = instant.windSpeedMs;
  if (measured === null) return `${from} gives no wind.`;
  const gusts = gust === null ? '' : `, in gusts ${gust.toFixed(1)}`;
  const told = `${from} measured ${measured.toFixed(1)} m/s${gusts} at 10 m`;
  if (expected === null) return `${told}; the forecast gives no wind for that hour.`;
  const more = measured - expected;
  if (Math.abs(more) < SAME_WIND_MS) return `${told}, as the forecast has it (${expected.toFixed(1)} m/s).`;
  const than = more > 0 ? 'windier' : 'stiller';
  return `${told}: ${than} than the forecast (${expected.toFixed(1)} m/s); take the next hours as ${than} too.`;
}

function airWords(report: AirfieldReport, instant: ForecastInstant, from: string): string | null {
  const [measured, expected] = [report.airTemperatureC, instant.airTemperatureC];
  if (measured === null || expected === null || Math.abs(measured - expected) < 2) return null;
  const than = measured > expected ? 'warmer' : 'colder';
  return `${from} measured ${measured} °C: ${than} than the forecast (${expected.toFixed(1)} °C).`;
}
