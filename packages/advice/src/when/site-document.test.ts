import { describe, expect, it } from 'vitest';
import { madeForecast } from '../../fixtures/made-forecast.ts';
import { freeDuring, siteDocument, type KeptForDays } from './site-document.ts';
import { whenDocument } from './when-document.ts';
import { plantPlaceOfSite } from './from-notebook.ts';

const site = {
  id: 'made-site',
  name: 'Made Place',
  region: null,
  position: { latitudeDeg: 51.48, longitudeDeg: -0.29, altitudeM: null, coordinateUncertaintyM: null },
  shelter: 'hedged' as const,
  slopeDeg: null,
  aspectDeg: null,
  vegetationHeightM: null,
  landform: null,
  access: '',
  cautions: [],
  notes: '',
};
const nothing: KeptForDays = {
  sites: [site],
  subjects: [],
  wantedPictures: [],
  records: [],
  freeHours: [],
};
const forecast = madeForecast('2026-06-11T00:00:00Z', 48);
const nowMs = Date.parse('2026-06-11T03:00:00Z');

describe('the document of a kept site', () => {
  it('is that of its place under the forecast’s altitude', () => {
    const place = plantPlaceOfSite(site, { plantHeightM: null, altitudeM: forecast.altitudeM });
    const plain = whenDocument({
      ...{ place, forecast, siteId: site.id, wanted: [], nowMs, fromMs: null, toMs: null, free: null },
    });
    expect(siteDocument(site, nothing, { forecast, nowMs })).toEqual(plain);
  });

  it('knows free hours only where some are kept', () => {
    expect(freeDuring([], forecast)).toBeNull();
    const entry = {
      from: '2026-06-11T05:00:00+01:00',
      to: '2026-06-11T08:00:00+01:00',
      repeats: 'once' as const,
    };
    expect(freeDuring([entry], forecast)).toEqual([
      { fromMs: Date.parse(entry.from), toMs: Date.parse(entry.to) },
    ]);
  });
});
