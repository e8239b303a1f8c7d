/** `tepal when`: the hours at a site against a forecast, and windows for wanted pictures. */
import {
  ANY_CLOSE_UP,
  calendarEvents,
  freeDuring,
  LANDFORM_KINDS,
  OPENING_HABITS,
  plantPlaceUnder,
  reportInWords,
  SHELTER_WORDS,
  wantedHoursAt,
  whenDocument,
  WIND_PROFILES,
  type LandformKind,
  type OpeningHabit,
  type ShelterWord,
  type WantedHours,
  type WhenAnswer,
  type WhenRequest,
  type WindProfile,
} from '@tepal/advice';
import { readForecast, readMetar, writeCalendar, type Forecast } from '@tepal/formats';
import { find, keptLists, list, privateWords, type Notebook } from '@tepal/notebook';
import type { Command } from 'commander';
import { readFile } from 'node:fs/promises';
import { DeskFault, exitStatus, reasonOf } from '../files/faults.ts';
import { checkOutput, writeWhole } from '../files/write.ts';
import { readNotebook } from '../library/notebook-file.ts';
import { learnedWindAt } from './exposure/learned.ts';
import { asInstantMs, asNumber, oneOf } from './options.ts';
import { printJson, terminal } from './print.ts';
import { asHorizon, placeFromOptions, placeGiven, type PlaceOptions } from './when/place.ts';
import { readableWhen } from './when/words.ts';

interface Options extends PlaceOptions {
  readonly forecast: string;
  readonly light?: WantedHours['light'];
  readonly stillness?: WantedHours['stillness'];
  readonly drops?: WantedHours['drops'];
  readonly insects?: 'torpid' | 'basking' | 'any';
  readonly opens?: OpeningHabit;
  readonly from?: number;
  readonly to?: number;
  readonly notebook?: string;
  readonly site?: string;
  readonly wanted?: string;
  readonly calendar?: string;
  readonly report?: string;
  readonly replace?: boolean;
  readonly json?: boolean;
}

