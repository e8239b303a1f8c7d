import { describe, expect, it } from 'vitest';
import type { Site } from '../kept/site.ts';
import { distanceM, nearestSite } from './nearest-site.ts';

const siteAt = (id: string, latitudeDeg: number, longitudeDeg: number): Site => ({
  id,
  name: `Invented ${id}`,
  region: null,
  position: { latitudeDeg, longitudeDeg, altitudeM: null, coordinateUncertaintyM: null },
  shelter: null,
  slopeDeg: null,
  aspectDeg: null,
  vegetationHeightM: null,
  landform: null,
  access: '',
  cautions: [],
  notes: '',
});

describe('the site one stands at', () => {
  it('is the nearest, over the date line too', () => {
    const sites = [siteAt('a', 10, 179.9), siteAt('b', 10, -179.99), siteAt('c', 10, 170)];
    expect(nearestSite(sites, { latitudeDeg: 10, longitudeDeg: 179.99 })?.site.id).toBe('b');
  });

  it('is none where no site is kept', () => {
    expect(nearestSite([], { latitudeDeg: 0, longitudeDeg: 0 })).toBeNull();
  });
});

describe('the distance between two positions', () => {
  it('is a quarter of the meridian from the equator to a pole: 6371 km times pi/2', () => {
    const far = distanceM({ latitudeDeg: 0, longitudeDeg: 25 }, { latitudeDeg: 90, longitudeDeg: 0 });
    expect(far).toBeCloseTo((6_371_000 * Math.PI) / 2, 3);
  });
});
