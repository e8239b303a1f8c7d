import { DomainError } from '@tepal/science';
import fc from 'fast-check';
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { ageInWords, createForecastClient, forecastContact } from './forecast-client.ts';
import { forecastCell } from './forecast-cell.ts';
import { formatHttpDate, freshUntilMs, parseHttpDate, retryAfterMs } from './http-date.ts';
import { memoryForecastCache } from './kept-answers.ts';
import type { ForecastFetch } from './polite-get.ts';
import { nearestStation, readStations } from './stations.ts';

const seed = 20261125;
const nowMs = Date.UTC(2026, 10, 25, 12);

describe('HTTP dates and waits', () => {
  it('reads the example of RFC 9110, 5.6.7', () => {
    expect(parseHttpDate('Sun, 06 Nov 1994 08:49:37 GMT')).toBe(784_111_777_000);
    expect(formatHttpDate(784_111_777_000)).toBe('Sun, 06 Nov 1994 08:49:37 GMT');
  });

  it('gives back what it writes, the weekday as the platform writes it', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 4e9 }), (second) => {
        const text = formatHttpDate(second * 1000);
        expect(text).toBe(new Date(second * 1000).toUTCString());
        expect(parseHttpDate(text)).toBe(second * 1000);
      }),
      { seed, numRuns: 200 },
    );
  });

  it.each([
    '',
    null,
    '2026-11-25T12:00:00Z',
    'Sun, 31 Feb 2026 08:49:37 GMT',
    'Sun, 06 Non 1994 08:49:37 GMT',
  ])('takes %j for none', (text) => expect(parseHttpDate(text)).toBeNull());

  it('takes Expires against the clock of the service, and max-age before it', () => {
    const headers =
      (values: Record<string, string>) =>
      (name: string): string | null =>
        values[name] ?? null;
    const date = formatHttpDate(nowMs - 3_600_000);
    const expires = formatHttpDate(nowMs - 3_600_000 + 600_000);
    // The clock here is an hour fast: the answer still holds for ten minutes.
    expect(freshUntilMs(headers({ date, expires }), nowMs)).toBe(nowMs + 600_000);
    expect(freshUntilMs(headers({ expires, 'cache-control': 'public, max-age=60' }), nowMs)).toBe(
      nowMs + 60_000,
    );
    expect(freshUntilMs(headers({ 'cache-control': 'no-store' }), nowMs)).toBe(nowMs);
    expect(freshUntilMs(headers({ expires: '0' }), nowMs)).toBe(nowMs);
    expect(freshUntilMs(headers({}), nowMs)).toBeNull();
  });

  it('reads Retry-After as seconds and as a date', () => {
    expect(retryAfterMs('120', nowMs)).toBe(120_000);
    expect(retryAfterMs(formatHttpDate(nowMs + 5000), nowMs)).toBe(5000);
    expect(retryAfterMs('soon', nowMs)).toBeNull();
    expect(retryAfterMs(null, nowMs)).toBeNull();
  });
});

describe('the cell that a forecast is asked for', () => {
  it('is the middle of 0.1°, with the altitude to 50 m (cell of FS G-18)', () => {
    const place = { latitudeDeg: 52.34567, longitudeDeg: -1.23456, altitudeM: 131 };
    expect(forecastCell(place)).toEqual({ latitudeDeg: 52.35, longitudeDeg: -1.25, altitudeM: 150 });
  });

  it('is the same for every place of the cell, and for its own middle', () => {
    const share = fc.double({ min: 0.001, max: 0.099, noNaN: true });
    fc.assert(
      fc.property(
        fc.integer({ min: -899, max: 898 }),
        fc.integer({ min: -1799, max: 1798 }),
        share,
        share,
        (row, column, a, b) => {
          const at = (x: number, y: number) =>
            forecastCell({ latitudeDeg: row / 10 + x, longitudeDeg: column / 10 + y, altitudeM: null });
          expect(at(a, b)).toEqual(at(0.05, 0.05));
          expect(forecastCell({ ...at(a, b) })).toEqual(at(a, b));
        },
      ),
      { seed, numRuns: 300 },
    );
  });

  it('takes a place below the sea, and none beyond the Earth', () => {
    expect(forecastCell({ latitudeDeg: 31.5, longitudeDeg: 35.5, altitudeM: -430 }).altitudeM).toBe(-450);
    expect(Object.is(forecastCell({ latitudeDeg: 0, longitudeDeg: 0, altitudeM: -10 }).altitudeM, 0)).toBe(
      true,
    );
    expect(() => forecastCell({ latitudeDeg: 95, longitudeDeg: 0, altitudeM: null })).toThrow(DomainError);
  });
});

