// Forecasts over the engine: settings, a site's forecast, and fetching against a service that is replayed.
import type { ForecastSettingsAnswer, PackAnswer, SiteForecastAnswer } from '@tepal/formats';
import { change, createNotebook, saveNotebook } from '@tepal/notebook';
import { mkdtemp, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { startReplayingService, type ReplayingService } from '../../forecast/replaying-service.ts';
import { readyNotebooks } from '../../library/notebook-file.ts';
import { buildEngine } from '../engine.ts';

let folder: string;
let service: ReplayingService;
let built: Awaited<ReturnType<typeof buildEngine>>;

beforeAll(async () => {
  await readyNotebooks();
  service = await startReplayingService();
  vi.stubEnv('TEPAL_LOCATIONFORECAST_ADDRESS', service.address);
  vi.stubEnv('TEPAL_CONTACT', '');
  folder = await mkdtemp(join(tmpdir(), 'tepal-routes-'));
  built = await buildEngine({ folder, version: '0.1.0' });
}, 60_000);
afterAll(async () => {
  vi.unstubAllEnvs();
  await built.close();
  await service.close();
  await rm(folder, { recursive: true });
});

async function ask<T>(url: string, method: 'GET' | 'PUT' | 'POST' = 'GET', payload?: object | Buffer) {
  const bytes = payload instanceof Buffer ? { 'content-type': 'application/octet-stream' } : {};
  const answer = await built.server.inject({
    ...{ url, method, headers: { 'x-tepal': '1', host: 'localhost', ...bytes } },
    ...(payload === undefined ? {} : { payload }),
  });
  const isJson = String(answer.headers['content-type']).includes('json');
  return { status: answer.statusCode, value: (isJson ? answer.json() : null) as T };
}

describe('forecasts over the engine', () => {
  it('tells which services there are and what leaves this computer, and keeps what was chosen', async () => {
    const { value } = await ask<ForecastSettingsAnswer>('/api/forecasts/settings');
    expect(value).toMatchObject({ source: 'locationforecast', contact: null });
    expect(value.sources.map(({ name }) => name)).toEqual(['locationforecast', 'mosmix', 'usGridPoints']);
    expect(value.leaves).toContain('never a site');
    const refused = await ask('/api/forecasts/settings', 'PUT', { contact: 'nobody' });
    expect(refused.status).toBe(400);
    expect((await ask('/api/forecasts/settings', 'PUT', { source: 'oracle' })).status).toBe(400);
    const set = await ask<ForecastSettingsAnswer>('/api/forecasts/settings', 'PUT', {
      contact: 'me@example.org',
    });
    expect(set.value.contact).toBe('me@example.org');
  });

  it('fetches every site, and then answers with it, whatever the network does', async () => {
    const notebook = change(createNotebook(), { message: 'a site', timeMs: 0 }, (pen) =>
      pen.put('site', {
        id: 'bank',
        name: 'The bank',
        region: null,
        position: {
          ...{ latitudeDeg: 51.51234, longitudeDeg: -0.12345 },
          ...{ altitudeM: 31, coordinateUncertaintyM: null },
        },
        ...{ shelter: null, slopeDeg: null, aspectDeg: null, vegetationHeightM: null, landform: null },
        ...{ access: '', cautions: [], notes: '' },
      }),
    );
    expect((await ask('/api/mine/notebook', 'POST', Buffer.from(saveNotebook(notebook)))).status).toBe(200);
    expect((await ask('/api/mine/sites/bank/forecast')).status).toBe(404);
    const sample = JSON.parse(
      await readFile(
        new URL(
          '../../../../formats/fixtures/forecast/lat51.5lon-0.1altitude25_complete.json',
          import.meta.url,
        ),
        'utf8',
      ),
    ) as { data: unknown };
    service.answer(() => ({ status: 200, body: JSON.stringify(sample.data) }));
    const packed = await ask<PackAnswer>('/api/mine/forecasts', 'POST', {});
    expect(packed.value.sites.map(({ siteId }) => siteId)).toEqual(['bank']);
    // The sample is years old, which is said.
    expect(packed.value.notReady[0]).toContain('The bank: The forecast reaches only to 2020-07-29');
    expect(service.requests).toHaveLength(1);
    expect(service.requests[0]).toContain('lat=51.55&lon=-0.15&altitude=50');
    const { value } = await ask<SiteForecastAnswer>('/api/mine/sites/bank/forecast');
    expect(value.forecast.instants).toHaveLength(82);
    expect(value.missing[0]).toContain('It never gives:');
    expect(value.ageH).toBeGreaterThan(24);
  });

  it('gives the windows as a calendar, or says that there is none', async () => {
    expect((await ask('/api/mine/windows.ics')).status).toBe(404);
    const answer = await built.server.inject({
      ...{ url: '/api/invented/windows.ics?zone=Europe/London', headers: { host: 'localhost' } },
    });
    expect(answer.statusCode).toBe(200);
    expect(answer.headers['content-type']).toContain('text/calendar');
    expect(answer.body).toMatch(/^BEGIN:VCALENDAR\r\n[\s\S]*TZID=Europe\/London[\s\S]*END:VCALENDAR\r\n$/);
    const wrong = await built.server.inject({
      ...{ url: '/api/invented/windows.ics?zone=Middle/Earth', headers: { host: 'localhost' } },
    });
    expect(wrong.statusCode).toBe(400);
  });

  it('fetches nothing for the invented outing', async () => {
    expect((await ask('/api/invented/forecasts', 'POST', {})).status).toBe(403);
  });
});
