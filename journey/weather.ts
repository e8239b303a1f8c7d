import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';

/** A forecast service on this computer, with invented weather from now on; it notes what it was asked. */
export interface WeatherService {
  readonly address: string;
  readonly asked: string[];
  stop(): Promise<void>;
}

const hourMs = 3_600_000;

/** Still, overcast mornings and a breeze in the afternoon: Locationforecast as MET Norway describes it. */
function inventedWeather(nowMs: number): string {
  const startMs = Math.floor(nowMs / hourMs) * hourMs;
  const steps = [
    ...Array.from({ length: 72 }, (_, h) => h),
    ...Array.from({ length: 26 }, (_, i) => 72 + 6 * i),
  ];
  const iso = (ms: number) => new Date(ms).toISOString().replace(/\.\d+/, '');
  const timeseries = steps.map((h) => {
    const time = startMs + h * hourMs;
    const warm = Math.sin(((new Date(time).getUTCHours() - 9) / 12) * Math.PI);
    const details = {
      air_temperature: 13 + 5 * warm,
      relative_humidity: 78 - 12 * warm,
      wind_speed: 1.6 + 1.4 * warm,
      wind_from_direction: 240,
      wind_speed_of_gust: 3 + 2 * warm,
      cloud_area_fraction: 95,
      dew_point_temperature: 9,
    };
    const next = { details: { precipitation_amount: 0, probability_of_precipitation: 3 } };
    return {
      time: iso(time),
      data: { instant: { details }, [h < 72 ? 'next_1_hours' : 'next_6_hours']: next },
    };
  });
  const units = {
    ...{ air_temperature: 'celsius', dew_point_temperature: 'celsius', relative_humidity: '%' },
    ...{ wind_speed: 'm/s', wind_speed_of_gust: 'm/s', wind_from_direction: 'degrees' },
    ...{ cloud_area_fraction: '%', precipitation_amount: 'mm', probability_of_precipitation: '%' },
  };
  return JSON.stringify({
    type: 'Feature',
    geometry: { type: 'Point', coordinates: [-1.85, 51.15, 100] },
    properties: { meta: { updated_at: iso(nowMs - hourMs), units }, timeseries },
  });
}

export async function startWeather(): Promise<WeatherService> {
  const asked: string[] = [];
  const server = createServer((request, response) => {
    asked.push(`${request.url} ${JSON.stringify(request.headers)}`);
    response.writeHead(200, {
      'content-type': 'application/json',
      'access-control-allow-origin': '*',
      expires: new Date(Date.now() + hourMs / 2).toUTCString(),
    });
    response.end(inventedWeather(Date.now()));
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  const { port } = server.address() as AddressInfo;
  return {
    address: `http://127.0.0.1:${port}`,
    asked,
    stop: () => new Promise((resolve) => server.close(() => resolve())),
  };
}