// Lines in the catalogue's form; positions of two well-known stations in degrees and minutes, one invented.
const catalogue = `TABLE   MOSMIX
ID    ICAO NAME                 LAT    LON     ELEV
===== ---- -------------------- -----  ------- -----
11035 ---- WIEN/HOHE WARTE      48.15   16.22   203
10384 EDDI BERLIN-TEMPELHOF     52.28   13.24    49
X0001 ---- INVENTED HILL        48.15   16.10   900
94767 YSSY SYDNEY AIRPORT      -33.57  151.11     6
`;

describe('the catalogue of stations', () => {
  it('is read in degrees and minutes: Vienna lies at 48.25° N, 16.37° E', () => {
    const read = readStations(catalogue);
    if (!read.ok) throw new Error(read.fault.message);
    expect(read.value).toHaveLength(4);
    expect(read.value[0]).toMatchObject({ id: '11035', name: 'WIEN/HOHE WARTE', altitudeM: 203 });
    expect(read.value[0]!.latitudeDeg).toBeCloseTo(48.25, 6);
    expect(read.value[0]!.longitudeDeg).toBeCloseTo(16.366667, 6);
    expect(read.value[3]!.latitudeDeg).toBeCloseTo(-33.95, 6);
    expect(readStations('<html></html>')).toMatchObject({ ok: false });
  });

  it('gives the station that is near and at about the altitude', () => {
    const read = readStations(catalogue);
    if (!read.ok) throw new Error(read.fault.message);
    const between = { latitudeDeg: 48.25, longitudeDeg: 16.25 };
    expect(nearestStation(read.value, { ...between, altitudeM: 850 })!.station.id).toBe('X0001');
    expect(nearestStation(read.value, { ...between, altitudeM: 200 })!.station.id).toBe('11035');
    // One degree of latitude is 111.2 km on a sphere of 6371 km.
    const north = { latitudeDeg: 49.25, longitudeDeg: 16 + 22 / 60, altitudeM: 203 };
    expect(nearestStation(read.value, north)!.distanceKm).toBeCloseTo(111.19, 1);
    expect(nearestStation([], north)).toBeNull();
  });
});

describe('who asks', () => {
  it.each([
    ['me@example.org', 'me@example.org'],
    [' https://example.org/tepal ', 'https://example.org/tepal'],
    ['', null],
    ['me', null],
    ['a b@example.org', null],
    ['x@example.org\r\nX-Other: 1', null],
    ['x@example.org)', null],
  ])('%j as a contact', (text, contact) => expect(forecastContact(text)).toBe(contact));

  it('says ages in words', () => {
    expect([0, 61_000, 5 * 3_600_000, 8 * 86_400_000].map(ageInWords)).toEqual([
      'less than a minute',
      '1 min',
      '5 h',
      '8 days',
    ]);
  });
});

describe('a client on a page', () => {
  const document = readFileSync(
    new URL('../../../fixtures/forecast/lat51.5lon-0.1altitude25_complete.json', import.meta.url),
  );
  const body = JSON.stringify((JSON.parse(document.toString()) as { data: unknown }).data);
  const cell = forecastCell({ latitudeDeg: 51.51, longitudeDeg: -0.12, altitudeM: null });

  it('sends no header that the browser would have to ask leave for, and needs no contact', async () => {
    const asked: { url: string; headers: Record<string, string> }[] = [];
    const fetch: ForecastFetch = async (url, { headers }) => {
      asked.push({ url, headers });
      const answered = new Response(body, { headers: { 'last-modified': 'Mon, 20 Jul 2020 01:30:57 GMT' } });
      return answered;
    };
    let time = Date.UTC(2020, 6, 20, 12);
    const client = createForecastClient({
      fetch,
      cache: memoryForecastCache(),
      now: () => time,
      asker: 'page',
    });
    await client.forecast('locationforecast', cell);
    time += 86_400_000;
    expect(await client.forecast('locationforecast', cell)).toMatchObject({
      ok: true,
      value: { how: 'fetched' },
    });
    expect(asked.map(({ headers }) => Object.keys(headers))).toEqual([['Accept'], ['Accept']]);
    expect(asked[0]!.url).toBe(
      'https://api.met.no/weatherapi/locationforecast/2.0/complete?lat=51.55&lon=-0.15',
    );
  });

  it('asks a service one thing at a time', async () => {
    let open = 0;
    let most = 0;
    const fetch: ForecastFetch = async () => {
      open += 1;
      most = Math.max(most, open);
      await new Promise((resolve) => setTimeout(resolve, 5));
      open -= 1;
      return new Response(body);
    };
    const client = createForecastClient({ fetch, cache: memoryForecastCache(), now: () => 0, asker: 'page' });
    const cells = [51.01, 51.11, 51.21, 51.31].map((latitudeDeg) =>
      forecastCell({ latitudeDeg, longitudeDeg: 0.01, altitudeM: null }),
    );
    const answers = await Promise.all(cells.map((one) => client.forecast('locationforecast', one)));
    expect(answers.every(({ ok }) => ok)).toBe(true);
    expect(most).toBe(1);
  });
});
