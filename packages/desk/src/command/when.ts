/** `tepal when`: the hours at a site against a forecast. */
import {
  LANDFORM_KINDS,
  SHELTER_WORDS,
  USUAL_PLANT,
  whenDocument,
  WIND_PROFILES,
  type LandformKind,
  type PlantPlace,
  type ShelterWord,
  type WindProfile,
} from '@tepal/advice';
import { parseInstantMs, readForecast, type Forecast, type WhenDocument } from '@tepal/formats';
import { find, list, type Notebook, type Site } from '@tepal/notebook';
import { InvalidArgumentError, Option } from 'commander';
import { readFile } from 'node:fs/promises';
import { DeskFault, exitStatus, reasonOf } from '../files/faults.ts';
import { openNotebookFile } from '../notebook/notebook-file.ts';
import { plantAtSite, wantedAtSite } from '../notebook/plant-at-site.ts';
import { answer, table, type Outlet } from './outlet.ts';
import type { Register } from './program.ts';
import { numberValue } from './values.ts';

interface WhenOptions {
  readonly lat?: number;
  readonly lon?: number;
  readonly altitude?: number;
  readonly forecast: string;
  readonly heightAboveGround?: number;
  readonly vegetationHeight?: number;
  readonly profile: WindProfile;
  readonly landform?: LandformKind;
  readonly landformHeight?: number;
  readonly landformHalfLength?: number;
  readonly shelter?: ShelterWord;
  readonly from?: number;
  readonly to?: number;
  readonly notebook?: string;
  readonly site?: string;
  readonly wanted?: string;
  readonly json?: boolean;
}

export const registerWhen: Register = (program, outlet, end) => {
  program
    .command('when')
    .description('hours at a site against a forecast; windows for wanted pictures')
    .option('--lat <degrees>', 'latitude, -90 to 90', numberValue)
    .option('--lon <degrees>', 'longitude, -180 to 180', numberValue)
    .option('--altitude <m>', "above sea level; the forecast's own unless said", numberValue)
    .requiredOption('--forecast <file>', 'a Locationforecast 2.0 document')
    .option('--height-above-ground <m>', 'of the flower', numberValue)
    .option('--vegetation-height <m>', 'of the stand around it', numberValue)
    .addOption(
      new Option('--profile <way>', 'how the wind comes down to the plant')
        .choices(WIND_PROFILES)
        .default('two-step'),
    )
    .addOption(new Option('--landform <word>', 'the form of the ground').choices(LANDFORM_KINDS))
    .option('--landform-height <m>', 'from foot to top', numberValue)
    .option('--landform-half-length <m>', 'from the top to where the ground is half as high', numberValue)
    .addOption(new Option('--shelter <word>', 'what keeps the wind off').choices(SHELTER_WORDS))
    .option('--from <time>', 'ISO 8601 with offset', instantValue)
    .option('--to <time>', 'ISO 8601 with offset', instantValue)
    .option('--notebook <path>', "a notebook's file or folder, instead of --lat and --lon")
    .option('--site <id>', 'a site of the notebook')
    .option('--wanted <id>', 'one wanted picture; all of the site unless said')
    .option('--json', 'one JSON document')
    .action(async (options: WhenOptions) => {
      end(await when(options, outlet));
    });
};

async function when(options: WhenOptions, outlet: Outlet) {
  const forecast = await forecastOf(options.forecast, outlet);
  const { place, siteId, wanted } = await whereAndWhat(options, forecast);
  const document = whenDocument({
    place,
    forecast,
    siteId,
    wanted,
    nowMs: outlet.nowMs(),
    fromMs: options.from ?? null,
    toMs: options.to ?? null,
  });
  answer(outlet, options.json === true, document, () => inWords(document));
  return forecast.faults.length > 0 ? exitStatus.someFailed : exitStatus.done;
}

