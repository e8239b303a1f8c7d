/**
 * The catalogue of stations for which DWD forecasts.
 *
 * Its trap: latitudes and longitudes stand in degrees and *minutes*, "52.28" being 52° 28′. Read as decimals, stations
 * move by up to 20 km.
 *
 * @source DWD, mosmix_stationskatalog.cfg, as public readers describe it
 */
import { refused, understood, type Result } from '../../result.ts';

export interface Station {
  readonly id: string;
  readonly name: string;
  readonly latitudeDeg: number;
  readonly longitudeDeg: number;
  readonly altitudeM: number;
}

const LINE = /^(\S{4,5})\s+(\S{4})\s+(\S.*?)\s+(-?\d{1,2}\.\d{2})\s+(-?\d{1,3}\.\d{2})\s+(-?\d{1,4})\s*$/;

/** The stations of the catalogue; lines that are none (headings, rules) are passed over. */
export function readStations(text: string): Result<readonly Station[]> {
  const stations = text.split(/\r?\n/).flatMap((line): Station[] => {
    const [, id, , name, latitude, longitude, altitude] = LINE.exec(line) ?? [];
    const latitudeDeg = degreesOf(latitude);
    const longitudeDeg = degreesOf(longitude);
    if (id === undefined || name === undefined || latitudeDeg === null || longitudeDeg === null) return [];
    if (Math.abs(latitudeDeg) > 90 || Math.abs(longitudeDeg) > 180) return [];
    return [{ id, name, latitudeDeg, longitudeDeg, altitudeM: Number(altitude) }];
  });
  if (stations.length > 0) return understood(stations);
  const found = text.trim() === '' ? 'nothing' : 'a text without a station';
  return refused({
    where: 'stations',
    found,
    accepted: 'lines of id, code, name, latitude, longitude, altitude',
  });
}

function degreesOf(written: string | undefined): number | null {
  const [whole, minutes] = (written ?? '').replace('-', '').split('.');
  if (whole === undefined || minutes === undefined || Number(minutes) >= 60) return null;
  const degrees = Number(whole) + Number(minutes) / 60;
  return written?.startsWith('-') === true ? -degrees : degrees;
}

/** How much farther a station counts for each metre that it lies higher or lower [km/m]: 100 m as 10 km. Ours. */
const KM_PER_M = 0.1;
const EARTH_KM = 6371;

/**
 * The station that stands for a place: near, and at about its altitude.
 *
 * @returns the station and how far away it is [km]; null where there is none
 */
export function nearestStation(
  stations: readonly Station[],
  place: { readonly latitudeDeg: number; readonly longitudeDeg: number; readonly altitudeM: number | null },
): { readonly station: Station; readonly distanceKm: number } | null {
  let best: { station: Station; distanceKm: number; cost: number } | null = null;
  for (const station of stations) {
    const distanceKm = greatCircleKm(place, station);
    const higher = place.altitudeM === null ? 0 : Math.abs(station.altitudeM - place.altitudeM);
    const cost = distanceKm + higher * KM_PER_M;
    if (best === null || cost < best.cost) best = { station, distanceKm, cost };
  }
  return best === null ? null : { station: best.station, distanceKm: best.distanceKm };
}

interface Point {
  readonly latitudeDeg: number;
  readonly longitudeDeg: number;
}

/** The haversine, good at small distances. */
function greatCircleKm(a: Point, b: Point): number {
  const rad = (deg: number) => (deg * Math.PI) / 180;
  const dLat = rad(b.latitudeDeg - a.latitudeDeg);
  const dLon = rad(b.longitudeDeg - a.longitudeDeg);
  const h =
    Math.sin(dLat / 2) ** 2 +
    Math.cos(rad(a.latitudeDeg)) * Math.cos(rad(b.latitudeDeg)) * Math.sin(dLon / 2) ** 2;
  return 2 * EARTH_KM * Math.asin(Math.min(1, Math.sqrt(h)));
}