export function addWhen(program: Command): void {
  program
    .command('when')
    .description('hours at a site against a forecast; windows for wanted pictures')
    .option('--lat <degrees>', 'latitude, north positive', asNumber)
    .option('--lon <degrees>', 'longitude, east positive', asNumber)
    .option('--altitude <m>', 'above sea level', asNumber)
    .requiredOption('--forecast <file>', 'a forecast file')
    .option('--height-above-ground <m>', 'height of the flower', asNumber)
    .option('--vegetation-height <m>', 'height of the stand around it', asNumber)
    .option('--profile <how>', 'direct or two-step', oneOf<WindProfile>(WIND_PROFILES))
    .option('--landform <kind>', LANDFORM_KINDS.join(', '), oneOf<LandformKind>(LANDFORM_KINDS))
    .option('--landform-height <m>', 'from foot to top', asNumber)
    .option('--landform-half-length <m>', 'from the top to where the ground is half as high', asNumber)
    .option('--landform-bearing <degrees>', 'straight across it, upslope, from north', asNumber)
    .option('--shelter <word>', SHELTER_WORDS.join(', '), oneOf<ShelterWord>(SHELTER_WORDS))
    .option('--hedge-bearing <degrees>', 'a hedge or wall lies in this direction, from north', asNumber)
    .option('--hedge-height <m>', 'its height', asNumber)
    .option('--hedge-distance <m>', 'from the flower straight to it', asNumber)
    .option('--hedge-gaps <share>', 'share of gaps in it, 0 to 1', asNumber)
    .option('--hedge-half-length <m>', 'from there to its nearer end; long where left out', asNumber)
    .option('--slope <degrees>', 'steepness of the ground', asNumber)
    .option('--aspect <degrees>', 'where it falls to, from north', asNumber)
    .option('--horizon <points>', 'azimuth:altitude in degrees, such as 90:12,180:5', asHorizon)
    .option('--light <word>', 'a picture wanted in soft, any, sun', oneOf(['soft', 'any', 'sun'] as const))
    .option(
      '--stillness <word>',
      'at most still, stirring, nodding',
      oneOf(['still', 'stirring', 'nodding'] as const),
    )
    .option('--drops <word>', 'wanted, none, any', oneOf(['wanted', 'none', 'any'] as const))
    .option('--insects <word>', 'torpid, basking, any', oneOf(['torpid', 'basking', 'any'] as const))
    .option('--opens <habit>', OPENING_HABITS.join(', '), oneOf(OPENING_HABITS))
    .option('--from <time>', 'ISO 8601 with offset', asInstantMs)
    .option('--to <time>', 'ISO 8601 with offset', asInstantMs)
    .option('--notebook <file>', 'notebook with the site and the wanted pictures')
    .option('--site <id>', 'site of the notebook')
    .option('--wanted <id>', 'one wanted picture of the notebook')
    .option('--calendar <file>', 'write the windows as iCalendar, without any place')
    .option('--report <metar>', "an airfield's report (METAR) to hold the forecast against")
    .option('--replace', 'replace a calendar file that is there')
    .option('--json', 'one JSON document')
    .action(async (options: Options) => {
      const replace = options.replace ?? false;
      if (options.calendar !== undefined) await checkOutput(options.calendar, { replace });
      const forecast = await forecastFrom(options.forecast);
      const nowMs = Date.now();
      const notebook =
        options.notebook === undefined
          ? null
          : (await readNotebook(options.notebook, { create: false })).notebook;
      const report = options.report === undefined ? [] : reportWords(options.report, forecast, nowMs);
      const found = whenDocument({
        ...{ forecast, nowMs, fromMs: options.from ?? null, toMs: options.to ?? null },
        ...(notebook === null ? asked(options, forecast) : kept(options, forecast, notebook, nowMs)),
      });
      const document = { ...found, notes: [...report, ...found.notes] };
      if (options.calendar !== undefined) {
        const file = calendarOf(document, notebook, nowMs);
        await writeWhole(options.calendar, Buffer.from(file), { replace });
      }
      const failed = forecast.faults.map(({ message }) => ({ file: options.forecast, reason: message }));
      if (options.json) printJson({ ...document, failed });
      else terminal.out([...report, readableWhen(document)].join('\n'));
      process.exitCode = failed.length > 0 ? exitStatus.someFailed : exitStatus.done;
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

/** @throws DeskFault (wrong use) when the text is no report */
function reportWords(text: string, forecast: Forecast, nowMs: number): readonly string[] {
  const report = readMetar(text, nowMs);
  if (!report.ok) throw new DeskFault(`--report: ${report.fault.message}`);
  return reportInWords(report.value, forecast);
}

type Asked = Pick<WhenRequest, 'place' | 'siteId' | 'wanted' | 'free'>;

/** What the options alone ask. */
function asked(options: Options, forecast: Forecast): Asked {
  if (options.site !== undefined || options.wanted !== undefined) {
    throw new DeskFault('--site and --wanted name things of a notebook: give --notebook too.');
  }
  return { place: placeFromOptions(options, forecast), siteId: 'here', wanted: wantedOfOptions(options) };
}

/** A picture wanted by the options alone; none where none of them asks for anything. */
function wantedOfOptions({ light, stillness, drops, insects, opens }: Options): WantedHours[] {
  const words = [light, stillness, drops, insects, opens];
  if (words.every((word) => word === undefined)) return [];
  return [
    {
      ...ANY_CLOSE_UP,
      id: 'asked',
      light: light ?? 'any',
      stillness: stillness ?? ANY_CLOSE_UP.stillness,
      drops: drops ?? 'any',
      insects: insects ?? null,
      opens: opens ?? null,
    },
  ];
}

/** What the notebook asks, with the options' place over the site's. */
function kept(options: Options, forecast: Forecast, notebook: Notebook, nowMs: number): Asked {
  const sites = list(notebook, 'site');
  const site = sites.find(({ id }) => id === options.site);
  if (site === undefined) {
    const known = sites.map(({ id }) => id).join(', ');
    throw new DeskFault(
      `expected --site to be one of the notebook's (${known === '' ? 'it has none' : known}) but received ${options.site ?? 'nothing'}.`,
    );
  }
  const kept = keptLists(notebook);
  const wanted = wantedHoursAt(site, kept, { nowMs }).filter(
    ({ id }) => options.wanted === undefined || id === options.wanted,
  );
  if (options.wanted !== undefined && wanted.length === 0) {
    throw new DeskFault(`The notebook has no wanted picture ${options.wanted} for the site ${site.id}.`);
  }
  return {
    place: {
      ...plantPlaceUnder(site, kept, forecast),
      learnedWind: learnedWindAt(notebook, site.id),
      ...placeGiven(options),
    },
    siteId: site.id,
    wanted: [...wanted, ...wantedOfOptions(options)],
    free: freeDuring(kept.freeHours, forecast),
  };
}

function calendarOf({ windows }: WhenAnswer, notebook: Notebook | null, nowMs: number): string {
  const pictures =
    notebook === null
      ? []
      : list(notebook, 'wantedPicture').map(({ id, title, light, drops, subjectId }) => {
          const sensitivity = find(notebook, 'subject', subjectId)?.sensitivity ?? null;
          return { id, title, light, drops, sensitivity };
        });
  const secrets = notebook === null ? [] : privateWords(notebook);
  return writeCalendar(calendarEvents(windows, pictures, secrets), { madeAtMs: nowMs, zone: null });
}
