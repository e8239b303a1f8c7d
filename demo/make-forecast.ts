/** Makes the invented forecast: ten days in the form of a Locationforecast document, hourly first, then six-hourly. */
import { writeFileSync } from 'node:fs';
import { LONG_MEAD, UTC_OFFSET_H } from './place.ts';

const HOUR_MS = 3_600_000;
const FIRST_MS = Date.UTC(2026, 5, 10, 0);
const HOURLY = 72;
const DAYS = 10;

/** One invented day: what the weather does, by the hours of the local clock. */
interface InventedDay {
  readonly lowestC: number;
  readonly highestC: number;
  /** Dew point in the morning and in the evening [°C]. */
  readonly dewPointC: readonly [number, number];
  /** Hour and value; straight lines between. Cloud [%], wind at 10 m [m/s], rain [mm an hour]. */
  readonly cloud: readonly (readonly [number, number])[];
  readonly wind: readonly (readonly [number, number])[];
  readonly rain?: readonly (readonly [number, number])[];
  readonly windFromDeg: number;
}

const days: readonly InventedDay[] = [
  // Wednesday 10 June: a fair day with a windy afternoon, clearing and calming towards night.
  {
    lowestC: 9,
    highestC: 19,
    dewPointC: [8, 10],
    cloud: [
      [0, 60],
      [8, 35],
      [14, 45],
      [20, 15],
      [24, 5],
    ],
    wind: [
      [0, 3],
      [6, 3],
      [11, 6.5],
      [15, 9],
      [18, 6],
      [21, 2.5],
      [24, 1],
    ],
    windFromDeg: 285,
  },
  // Thursday 11 June, the outing: calm and clear, dew at dawn, sun by eight, a breeze by eleven.
  {
    lowestC: 6.5,
    highestC: 20,
    dewPointC: [7.2, 9],
    cloud: [
      [0, 5],
      [4, 5],
      [7, 20],
      [11, 40],
      [16, 50],
      [20, 60],
      [24, 85],
    ],
    wind: [
      [0, 0.8],
      [5, 0.7],
      [7, 1.1],
      [9, 2.2],
      [11, 3.8],
      [15, 4.5],
      [20, 2.5],
      [24, 2],
    ],
    windFromDeg: 240,
  },
  // Friday 12 June: overcast and still, light without shadows.
  {
    lowestC: 12,
    highestC: 17,
    dewPointC: [11, 12],
    cloud: [
      [0, 95],
      [24, 100],
    ],
    wind: [
      [0, 1.8],
      [6, 1.2],
      [12, 1.6],
      [18, 2.2],
      [24, 3],
    ],
    windFromDeg: 200,
  },
  // Saturday 13 June: rain from the morning, stopping in the evening.
  {
    lowestC: 12,
    highestC: 15,
    dewPointC: [11.5, 12.5],
    cloud: [
      [0, 100],
      [18, 100],
      [24, 70],
    ],
    wind: [
      [0, 4],
      [12, 6.5],
      [24, 3],
    ],
    rain: [
      [0, 0],
      [6, 0.6],
      [10, 1.8],
      [15, 1.2],
      [19, 0],
      [24, 0],
    ],
    windFromDeg: 190,
  },
  // Sunday 14 June: drops of yesterday's rain at dawn, then a windy afternoon with sun.
  {
    lowestC: 10,
    highestC: 18,
    dewPointC: [9.5, 8],
    cloud: [
      [0, 60],
      [6, 40],
      [14, 30],
      [24, 20],
    ],
    wind: [
      [0, 2],
      [6, 1.8],
      [12, 8],
      [16, 11],
      [20, 6],
      [24, 3],
    ],
    windFromDeg: 300,
  },
  {
    lowestC: 8,
    highestC: 19,
    dewPointC: [7.5, 9],
    cloud: [
      [0, 15],
      [12, 30],
      [24, 20],
    ],
    wind: [
      [0, 2],
      [6, 1.5],
      [14, 4.5],
      [24, 1.5],
    ],
    windFromDeg: 270,
  },
  {
    lowestC: 7.5,
    highestC: 22,
    dewPointC: [8, 11],
    cloud: [
      [0, 5],
      [12, 10],
      [24, 10],
    ],
    wind: [
      [0, 1],
      [6, 0.8],
      [14, 3.5],
      [24, 1],
    ],
    windFromDeg: 120,
  },
  {
    lowestC: 11,
    highestC: 25,
    dewPointC: [11, 14],
    cloud: [
      [0, 10],
      [12, 30],
      [18, 70],
      [24, 90],
    ],
    wind: [
      [0, 1.2],
      [14, 4],
      [24, 2],
    ],
    windFromDeg: 140,
  },
  {
    lowestC: 14,
    highestC: 19,
    dewPointC: [13.5, 12],
    cloud: [
      [0, 95],
      [12, 90],
      [24, 60],
    ],
    wind: [
      [0, 3],
      [12, 6],
      [24, 4],
    ],
    rain: [
      [0, 0.8],
      [8, 0.5],
      [12, 0],
      [24, 0],
    ],
    windFromDeg: 220,
  },
  {
    lowestC: 10,
    highestC: 18,
    dewPointC: [9, 8.5],
    cloud: [
      [0, 40],
      [12, 55],
      [24, 40],
    ],
    wind: [
      [0, 3],
      [12, 5],
      [24, 2],
    ],
    windFromDeg: 280,
  },
];

