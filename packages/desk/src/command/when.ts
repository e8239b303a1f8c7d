/** `tepal when`: the hours at a site against a forecast, and windows for wanted pictures. */
import {
  LANDFORM_KINDS,
  SHELTER_WORDS,
  USUAL_PLANT,
  WIND_PROFILES,
  whenDocument,
  type LandformKind,
  type ShelterWord,
  type WindProfile,
} from '@tepal/advice';
import { readForecast, type Forecast, type WhenDocument } from '@tepal/formats';
import { list } from '@tepal/notebook';
import type { Command } from 'commander';
import { readFile } from 'node:fs/promises';
import { DeskFault, reasonOf } from '../files/faults.ts';
import { readNotebook } from '../library/notebook-file.ts';
import { plantPlaceOf, wantedAt } from '../library/plant-place.ts';
import { asInstantMs, asNumber, oneOf } from './options.ts';
import { printJson, table, terminal } from './print.ts';

interface Options {
  readonly lat?: number;
  readonly lon?: number;
  readonly altitude?: number;
  readonly forecast: string;
  readonly heightAboveGround?: number;
  readonly vegetationHeight?: number;
  readonly profile?: WindProfile;
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

export function addWhen(program: Command): void {
  program
    .command('when')
    .description('hours at a site against a forecast; windows for wanted pictures')
    .option('--lat <degrees>', 'latitude, north positive', asNumber)
    .option('--lon <degrees>', 'longitude, east positive', asNumber)
    .option('--altitude <m>', 'above sea level', asNumber)
    .requiredOption('--forecast <file>', 'a forecast as JSON (Locationforecast)')
    .option('--height-above-ground <m>', 'height of the flower', asNumber)
    .option('--vegetation-height <m>', 'height of the stand around it', asNumber)
    .option('--profile <how>', 'direct or two-step', oneOf(WIND_PROFILES))
    .option('--landform <kind>', LANDFORM_KINDS.join(', '), oneOf(LANDFORM_KINDS))
    .option('--landform-height <m>', 'from foot to top', asNumber)
    .option('--landform-half-length <m>', 'from the top to where the ground is half as high', asNumber)
    .option('--shelter <word>', SHELTER_WORDS.join(', '), oneOf(SHELTER_WORDS))
    .option('--from <time>', 'ISO 8601 with offset', asInstantMs)
    .option('--to <time>', 'ISO 8601 with offset', asInstantMs)
    .option('--notebook <file>', 'notebook with the site and the wanted pictures')
    .option('--site <id>', 'site of the notebook')
    .option('--wanted <id>', 'one wanted picture of the notebook')
    .option('--json', 'one JSON document')
    .action(async (options: Options) => {
      const forecast = await forecastFrom(options.forecast);
      const document = await answer(options, forecast);
      if (options.json) printJson(document);
      else terminal.out(readable(document));
    });
}

/** @throws DeskFault with status 3 when it cannot be read, its warnings told on standard error */
export async function forecastFrom(path: string): Promise<Forecast> {
  let bytes: Buffer;
  try {
    bytes = await readFile(path);
  } catch (error) {
    throw new DeskFault(`The forecast ${path} cannot be read: ${reasonOf(error)}.`, 3);
  }
  const read = readForecast(bytes);
  if (!read.ok) throw new DeskFault(`The forecast ${path} cannot be used. ${read.fault.message}`, 3);
  for (const warning of read.warnings) process.stderr.write(`${path}: ${warning}\n`);
  return read.value;
}

async function answer(options: Options, forecast: Forecast): Promise<WhenDocument> {
  const common = { forecast, nowMs: Date.now(), fromMs: options.from ?? null, toMs: options.to ?? null };
  if (options.notebook !== undefined) {
    const { notebook } = await readNotebook(options.notebook, { create: false });
    const sites = list(notebook, 'site');
    const site = sites.find(({ id }) => id === options.site);
    if (site === undefined) {
      const known = sites.map(({ id }) => id).join(', ');
      throw new DeskFault(
        `expected --site to be one of the notebook's (${known === '' ? 'it has none' : known}) but received ${options.site ?? 'nothing'}.`,
      );
    }
    const wanted = wantedAt(notebook, site.id).filter(
      ({ id }) => options.wanted === undefined || id === options.wanted,
    );
    if (options.wanted !== undefined && wanted.length === 0) {
      throw new DeskFault(`The notebook has no wanted picture ${options.wanted} for the site ${site.id}.`);
    }
    const place = { ...plantPlaceOf(notebook, site, forecast), ...given(options) };
    return whenDocument({ ...common, place, siteId: site.id, wanted });
  }
  const { lat, lon } = options;
  if (lat === undefined || lon === undefined) {
    throw new DeskFault('Where? Give --lat and --lon in degrees, or --notebook and --site.');
  }
  const place = {
    ...USUAL_PLANT,
    latitudeDeg: lat,
    longitudeDeg: lon,
    altitudeM: options.altitude ?? forecast.altitudeM ?? 0,
    ...given(options),
  };
  return whenDocument({ ...common, place, siteId: 'here', wanted: [] });
}

/** Size of a landform that is named without one [m]: a low ridge. */
const USUAL_LANDFORM = { heightM: 20, halfLengthM: 100 };

function given(options: Options) {
  const { landform, landformHeight, landformHalfLength } = options;
  return {
    ...(options.altitude === undefined ? {} : { altitudeM: options.altitude }),
    ...(options.heightAboveGround === undefined ? {} : { plantHeightM: options.heightAboveGround }),
    ...(options.vegetationHeight === undefined ? {} : { vegetationHeightM: options.vegetationHeight }),
    ...(options.profile === undefined ? {} : { profile: options.profile }),
    ...(options.shelter === undefined ? {} : { shelter: options.shelter }),
    ...(landform === undefined
      ? {}
      : {
          landform: {
            kind: landform,
            heightM: landformHeight ?? (landform === 'flat' ? 0 : USUAL_LANDFORM.heightM),
            halfLengthM: landformHalfLength ?? USUAL_LANDFORM.halfLengthM,
          },
        }),
  };
}

function readable({ hours, windows, misses, cautions, forecast }: WhenDocument): string {
  const told = (value: number | null, digits = 0) => (value === null ? '–' : value.toFixed(digits));
  const rows = hours.map((hour) => [
    hour.time.slice(0, 16).replace('T', ' '),
    told(hour.sun.altitudeDeg),
    told(hour.light.illuminanceLux),
    told(hour.wind.atPlantMs, 1),
    told(hour.air.temperatureC, 1),
    hour.missing.length === 0 ? '' : `without ${hour.missing.join(', ')}`,
  ]);
  return [
    `Forecast: ${forecast.source}${forecast.ageH === null ? '' : `, ${forecast.ageH.toFixed(0)} h old`}`,
    table(['time', 'sun °', 'light lx', 'wind at plant m/s', 'air °C', ''], rows),
    ...windows.map((window) => `${window.wanted}: ${window.from} to ${window.to}`),
    ...misses.map((miss) => `${miss.wanted}: no good hour; ${miss.failing}: ${miss.why}`),
    ...cautions,
  ].join('\n');
}
