/** The hour that the page opens on: now, at the place one is at; in the invented outing, its best window. */
import type { DaysAnswer, StoreName, WhenHour } from '@tepal/formats';
import type { WeatherForecast } from '@tepal/notebook';
import { evOfIlluminance } from '@tepal/science';
import { bestWindow } from '../days/best-window.ts';
import { offsetOf } from '../days/day-split.ts';
import { clockWords } from '../words/clock.ts';
import { lightWord } from '../words/light.ts';
import { rangeWords } from '../words/amounts.ts';

export interface HourHere {
  readonly where: string;
  readonly conditions: string;
  readonly windMs: number | null;
  readonly ev100: number | null;
  readonly siteId: string;
  /** What the forecast said of the hour, as an outing keeps it. */
  readonly forecast: WeatherForecast;
}

/** A forecast hour this far off still speaks of now [ms]. */
const nearMs = 2 * 3_600_000;
/** Below this the light says nothing of a picture without a lamp [lx]. */
const leastLux = 10;

/**
 * @param days the days of every site
 * @param store the invented outing has its own time
 * @param nowMs now [Unix ms]
 * @param clockMin the clock of the place where the photographs tell it [min east of UTC]
 * @param siteId the site that one is at, where an outing says it
 * @returns null when no forecast speaks of the moment
 */
export function hourHere(
  days: DaysAnswer['days'],
  store: StoreName,
  nowMs: number,
  clockMin: number | null = null,
  siteId: string | null = null,
): HourHere | null {
  const best = store === 'invented' ? bestWindow(days) : null;
  const atMs = best === null ? nowMs : Date.parse(best.window.from);
  const ordered = days.toSorted((a, b) => Number(b.siteId === siteId) - Number(a.siteId === siteId));
  for (const { siteId: id, siteName, when } of ordered) {
    const nearest = when.hours.toSorted((a, b) => distance(a, atMs) - distance(b, atMs))[0];
    if (nearest === undefined || distance(nearest, atMs) > nearMs) continue;
    const { wind, light } = nearest;
    const blowing =
      wind.atPlantMs === null
        ? 'wind not known'
        : `wind ${rangeWords(wind.atPlantMs, wind.gustAtPlantMs ?? wind.atPlantMs, 'm/s')}`;
    const lux = light.illuminanceLux;
    return {
      where: `${siteName}, ${clockWords(Date.parse(nearest.time), clockMin ?? offsetOf(when))}`,
      conditions: `${blowing}, ${lightWord(lux, light.diffuseShare)}`,
      windMs: wind.atPlantMs,
      ev100: lux === null || lux < leastLux ? null : Math.round(evOfIlluminance(lux) * 3) / 3,
      siteId: id,
      forecast: {
        source: when.forecast.source,
        issuedAt: when.forecast.issuedAt,
        windSpeedMs: wind.forecastMs,
        gustSpeedMs: null,
        temperatureC: nearest.air.temperatureC,
        relativeHumidity: nearest.air.relativeHumidity,
        cloudShare: null,
      },
    };
  }
  return null;
}

const distance = (hour: WhenHour, timeMs: number) => Math.abs(Date.parse(hour.time) - timeMs);