/** Writes the document. */
export function writeForecast(path: string): void {
  writeFileSync(path, `${JSON.stringify(inventedForecast(), null, 1)}\n`);
}

/** The document, bare GeoJSON as the service answers it. */
export function inventedForecast() {
  const hours = Array.from({ length: HOURLY }, (_, i) => i);
  const sixHourly = Array.from({ length: (DAYS * 24 - HOURLY) / 6 + 1 }, (_, i) => HOURLY + i * 6);
  const { latitudeDeg, longitudeDeg, altitudeM } = LONG_MEAD;
  return {
    type: 'Feature',
    geometry: { type: 'Point', coordinates: [longitudeDeg, latitudeDeg, altitudeM] },
    properties: {
      meta: {
        updated_at: '2026-06-09T18:24:00Z',
        source: 'Invented forecast, in the form of Locationforecast 2.0',
        credit: 'Invented weather of an invented place; nobody forecast it',
        units: {
          air_pressure_at_sea_level: 'hPa',
          air_temperature: 'celsius',
          cloud_area_fraction: '%',
          dew_point_temperature: 'celsius',
          fog_area_fraction: '%',
          precipitation_amount: 'mm',
          probability_of_precipitation: '%',
          relative_humidity: '%',
          wind_from_direction: 'degrees',
          wind_speed: 'm/s',
          wind_speed_of_gust: 'm/s',
        },
      },
      timeseries: [
        ...hours.map((hour) => entry(hour, 1)),
        ...sixHourly.map((hour) => entry(hour, hour === DAYS * 24 ? 0 : 6)),
      ],
    },
  };
}

/** @param periodH length of the interval that rain is given for [h]; 0 for none */
function entry(hour: number, periodH: number) {
  const at = weatherAt(hour);
  const rainMm = round1(
    Array.from({ length: periodH }, (_, i) => weatherAt(hour + i).rainMm).reduce((a, b) => a + b, 0),
  );
  const details = {
    air_pressure_at_sea_level: round1(1016 + 5 * Math.sin(hour / 30)),
    air_temperature: round1(at.temperatureC),
    cloud_area_fraction: round1(at.cloud),
    dew_point_temperature: round1(at.dewPointC),
    fog_area_fraction: 0,
    relative_humidity: round1(at.humidity),
    wind_from_direction: at.windFromDeg,
    wind_speed: round1(at.windMs),
    // Gusts of half as much again to nearly double: less by night, more with sun on the ground.
    wind_speed_of_gust: round1(at.windMs * (1.5 + 0.35 * at.sunny)),
  };
  const probability = rainMm > 0.2 ? 85 : Math.round(at.cloud / 8);
  const period = {
    summary: { symbol_code: rainMm > 0.2 ? 'rain' : at.cloud > 80 ? 'cloudy' : 'fair' },
    details: { precipitation_amount: rainMm, probability_of_precipitation: probability },
  };
  return {
    time: new Date(FIRST_MS + hour * HOUR_MS).toISOString().replace('.000', ''),
    data: {
      instant: { details },
      ...(periodH === 1 ? { next_1_hours: period } : periodH === 6 ? { next_6_hours: period } : {}),
    },
  };
}

/** @param hour since the first instant, UTC [h] */
function weatherAt(hour: number) {
  const local = hour + UTC_OFFSET_H;
  const day = days[Math.min(days.length - 1, Math.floor(local / 24))]!;
  const clock = local >= days.length * 24 ? 24 : local % 24;
  // Coldest at sunrise, warmest in mid-afternoon.
  const sunny = Math.max(0, Math.sin((Math.PI * (clock - 5.5)) / 19));
  const temperatureC = day.lowestC + (day.highestC - day.lowestC) * sunny ** 1.3;
  const meant = day.dewPointC[0] + ((day.dewPointC[1] - day.dewPointC[0]) * clock) / 24;
  const dewPointC = Math.min(meant, temperatureC - 0.05);
  return {
    temperatureC,
    dewPointC,
    humidity: (100 * vapour(dewPointC)) / vapour(temperatureC),
    cloud: along(day.cloud, clock),
    windMs: along(day.wind, clock),
    rainMm: along(day.rain ?? [[0, 0]], clock),
    windFromDeg: day.windFromDeg,
    sunny,
  };
}

/** Magnus's form of the saturation vapour pressure, up to a factor. */
const vapour = (temperatureC: number) => Math.exp((17.625 * temperatureC) / (243.04 + temperatureC));

function along(line: readonly (readonly [number, number])[], at: number): number {
  const next = line.findIndex(([hour]) => hour >= at);
  if (next <= 0) return (next === 0 ? line[0] : line.at(-1))![1];
  const [h0, v0] = line[next - 1]!;
  const [h1, v1] = line[next]!;
  return v0 + ((v1 - v0) * (at - h0)) / (h1 - h0);
}

const round1 = (value: number) => Math.round(value * 10) / 10;
