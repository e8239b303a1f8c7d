/** Hours at forty sites, and sixty wanted pictures judged in each, against nothing but the sun's position each hour. */
import {
  findWindows,
  hourColumns,
  hoursAtPlant,
  judgeHours,
  needColumns,
  roomForJudging,
  USUAL_PLANT,
  type PlantPlace,
  type WantedHours,
} from '@tepal/advice';
import { unknownInstant, type Forecast } from '@tepal/formats';
import { sunPosition } from '@tepal/science';

const siteCount = 50;
const hoursEach = 240;
const wantedCount = 50;
const startMs = Date.UTC(2026, 4, 30);
const seed = 5;

/** Uniform numbers from a seed. Mulberry32, public domain. */
function dice(from: number): () => number {
  let a = from;
  return () => {
    a = (a + 0x6d2b79f5) | 0;
    let t = Math.imul(a ^ (a >>> 15), 1 | a);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

const random = dice(seed);

function forecastOf(latitudeDeg: number, longitudeDeg: number): Forecast {
  return {
    source: 'made for this benchmark',
    issuedAtMs: startMs,
    latitudeDeg,
    longitudeDeg,
    altitudeM: 100,
    credit: '',
    instants: Array.from({ length: hoursEach }, (_, i) => ({
      ...unknownInstant(startMs + i * 3_600_000, 10),
      windSpeedMs: 8 * random(),
      windGustMs: 8 + 4 * random(),
      windFromDeg: 360 * random(),
      cloudShare: random(),
      airTemperatureC: 8 + 10 * random(),
      dewPointC: 5,
      relativeHumidity: 0.6 + 0.4 * random(),
      precipitationMm: random() < 0.1 ? 1 : 0,
    })),
    definitions: {
      wind: { heightM: 10, statistic: 'mean', averagedMin: 10 },
      gust: null,
      cloudLayers: null,
      precipitation: { interval: 'follows', probabilityOfAtLeastMm: null },
      radiation: null,
      groundTemperature: null,
      fog: null,
      thunder: null,
      airHeightM: 2,
    },
    notes: [],
    faults: [],
  };
}

const sites = Array.from({ length: siteCount }, (_, i) => {
  const [latitudeDeg, longitudeDeg] = [45 + 10 * random(), 10 * random()];
  const place: PlantPlace = {
    ...USUAL_PLANT,
    latitudeDeg,
    longitudeDeg,
    altitudeM: 100,
    landform: { kind: i % 2 === 0 ? 'crest' : 'flat', heightM: 20, halfLengthM: 80, bearingDeg: 90 },
    barrier:
      i % 3 === 0 ? { heightM: 2, porosity: 0.5, distanceM: 12, bearingDeg: 250, halfLengthM: null } : null,
    horizon: Array.from({ length: 36 }, () => 8 * random()),
  };
  return { place, forecast: forecastOf(latitudeDeg, longitudeDeg) };
});
const pick = <T>(of: readonly T[]): T => of[Math.floor(random() * of.length)]!;
const wanted = Array.from({ length: wantedCount }, (_, i): WantedHours => ({
  id: `w${i}`,
  siteId: null,
  light: pick(['soft', 'any', 'sun'] as const),
  stillness: pick(['still', 'stirring', 'nodding'] as const),
  drops: pick(['wanted', 'none', 'any'] as const),
  insects: pick(['torpid', 'basking', null] as const),
  opens: pick(['needs sun', 'morning', 'any'] as const),
  season: { value: Array.from({ length: 366 }, () => random()), basis: 'made' },
}));

function best(run: () => number): number {
  let consumed = 0;
  const times = Array.from({ length: 5 }, () => {
    const start = performance.now();
    consumed += run();
    return performance.now() - start;
  });
  if (!Number.isFinite(consumed)) throw new Error('the result was not a number');
  return Math.min(...times);
}

const sunAlone = best(() => {
  let sum = 0;
  for (const { place, forecast } of sites)
    for (const { timeMs } of forecast.instants) sum += sunPosition({ ...place, timeMs }).altitudeDeg;
  return sum;
});
const hours = best(() => {
  let sum = 0;
  for (const { place, forecast } of sites) sum += hoursAtPlant(place, forecast)[7]!.wind.atPlantMs!;
  return sum;
});
const each = sites.map(({ place, forecast }) => hoursAtPlant(place, forecast));
const columns = each.map(hourColumns);
const needs = wanted.map(needColumns);
const room = roomForJudging(hoursEach);
const judged = best(() => {
  let sum = 0;
  for (const column of columns)
    for (const need of needs) {
      judgeHours(column, need, room);
      sum += room.weakest[7]!;
    }
  return sum;
});
const windows = best(() => {
  let sum = 0;
  each.forEach((one, i) => {
    sum += findWindows({ siteId: `s${i}`, hours: one, wanted, nowMs: startMs }).windows.length;
  });
  return sum;
});
const siteHours = siteCount * hoursEach;
process.stdout.write(
  `when, ${siteHours} site-hours, seed ${seed}: ${hours.toFixed(0)} ms; ${(hours / sunAlone).toFixed(2)} x the sun alone (${sunAlone.toFixed(0)} ms)\n` +
    `judged, ${siteHours * wantedCount} combinations: ${judged.toFixed(1)} ms; ${(judged / sunAlone).toFixed(2)} x the sun alone; ` +
    `with windows and sentences ${windows.toFixed(0)} ms, ${(windows / sunAlone).toFixed(2)} x\n`,
);
