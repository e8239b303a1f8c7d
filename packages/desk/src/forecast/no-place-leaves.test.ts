/** That a request never carries a site's exact place: every byte sent is searched for it in every notation. */
import { FORECAST_SOURCES, type ForecastSourceName } from '@tepal/formats';
import { change, createNotebook, list, privateWords, type Notebook, type Site } from '@tepal/notebook';
import fc from 'fast-check';
import { mkdtemp, readdir, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { readyNotebooks } from '../library/notebook-file.ts';
import { openForecasts, patientFetch } from './desk-forecasts.ts';
import { forecastSettings } from './forecast-settings.ts';
import { packSites } from './pack.ts';
import { startReplayingService, type ReplayingService } from './replaying-service.ts';

let service: ReplayingService;
let folder: string;

beforeAll(async () => {
  await readyNotebooks();
  service = await startReplayingService();
  folder = await mkdtemp(join(tmpdir(), 'tepal-places-'));
});
afterAll(async () => {
  await service.close();
  await rm(folder, { recursive: true });
});

const NAME = 'Quagmoor Orchid Bank';

function notebookAt(latitudeDeg: number, longitudeDeg: number, altitudeM: number): Notebook {
  const site: Site = {
    id: 'site-q7f3',
    name: NAME,
    region: null,
    position: { latitudeDeg, longitudeDeg, altitudeM, coordinateUncertaintyM: null },
    ...{ shelter: null, slopeDeg: null, aspectDeg: null, vegetationHeightM: null, landform: null },
    ...{ access: 'Over the third stile.', cautions: [], notes: '' },
  };
  return change(createNotebook(), { message: 'a site', timeMs: 0 }, (pen) => pen.put('site', site));
}

/** Further ways of writing a coordinate than those of `privateWords`: cut and rounded to 3 to 7 decimals, in e-notation. */
function moreWords(degrees: number): readonly string[] {
  const x = Math.abs(degrees);
  const decimals = [3, 4, 5, 6, 7].flatMap((digits) => [
    x.toFixed(digits),
    (Math.trunc(x * 10 ** digits) / 10 ** digits).toFixed(digits),
  ]);
  const whole = [5, 6, 7].map((digits) => String(Math.round(x * 10 ** digits)));
  return [...decimals, ...whole, x.toExponential(5)].flatMap((word) => [word, word.replace('.', ',')]);
}

/** What was sent, also as it reads once percent signs, plus signs and base 64 are undone. */
function readings(request: string): readonly string[] {
  const undone = request.replace(/%([0-9a-f]{2})/gi, (_, hex: string) =>
    String.fromCharCode(Number.parseInt(hex, 16)),
  );
  const from64 = (request.match(/[A-Za-z0-9+/_-]{16,}/g) ?? []).map((word) =>
    Buffer.from(word, 'base64').toString('latin1'),
  );
  return [request, undone, undone.replaceAll('+', ' '), ...from64];
}

function pathsFor(source: ForecastSourceName, id: string) {
  const stations = `X0001 ---- SOMEWHERE           10.00   10.00   300\n${id} ---- ELSEWHERE           -50.00  150.00  30`;
  return source === 'mosmix'
    ? stations
    : JSON.stringify({ properties: { gridId: 'TAE', gridX: 1, gridY: 2 } });
}

it('sends no exact coordinate, altitude or name to any service, in any notation', async () => {
  // Four decimals and more, away from a cell's own middle, which is what is meant to be sent.
  const degrees = (limit: number) =>
    fc
      .double({ min: -limit, max: limit, noNaN: true })
      .map((x) => Number(x.toFixed(6)))
      .filter((x) => Math.abs(x) > 0.01 && String(x).replace(/^.*\./, '').length >= 5);
  const altitude = fc.integer({ min: -400, max: 8000 }).filter((m) => m % 50 !== 0);
  let sent = 0;
  await fc.assert(
    fc.asyncProperty(
      degrees(84),
      degrees(180),
      altitude,
      fc.constantFrom(...FORECAST_SOURCES),
      async (latitudeDeg, longitudeDeg, altitudeM, source) => {
        const notebook = notebookAt(latitudeDeg, longitudeDeg, altitudeM);
        const run = await mkdtemp(join(folder, 'run-'));
        service.requests.length = 0;
        service.answer(() => ({ status: 200, body: pathsFor(source, 'X0002') }));
        const settings = forecastSettings(() => null, {
          TEPAL_FORECAST_SOURCE: source,
          TEPAL_CONTACT: 'me@example.org',
          TEPAL_LOCATIONFORECAST_ADDRESS: service.address,
          TEPAL_MOSMIX_ADDRESS: service.address,
          TEPAL_US_GRID_ADDRESS: service.address,
          TEPAL_FORECAST_STATIONS: `${service.address}/stations.cfg`,
        });
        const forecasts = openForecasts({ folder: run, version: '0.1.0', settings, fetch: patientFetch });
        await packSites({
          store: { notebook: async () => notebook, forecastPath: (id) => join(run, `${id}.json`) },
          forecasts,
          nowMs: 0,
        });
        expect(service.requests.length).toBeGreaterThan(0);
        sent += service.requests.length;
        const words = [
          ...privateWords(notebook),
          ...moreWords(latitudeDeg),
          ...moreWords(longitudeDeg),
          `altitude=${altitudeM}`,
          'site-q7f3',
        ];
        const cache = join(run, 'forecast-cache');
        const names = await readdir(cache).catch(() => []);
        const kept = await Promise.all(names.map((name) => readFile(join(cache, name), 'latin1')));
        for (const text of [...service.requests.flatMap(readings), ...names, ...kept]) {
          const found = words.filter((word) => text.toLowerCase().includes(word.toLowerCase()));
          expect(found, text).toEqual([]);
        }
      },
    ),
    { seed: 20261125, numRuns: 60 },
  );
  expect(sent).toBeGreaterThan(60);
});

it('sends the same bytes for every place of a cell, so that requests cannot be averaged back', async () => {
  const seen = new Set<string>();
  for (const [latitudeDeg, longitudeDeg] of [
    [52.31234, -1.28765],
    [52.39876, -1.20123],
    [52.35, -1.25],
  ] as const) {
    service.requests.length = 0;
    service.answer(() => ({ status: 404 }));
    const settings = forecastSettings(() => null, {
      TEPAL_CONTACT: 'me@example.org',
      TEPAL_LOCATIONFORECAST_ADDRESS: service.address,
    });
    const forecasts = openForecasts({ folder, version: '0.1.0', settings, fetch: patientFetch });
    const notebook = notebookAt(latitudeDeg, longitudeDeg, 131);
    expect(list(notebook, 'site')[0]!.name).toBe(NAME);
    await packSites({
      store: { notebook: async () => notebook, forecastPath: () => '' },
      forecasts,
      nowMs: 0,
    });
    for (const request of service.requests) seen.add(request);
  }
  expect(seen.size).toBe(1);
});