async function forecastOf(file: string, outlet: Outlet): Promise<Forecast> {
  let bytes: Uint8Array;
  try {
    bytes = await readFile(file);
  } catch (error) {
    throw new DeskFault(`The forecast ${file} cannot be read: ${reasonOf(error)}.`, 3);
  }
  const read = readForecast(bytes);
  if (!read.ok) throw new DeskFault(`The forecast ${file} cannot be used: ${read.fault.message}`, 3);
  for (const fault of read.value.faults) outlet.err(`tepal: ${file}: ${fault.message}\n`);
  return read.value;
}

async function whereAndWhat(options: WhenOptions, forecast: Forecast) {
  const given = {
    ...(options.heightAboveGround === undefined ? {} : { plantHeightM: options.heightAboveGround }),
    ...(options.vegetationHeight === undefined ? {} : { vegetationHeightM: options.vegetationHeight }),
    ...(options.shelter === undefined ? {} : { shelter: options.shelter }),
    ...(options.landform === undefined
      ? {}
      : {
          landform: {
            kind: options.landform,
            heightM: options.landformHeight ?? 0,
            halfLengthM: options.landformHalfLength ?? USUAL_PLANT.landform.halfLengthM,
          },
        }),
    profile: options.profile,
  };
  const altitudeM = options.altitude ?? forecast.altitudeM ?? 0;
  if (options.notebook !== undefined) {
    const notebook = await openNotebookFile(options.notebook);
    const site = siteOf(notebook, options.site);
    const wanted = wantedAtSite(notebook, site.id, options.wanted);
    const plant = plantAtSite(notebook, site, options.wanted);
    const place: PlantPlace = {
      ...plant,
      altitudeM: options.altitude ?? site.position.altitudeM ?? altitudeM,
      ...given,
    };
    return { place, siteId: site.id, wanted };
  }
  if (options.lat === undefined || options.lon === undefined) {
    throw new DeskFault('A place is needed: --lat and --lon in degrees, or --notebook with --site.');
  }
  const place = { ...USUAL_PLANT, latitudeDeg: options.lat, longitudeDeg: options.lon, altitudeM, ...given };
  return { place, siteId: 'here', wanted: [] };
}

function siteOf(notebook: Notebook, id: string | undefined): Site {
  const sites = list(notebook, 'site');
  const found =
    id === undefined && sites.length === 1 ? sites[0] : id === undefined ? null : find(notebook, 'site', id);
  if (found !== null && found !== undefined) return found;
  const known = sites.map((site) => site.id).join(', ') || 'none yet';
  throw new DeskFault(`Expected a site of the notebook for --site (${known}) but received ${id ?? 'none'}.`);
}

function instantValue(text: string): number {
  const ms = parseInstantMs(text);
  if (ms !== null) return ms;
  throw new InvalidArgumentError(
    `expected a time with offset, as in 2026-06-11T05:00+01:00, but received "${text}"`,
  );
}

function inWords({ hours, windows, misses, cautions }: WhenDocument): string {
  const rows = hours.map(({ time, sun, light, wind, air, drops, insects }) => [
    time,
    rounded(sun?.altitudeDeg, 1),
    rounded(light?.illuminanceLux, 0),
    rounded(light?.diffuseShare, 2),
    rounded(wind?.atPlantMs, 2),
    rounded(wind?.gustAtPlantMs, 2),
    rounded(air?.temperatureC, 1),
    rounded(Math.max(drops?.fromRain ?? 0, drops?.fromDew ?? 0), 2),
    insects ?? '–',
  ]);
  const head = ['time', 'sun °', 'lux', 'soft', 'wind m/s', 'gust m/s', '°C', 'drops', 'insects'];
  const found = windows.map(
    ({ wanted, from, to, factors }) =>
      `${wanted}: ${from} to ${to}; ${factors.map(({ why }) => why).join('; ')}`,
  );
  const missed = misses.map(({ wanted, failing, why }) => `${wanted}: missed by ${failing}: ${why}`);
  return [table(head, rows), ...found, ...missed, ...cautions].join('\n');
}

function rounded(value: number | null | undefined, digits: number): string {
  return value === null || value === undefined ? '–' : value.toFixed(digits);
}
