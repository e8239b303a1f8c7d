import { change, createNotebook, type Notebook, type Site } from '@tepal/notebook';
import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { readyNotebooks } from '../library/notebook-file.ts';
import { openForecasts, patientFetch } from './desk-forecasts.ts';
import { forecastSettings } from './forecast-settings.ts';
import { packSites } from './pack.ts';
import { startReplayingService, type ReplayingService } from './replaying-service.ts';

const sample = JSON.parse(
  await readFile(
    new URL('../../../formats/fixtures/forecast/lat51.5lon-0.1altitude25_complete.json', import.meta.url),
    'utf8',
  ),
) as { data: { properties: { timeseries: unknown[] } } };
const document = JSON.stringify(sample.data);
const noonMs = Date.UTC(2020, 6, 20, 12);

let service: ReplayingService;
let folder: string;

beforeAll(readyNotebooks);
beforeEach(async () => {
  service = await startReplayingService();
  folder = await mkdtemp(join(tmpdir(), 'tepal-pack-'));
});
afterEach(async () => {
  await service.close();
  await rm(folder, { recursive: true });
});

function site(id: string, latitudeDeg: number): Site {
  return {
    id,
    name: `Site ${id}`,
    region: null,
    position: { latitudeDeg, longitudeDeg: -0.1234, altitudeM: 30, coordinateUncertaintyM: null },
    ...{ shelter: null, slopeDeg: null, aspectDeg: null, vegetationHeightM: null, landform: null },
    ...{ access: '', cautions: [], notes: '' },
  };
}

const notebookOf = (...sites: readonly Site[]): Notebook =>
  change(createNotebook(), { message: 'sites', timeMs: 0 }, (pen) => {
    for (const one of sites) pen.put('site', one);
  });

const pathOf = (id: string) => join(folder, 'forecasts', `${id}.json`);

function pack(notebook: Notebook, nowMs = noonMs, siteIds?: readonly string[]) {
  const settings = forecastSettings(() => null, {
    TEPAL_CONTACT: 'me@example.org',
    TEPAL_LOCATIONFORECAST_ADDRESS: service.address,
  });
  const forecasts = openForecasts({
    ...{ folder, version: '0.1.0', settings, fetch: patientFetch, now: () => nowMs },
  });
  return packSites({
    store: { notebook: async () => notebook, forecastPath: pathOf },
    ...{ forecasts, nowMs },
    ...(siteIds === undefined ? {} : { siteIds }),
  });
}

describe('packing the evening before', () => {
  it('puts the forecast of every site where the pages read it, one request a cell', async () => {
    service.answer(() => ({
      status: 200,
      body: document,
      headers: { 'Cache-Control': 'max-age=1800' },
    }));
    const answer = await pack(notebookOf(site('a', 51.51), site('b', 51.52), site('c', 53.51)));
    expect(answer.notReady).toEqual([]);
    expect(answer.sites.map(({ siteId, ready, ageH }) => [siteId, ready, Math.round(ageH ?? 0)])).toEqual([
      ['a', true, 10],
      ['b', true, 10],
      ['c', true, 10],
    ]);
    expect(answer.sites[0]).toMatchObject({
      source: 'MET Norway Locationforecast 2.0',
      issuedAt: '2020-07-20T01:30:57Z',
      untilTime: '2020-07-29T06:00:00Z',
    });
    expect(service.requests).toHaveLength(2);
    expect(await readFile(pathOf('b'), 'utf8')).toBe(document);
  });

  it('says what is not ready, site by site, and leaves older files as they are', async () => {
    service.answer((path) =>
      path.includes('lat=51.55') ? { status: 200, body: document } : { status: 500 },
    );
    const notebook = notebookOf(site('a', 51.51), site('c', 53.51));
    await pack(notebook, noonMs, ['a']);
    await writeFile(pathOf('c'), 'from last week');
    const answer = await pack(notebook);
    expect(answer.notReady).toEqual(['Site c: The service cannot answer at the moment (500).']);
    expect(await readFile(pathOf('c'), 'utf8')).toBe('from last week');
  });

  it('puts what is kept where there is nothing, and says that it is not new', async () => {
    service.answer(() => ({ status: 200, body: document, headers: { 'Cache-Control': 'max-age=60' } }));
    const notebook = notebookOf(site('a', 51.51));
    await pack(notebook);
    await rm(pathOf('a'));
    service.answer(() => ({ status: 500 }));
    const { notReady } = await pack(notebook, noonMs + 3_600_000);
    expect(notReady).toEqual([
      'Site a: The forecast is 11 h old. The service cannot answer at the moment (500).',
    ]);
    expect(await readFile(pathOf('a'), 'utf8')).toBe(document);
  });

  it('says when a forecast ends too soon, or is old', async () => {
    const short = structuredClone(sample.data);
    short.properties.timeseries.splice(12);
    service.answer(() => ({ status: 200, body: JSON.stringify(short) }));
    expect((await pack(notebookOf(site('a', 51.51)))).notReady).toEqual([
      'Site a: The forecast reaches only to 2020-07-20T22:00:00Z.',
    ]);
    service.answer(() => ({ status: 200, body: document }));
    expect((await pack(notebookOf(site('a', 51.51)), noonMs + 3 * 86_400_000)).notReady).toEqual([
      'Site a: The newest forecast is 3 days old.',
    ]);
  });

  it('has something to say for an empty notebook, and for one that does not open', async () => {
    expect((await pack(notebookOf())).notReady).toEqual(['There is no site in the notebook yet.']);
    const settings = forecastSettings(() => null, {});
    const forecasts = openForecasts({ folder, version: '0.1.0', settings });
    const broken = {
      notebook: () => Promise.reject(new Error('damaged')),
      forecastPath: pathOf,
    };
    const answer = await packSites({ store: broken, forecasts, nowMs: noonMs });
    expect(answer.notReady).toEqual(['The notebook does not open: damaged.']);
  });
});
