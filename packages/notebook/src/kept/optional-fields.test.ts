import { describe, expect, it } from 'vitest';
import { inventedSite } from '../../fixtures/invented-things.ts';
import { readKept } from '../document/check-kept.ts';

const hedge = { heightM: 2, porosity: 0.5, distanceM: 12, bearingDeg: 250, halfLengthM: null };

describe('fields that came later', () => {
  it('may be left out of a site, be null, or be given', () => {
    expect(readKept('site', inventedSite()).ok).toBe(true);
    expect(readKept('site', inventedSite({ barrier: null, horizon: null })).ok).toBe(true);
    const horizon = [{ azimuthDeg: 90, altitudeDeg: 12 }];
    const read = readKept('site', inventedSite({ barrier: hedge, horizon }));
    expect(read.ok && read.value.barrier).toEqual(hedge);
    expect(read.ok && read.value.horizon).toEqual(horizon);
  });

  it('are named when they are none', () => {
    const high = readKept('site', inventedSite({ barrier: { ...hedge, porosity: 3 } }));
    expect(high.ok ? '' : high.field).toBe('site.barrier.porosity');
    const below = readKept('site', inventedSite({ horizon: [{ azimuthDeg: 90, altitudeDeg: -3 }] }));
    expect(below.ok ? '' : below.field).toBe('site.horizon.0.altitudeDeg');
  });

  it('may be left out of free hours, or name a time zone', () => {
    const mornings = {
      id: 'f1',
      from: '2026-06-14T05:00:00+02:00',
      to: '2026-06-14T09:00:00+02:00',
      repeats: 'weekly',
      label: null,
    };
    expect(readKept('freeHours', mornings).ok).toBe(true);
    expect(readKept('freeHours', { ...mornings, timeZone: 'Europe/Berlin' }).ok).toBe(true);
  });
});
