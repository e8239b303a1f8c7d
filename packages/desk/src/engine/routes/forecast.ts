/** Forecasts for the pages: which service is asked, a site's forecast, every site's fetched at once; windows as a calendar. */
import {
  forecastContact,
  forecastSources,
  FORECAST_SOURCES,
  missingFromForecast,
  missingSentences,
  readForecast,
  type ForecastSettingsAnswer,
  type PackAnswer,
  type SiteForecastAnswer,
} from '@tepal/formats';
import { calendarOfWindows } from '@tepal/notebook';
import { DomainError } from '@tepal/science';
import type { FastifyInstance } from 'fastify';
import { readFile } from 'node:fs/promises';
import { openForecasts } from '../../forecast/desk-forecasts.ts';
import { forecastSettings, sourceOf } from '../../forecast/forecast-settings.ts';
import { packSites } from '../../forecast/pack.ts';
import { daysAnswer } from '../answers.ts';
import type { Engine } from '../engine-parts.ts';
import { EngineRefusal } from '../guard.ts';
import { bodyOf, idOf, idsField, storeOf, textField } from './requests.ts';

const LEAVES =
  'A request tells the service the middle of a cell of 0.1°, some 11 km wide, the altitude to 50 m, and your contact; never a site.';

export function forecastRoutes(
  server: FastifyInstance,
  engine: Engine,
  desk: {
    readonly folder: string;
    readonly version: string;
    readonly environment: Readonly<Record<string, string | undefined>>;
  },
): void {
  const { library } = engine.stores.mine;
  const settings = () => forecastSettings((name) => library.setting(name), desk.environment);
  const answer = (): ForecastSettingsAnswer => {
    const { source, contact } = settings();
    const sources = FORECAST_SOURCES.map((name) => {
      const { title, reach, needsContact } = forecastSources[name];
      return { name, title, reach, needsContact };
    });
    return { source, contact, sources, leaves: LEAVES };
  };

  server.get('/api/forecasts/settings', answer);

  server.put('/api/forecasts/settings', (request) => {
    const body = bodyOf(request.body);
    const source = body['source'] === undefined ? null : sourceOf(textField(body, 'source', 40));
    const contact = body['contact'] === undefined ? null : textField(body, 'contact', 200).trim();
    if (contact !== null && contact !== '' && forecastContact(contact) === null) {
      throw new EngineRefusal(
        400,
        `expected an e-mail or web address as the contact but received ${contact}.`,
      );
    }
    if (source !== null) library.setSetting('forecast.source', source);
    if (contact !== null) library.setSetting('forecast.contact', contact);
    return answer();
  });

  server.get('/api/:store/sites/:id/forecast', async (request): Promise<SiteForecastAnswer> => {
    const store = engine.stores[storeOf(request.params)];
    const siteId = idOf(request.params);
    const bytes = await readFile(store.forecastPath(siteId)).catch(() => null);
    if (bytes === null) throw new EngineRefusal(404, 'There is no forecast for that site yet; fetch it.');
    const read = readForecast(bytes);
    if (!read.ok) throw new EngineRefusal(422, read.fault.message);
    const { issuedAtMs } = read.value;
    return {
      siteId,
      forecast: read.value,
      missing: missingSentences(missingFromForecast(read.value)),
      ageH: issuedAtMs === null ? null : Math.max(0, (Date.now() - issuedAtMs) / 3_600_000),
    };
  });

  server.get('/api/:store/windows.ics', async (request, reply) => {
    const store = engine.stores[storeOf(request.params)];
    const { zone } = request.query as { zone?: string };
    const { days } = await daysAnswer(store, Date.now());
    const windows = days.flatMap(({ when }) => when.windows);
    if (windows.length === 0) throw new EngineRefusal(404, 'There is no window to put in a calendar.');
    const notebook = await store.notebook();
    const named = zone === undefined || zone === '' ? null : zone;
    const { text } = refusing(() =>
      calendarOfWindows(notebook, windows, { madeAtMs: Date.now(), language: 'en', zone: named }),
    );
    return reply
      .type('text/calendar; charset=utf-8')
      .header('content-disposition', 'attachment; filename="windows.ics"')
      .send(text);
  });

  server.post('/api/:store/forecasts', async (request): Promise<PackAnswer> => {
    const store = engine.stores[storeOf(request.params)];
    if (store.name === 'invented') {
      throw new EngineRefusal(403, 'The invented outing has its own weather; nothing is fetched for it.');
    }
    const body = bodyOf(request.body);
    const siteIds = body['siteIds'] === undefined ? {} : { siteIds: idsField(body, 'siteIds') };
    const { folder, version } = desk;
    const forecasts = openForecasts({ folder, version, settings: settings() });
    return packSites({ store, forecasts, nowMs: Date.now(), ...siteIds });
  });
}

/** What pure code refuses is the request's mistake here. */
function refusing<T>(work: () => T): T {
  try {
    return work();
  } catch (error) {
    if (error instanceof DomainError) throw new EngineRefusal(400, `${error.message}.`);
    throw error;
  }
}
