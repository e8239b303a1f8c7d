import { zipSync } from 'fflate';
import { mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { openForecasts, patientFetch } from './desk-forecasts.ts';
import { forecastSettings } from './forecast-settings.ts';
import { headerOf, startReplayingService, type Replay, type ReplayingService } from './replaying-service.ts';
import { forecastCellOfCoordinates } from './site-cell.ts';

const fixture = (name: string) =>
  readFile(new URL(`../../../formats/fixtures/forecast/${name}`, import.meta.url));

const sample = JSON.parse((await fixture('lat51.5lon-0.1altitude25_complete.json')).toString()) as {
  data: { properties: { meta: { units: Record<string, string> }; timeseries: unknown[] } };
};
const document = JSON.stringify(sample.data);

/** The sample was issued at 01:30:57 on this day. */
const noonMs = Date.UTC(2020, 6, 20, 12);
const date = (timeMs: number) => new Date(timeMs).toUTCString();
const cell = forecastCellOfCoordinates({ latitudeDeg: 51.51234, longitudeDeg: -0.12345, altitudeM: 25 });

let service: ReplayingService;
let folder: string;
let nowMs: number;

beforeEach(async () => {
  service = await startReplayingService();
  folder = await mkdtemp(join(tmpdir(), 'tepal-forecasts-'));
  nowMs = noonMs;
});
afterEach(async () => {
  await service.close();
  await rm(folder, { recursive: true });
});

function desk(environment: Record<string, string> = {}) {
  const settings = forecastSettings(() => null, {
    TEPAL_CONTACT: 'me@example.org',
    TEPAL_LOCATIONFORECAST_ADDRESS: service.address,
    TEPAL_MOSMIX_ADDRESS: service.address,
    TEPAL_US_GRID_ADDRESS: `${service.address}/`,
    TEPAL_FORECAST_STATIONS: `${service.address}/stations.cfg`,
    ...environment,
  });
  return openForecasts({ folder, version: '0.1.0', settings, fetch: patientFetch, now: () => nowMs });
}

/** A good answer that holds for half an hour. */
const good = (body: string = document): Replay => ({
  status: 200,
  body,
  headers: {
    Date: date(nowMs),
    Expires: date(nowMs + 1_800_000),
    'Last-Modified': 'Mon, 20 Jul 2020 01:30:57 GMT',
  },
});

async function got(client = desk()) {
  const answer = await client.forecast(cell);
  if (!answer.ok) throw new Error(answer.fault.message);
  return answer.value;
}

async function fault(client = desk()) {
  const answer = await client.forecast(cell);
  if (answer.ok) throw new Error('answered without a fault');
  return answer.fault;
}

describe('asking a service', () => {
  it('names the program and a contact, and asks for the cell and a round altitude', async () => {
    service.answer(() => good());
    expect(await got()).toMatchObject({ how: 'fetched', saying: 'The forecast is 10 h old.' });
    expect(service.requests[0]).toContain(
      'GET /weatherapi/locationforecast/2.0/complete?lat=51.55&lon=-0.15&altitude=50 HTTP/1.1',
    );
    expect(headerOf(service.requests[0], 'user-agent')).toBe('Tepal/0.1.0 (me@example.org)');
    expect(headerOf(service.requests[0], 'if-modified-since')).toBeUndefined();
    expect(headerOf(service.requests[0], 'accept-encoding')).toContain('gzip');
  });

  it('does not ask again before the answer has run out, in this run or the next', async () => {
    service.answer(() => good());
    await got();
    nowMs += 1_700_000;
    expect((await got(desk())).how).toBe('fresh');
    expect(service.requests).toHaveLength(1);
  });

  it('then asks with the time that the service gave, and a 304 renews what is kept', async () => {
    service.answer(() => good());
    await got();
    nowMs += 1_900_000;
    service.answer(() => ({ status: 304, headers: { Date: date(nowMs), Expires: date(nowMs + 600_000) } }));
    const answer = await got();
    expect(answer).toMatchObject({ how: 'unchanged', fetchedAtMs: noonMs, checkedAtMs: nowMs });
    expect(answer.forecast.instants).toHaveLength(82);
    expect(headerOf(service.requests[1], 'if-modified-since')).toBe('Mon, 20 Jul 2020 01:30:57 GMT');
    nowMs += 500_000;
    expect((await got()).how).toBe('fresh');
    expect(service.requests).toHaveLength(2);
  });

  it('asks once for two that want the same at the same moment', async () => {
    service.answer(() => good());
    const client = desk();
    await Promise.all([got(client), got(client)]);
    expect(service.requests).toHaveLength(1);
  });

  it('does not believe an answer for good, whatever its headers say', async () => {
    service.answer(() => ({ ...good(), headers: { Expires: 'Fri, 31 Dec 9999 23:59:59 GMT' } }));
    await got();
    nowMs += 23 * 3_600_000;
    expect((await got()).how).toBe('fresh');
    nowMs += 2 * 3_600_000;
    expect((await got()).how).toBe('fetched');
  });

  it('asks nobody without a contact where the terms want one', async () => {
    const { message } = await fault(desk({ TEPAL_CONTACT: '  ' }));
    expect(message).toContain('asks for a way to reach you');
    expect(service.requests).toHaveLength(0);
  });
});

describe('a service with its faults', () => {
  /** What is kept from an hour ago, and the service now answering as given. */
  async function kept(...replays: readonly (() => Replay)[]) {
    service.answer(() => good());
    await got();
    nowMs += 3_600_000;
    service.answer(...replays);
  }

  it('429: waits as long as it asks, over runs, and says until when', async () => {
    await kept(() => ({ status: 429, headers: { 'Retry-After': '1200' } }));
    expect((await got()).saying).toBe(
      'The forecast is 11 h old. The service asked to be left alone for a while (429).',
    );
    nowMs += 1_100_000;
    const answer = await got();
    expect(answer.how).toBe('kept');
    expect(answer.saying).toContain('it is asked again in 2 min');
    expect(service.requests).toHaveLength(2);
    nowMs += 200_000;
    service.answer(() => good());
    expect((await got()).how).toBe('fetched');
  });

  it('429 without a time: waits twice as long each time, and anew after an answer', async () => {
    service.answer(() => ({ status: 429 }));
    const waits: number[] = [];
    for (let i = 0; i < 4; i += 1) {
      const { retryAtMs } = await fault();
      waits.push(retryAtMs! - nowMs);
      nowMs = retryAtMs! + 1;
    }
    expect(waits).toEqual([60_000, 120_000, 240_000, 480_000]);
    service.answer(
      () => good(),
      () => ({ status: 429 }),
    );
    await got();
    nowMs += 3_600_000;
    await got();
    nowMs += 60_001;
    await got();
    expect(service.requests).toHaveLength(7);
  });

  it('500: what is kept stands in, and the service is left alone for a minute', async () => {
    await kept(() => ({ status: 500, body: 'oops' }));
    expect(await got()).toMatchObject({
      how: 'kept',
      saying: 'The forecast is 11 h old. The service cannot answer at the moment (500).',
    });
    await got();
    expect(service.requests).toHaveLength(2);
  });

  it('403: says that the contact may be the reason, and does not insist', async () => {
    service.answer(() => ({ status: 403 }));
    const { message, retryAtMs } = await fault();
    expect(message).toContain('check the contact');
    expect(retryAtMs).toBe(nowMs + 3_600_000);
  });

  it('404: there is nothing for this place, which is no reason to wait', async () => {
    service.answer(() => ({ status: 404 }));
    expect(await fault()).toMatchObject({ status: 404, retryAtMs: null });
  });

  it.each([
    ['a connection that breaks off', () => ({ ...good(), cutAt: 30_000 })],
    ['a body cut short by a proxy', () => good(document.slice(0, 30_000))],
    ['a web page in its place', () => good('<!doctype html><html>Log in</html>')],
    ['an empty body', () => good('')],
  ])('%s never replaces what is kept', async (_name, replay) => {
    await kept(replay);
    expect((await got()).how).toBe('kept');
    service.answer(() => good());
    nowMs += 120_000;
    expect((await got()).how).toBe('fetched');
  });

  it('missing hours are named, and the rest is used', async () => {
    const holes = structuredClone(sample.data);
    holes.properties.timeseries.splice(4, 2);
    service.answer(() => good(JSON.stringify(holes)));
    const { forecast } = await got();
    expect(forecast.faults.map((one) => one.found)).toEqual([
      'nothing between 2020-07-20T14:00:00Z and 2020-07-20T17:00:00Z',
    ]);
  });

  it('a changed unit is converted, and one that is not known is not guessed at', async () => {
    const changed = structuredClone(sample.data);
    changed.properties.meta.units['wind_speed'] = 'km/h';
    await kept(() => good(JSON.stringify(changed)));
    expect((await got()).forecast.instants[0]!.windSpeedMs).toBeCloseTo(2.3 / 3.6, 12);
    changed.properties.meta.units['wind_speed'] = 'furlong';
    nowMs += 3_600_000;
    service.answer(() => good(JSON.stringify(changed)));
    const answer = await got();
    expect(answer.how).toBe('kept');
    expect(answer.saying).toContain('found "furlong"');
  });

  it('a clock here that was wrong and is set back does not silence the asking', async () => {
    nowMs += 3 * 365 * 86_400_000;
    service.answer(() => ({ status: 429, headers: { 'Retry-After': '600' } }));
    await fault();
    service.answer(() => good());
    nowMs = noonMs;
    expect((await got()).how).toBe('fetched');
    nowMs -= 86_400_000;
    expect((await got()).how).toBe('fetched');
    expect((await got()).ageMs).toBe(0);
  });

  it('a clock of the service that is an hour slow does not make every answer old', async () => {
    service.answer(() => ({
      ...good(),
      headers: { Date: date(nowMs - 3_600_000), Expires: date(nowMs - 1_800_000) },
    }));
    await got();
    nowMs += 1_700_000;
    expect((await got()).how).toBe('fresh');
  });

  it('without a network the forecast comes from the disk and says how old it is', async () => {
    await kept(() => good());
    await service.close();
    nowMs += 2 * 86_400_000;
    expect(await got(desk())).toMatchObject({
      how: 'kept',
      saying: 'The forecast is 2 days old. The service does not answer; there may be no network.',
    });
    service = await startReplayingService();
  });

  it('and with nothing kept it says so', async () => {
    await service.close();
    expect(await fault(desk())).toMatchObject({ status: null, retryAtMs: null });
    service = await startReplayingService();
  });

  it('a damaged file of the cache counts as none', async () => {
    service.answer(() => good());
    await got();
    const cache = join(folder, 'forecast-cache');
    for (const name of await readdir(cache)) {
      const path = join(cache, name);
      await writeFile(path, (await readFile(path)).subarray(3));
    }
    expect((await got()).how).toBe('fetched');
  });
});

describe('the other sources', () => {
  it('MOSMIX: the catalogue once, then the station that is near and at about the altitude', async () => {
    const kml = await fixture('mosmix-invented.kml');
    const kmz = zipSync({ 'MOSMIX_L_X0001.kml': new Uint8Array(kml) });
    const stations = [
      'X0002 ---- FAR AWAY             41.00   10.00   300',
      'X0001 ---- WIESENMUEHLE         51.30   -0.10    60',
      'X0003 ---- UP THE HILL          51.33   -0.09   900',
    ];
    service.answer((path) =>
      path.startsWith('/stations.cfg') ? good(stations.join('\n')) : { ...good(), body: kmz },
    );
    const mosmix = desk({ TEPAL_FORECAST_SOURCE: 'mosmix', TEPAL_CONTACT: '' });
    expect((await got(mosmix)).forecast.source).toBe('DWD MOSMIX, station X0001 WIESENMÜHLE');
    expect(service.requests.map((request) => request.split(' ')[1])).toEqual([
      '/stations.cfg',
      '/weather/local_forecasts/mos/MOSMIX_L/single_stations/X0001/kml/MOSMIX_L_LATEST_X0001.kmz',
    ]);
    const far = await mosmix.forecast(
      forecastCellOfCoordinates({ latitudeDeg: -10, longitudeDeg: 100, altitudeM: null }),
    );
    expect(far).toMatchObject({ ok: false, fault: { message: expect.stringContaining('no DWD station') } });
  });

  it('US grid data: the point once, then the grid by office and cell, not by an address in the answer', async () => {
    const grid = (await fixture('us-grid-data.json')).toString();
    nowMs = Date.UTC(2022, 1, 4, 6);
    const point = JSON.stringify({
      properties: {
        gridId: 'TAE',
        gridX: 58,
        gridY: 65,
        forecastGridData: 'https://elsewhere.example/steal',
      },
    });
    service.answer((path) =>
      path.startsWith('/points/')
        ? { status: 200, body: point, headers: { 'Cache-Control': 'public, max-age=86400' } }
        : good(grid),
    );
    const us = desk({ TEPAL_FORECAST_SOURCE: 'usGridPoints' });
    expect((await got(us)).forecast.instants.length).toBeGreaterThan(150);
    nowMs += 3_600_000;
    expect((await got(us)).how).toBe('fetched');
    expect(service.requests.map((request) => request.split(' ')[1])).toEqual([
      '/points/51.55,-0.15',
      '/gridpoints/TAE/58,65',
      '/gridpoints/TAE/58,65',
    ]);
  });
});

describe('settings', () => {
  it('come from what was kept, over which the environment stands', () => {
    const keptSettings = (name: string) => ({ 'forecast.source': 'mosmix' })[name] ?? null;
    expect(forecastSettings(keptSettings, {}).source).toBe('mosmix');
    expect(forecastSettings(keptSettings, { TEPAL_FORECAST_SOURCE: 'usGridPoints' }).source).toBe(
      'usGridPoints',
    );
    expect(() => forecastSettings(() => null, { TEPAL_FORECAST_SOURCE: 'oracle' })).toThrow(
      'expected one of locationforecast, mosmix, usGridPoints',
    );
    expect(() => forecastSettings(() => null, { TEPAL_MOSMIX_ADDRESS: 'ftp://x' })).toThrow('a web address');
  });
});
