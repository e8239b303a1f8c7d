/**
 * What an airfield measures now: METAR (WMO FM 15). Good for holding a forecast against, and for the next hour; the
 * place is an airfield, with its wind at 10 m.
 */
import { CloudQuantity, parseMetar, type IMetar } from 'metar-taf-parser';
import { daysFromCivil, daysInMonth, utcParts } from '../../time.ts';
import { refused, told, understood, type Result } from '../../result.ts';

/** One report. What it does not give is null. */
export interface AirfieldReport {
  /** Four letters of the airfield. */
  readonly station: string;
  /** Unix time [ms]. */
  readonly timeMs: number;
  /** Mean of 10 min at 10 m [m/s]. */
  readonly windSpeedMs: number | null;
  readonly windGustMs: number | null;
  /** Where it comes from, clockwise from north [°]; null when it is variable or not given. */
  readonly windFromDeg: number | null;
  /** Layers of cloud: least and most of the sky [oktas], height of the base over the field [m]. */
  readonly clouds: readonly {
    readonly leastOktas: number;
    readonly mostOktas: number;
    readonly baseM: number | null;
  }[];
  /** Whole degrees [°C]. */
  readonly airTemperatureC: number | null;
  readonly dewPointC: number | null;
  /** Reduced to sea level [hPa]. */
  readonly pressureHpa: number | null;
}

/** @source WMO FM 15; exact by definition */
const MS_PER_UNIT: Readonly<Record<string, number>> = { KT: 1852 / 3600, MPS: 1, 'KM/H': 1 / 3.6 };
const FOOT_M = 0.3048;
const INCH_OF_MERCURY_HPA = 33.8639;

/** Oktas behind the words. @source WMO FM 15 */
const OKTAS: Readonly<Record<string, readonly [number, number]>> = {
  [CloudQuantity.FEW]: [1, 2],
  [CloudQuantity.SCT]: [3, 4],
  [CloudQuantity.BKN]: [5, 7],
  [CloudQuantity.OVC]: [8, 8],
};

const DAY_MS = 86_400_000;

/**
 * A report from its line of text, with or without "METAR" before it.
 *
 * @param nowMs Unix time near which the report was made [ms]: it names its day of the month only
 * @returns refused where the text is no report, or gives no wind, no temperature and no cloud
 */
export function readMetar(text: string, nowMs: number): Result<AirfieldReport> {
  const where = 'airfield report';
  const accepted = 'one METAR, such as "EGLL 041250Z 24008KT 9999 FEW020 14/11 Q1013"';
  const line = text.trim().replace(/=$/, '').replaceAll(/\s+/g, ' ');
  if (!/^(?:(?:METAR|SPECI) )?(?:COR )?[A-Z][A-Z0-9]{3} \d{6}Z /.test(line)) {
    return refused({ where, found: told(line.slice(0, 60)), accepted });
  }
  let metar: IMetar;
  try {
    metar = parseMetar(line);
  } catch {
    return refused({ where, found: told(line.slice(0, 60)), accepted });
  }
  const timeMs = timeNear(metar, nowMs);
  if (timeMs === null)
    return refused({ where, found: `the time ${line.match(/\d{6}Z/)?.[0] ?? ''}`, accepted });
  const wind = metar.wind;
  const unit = wind === undefined ? undefined : MS_PER_UNIT[wind.unit];
  const speed = (value: number | undefined) =>
    value === undefined || unit === undefined ? null : value * unit;
  return understood({
    station: metar.station,
    timeMs,
    windSpeedMs: speed(wind?.speed),
    windGustMs: speed(wind?.gust),
    windFromDeg: wind?.degrees ?? null,
    clouds: metar.clouds.flatMap(({ quantity, height }) => {
      const oktas = OKTAS[quantity];
      if (oktas === undefined) return [];
      const [leastOktas, mostOktas] = oktas;
      return [{ leastOktas, mostOktas, baseM: height === undefined ? null : height * FOOT_M }];
    }),
    airTemperatureC: metar.temperature ?? null,
    dewPointC: metar.dewPoint ?? null,
    pressureHpa: pressureOf(metar),
  });
}

function pressureOf({ altimeter }: IMetar): number | null {
  if (altimeter === undefined) return null;
  return altimeter.unit === 'inHg' ? altimeter.value * INCH_OF_MERCURY_HPA : altimeter.value;
}

/** The moment with that day of the month and time of day that lies nearest to `nowMs`. */
function timeNear({ day, hour, minute }: IMetar, nowMs: number): number | null {
  if (day === undefined || hour === undefined || minute === undefined) return null;
  if (day < 1 || day > 31 || hour > 23 || minute > 59) return null;
  const now = utcParts(nowMs);
  const candidates = [-1, 0, 1].flatMap((months) => {
    const monthsOn = now.year * 12 + (now.month - 1) + months;
    const [year, month] = [Math.floor(monthsOn / 12), (monthsOn % 12) + 1];
    // The 31st of a month of 30 days is no day.
    if (day > daysInMonth(year, month)) return [];
    return [daysFromCivil(year, month, day) * DAY_MS + (hour * 60 + minute) * 60_000];
  });
  return candidates.sort((a, b) => Math.abs(a - nowMs) - Math.abs(b - nowMs))[0] ?? null;
}
