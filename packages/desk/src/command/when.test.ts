import { createNotebook, change, saveNotebook } from '@tepal/notebook';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, afterEach, beforeAll, describe, expect, it, vi } from 'vitest';
import { readyNotebooks } from '../library/notebook-file.ts';
import { run } from './program.ts';

/** A day of the recorded forecast for London, 20 July 2020; see the fixtures' README. */
const recorded = fileURLToPath(
  new URL('../../../formats/fixtures/forecast/lat51.5lon-0.1altitude25_complete.json', import.meta.url),
);

interface Recorded {
  readonly properties: {
    timeseries: {
      readonly time: string;
      readonly data: { readonly instant: { details: Record<string, number> } };
    }[];
  };
}

let folder: string;
const file = (name: string) => join(folder, name);

function fresh(): Recorded {
  const document = JSON.parse(readFileSync(recorded, 'utf8')) as { data: Recorded };
  return document.data;
}

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'tepal-when-'));
  const whole = fresh();
  writeFileSync(file('whole.json'), JSON.stringify(whole));
  const holes = fresh();
  holes.properties.timeseries.splice(6, 4);
  writeFileSync(file('holes.json'), JSON.stringify(holes));
  const windless = fresh();
  for (const { data } of windless.properties.timeseries.slice(3, 9))
    delete data.instant.details['wind_speed'];
  writeFileSync(file('windless.json'), JSON.stringify(windless));
  await readyNotebooks();
  writeFileSync(file('notebook.automerge'), notebookBytes());
});

afterAll(() => rmSync(folder, { recursive: true, force: true }));

afterEach(() => {
  vi.restoreAllMocks();
  process.exitCode = 0;
});

/** An invented notebook: one bank, one orchid, one picture wanted of it. */
function notebookBytes(): Uint8Array {
  const note = { message: 'invented', timeMs: 0 };
  return saveNotebook(
    change(createNotebook(), note, (pen) => {
      pen.put('site', {
        id: 'bank',
        name: 'Nowhere Bank',
        region: null,
        position: {
          latitudeDeg: 51.51234,
          longitudeDeg: -0.12345,
          altitudeM: 40,
          coordinateUncertaintyM: null,
        },
        shelter: 'open',
        slopeDeg: null,
        aspectDeg: null,
        vegetationHeightM: 0.4,
        landform: null,
        access: '',
        cautions: [],
        notes: '',
      });
      pen.put('subject', {
        id: 'orchid',
        scientificName: 'Orchis mascula',
        commonNames: {},
        heightAboveGroundM: 0.3,
        sizeMm: null,
        depthMm: null,
        stem: null,
        sway: null,
        opens: 'any',
        months: [7],
        sensitivity: null,
        notes: '',
      });
      pen.put('wantedPicture', {
        id: 'w1',
        subjectId: 'orchid',
        siteId: 'bank',
        title: 'Orchid on Nowhere Bank',
        framing: '',
        magnification: null,
        light: 'soft',
        stillness: 'nodding',
        drops: 'any',
        insects: null,
        notes: '',
        closedBy: null,
      });
    }),
  );
}

async function tepal(...args: string[]) {
  const said = { out: '', error: '' };
  vi.spyOn(process.stdout, 'write').mockImplementation((text) => ((said.out += String(text)), true));
  vi.spyOn(process.stderr, 'write').mockImplementation((text) => ((said.error += String(text)), true));
  await run(['when', ...args]);
  return { ...said, status: process.exitCode };
}

interface Printed {
  readonly hours: {
    readonly time: string;
    readonly missing: string[];
    readonly wind: { atPlantMs: number | null; factors: { name: string; value: number; source: string }[] };
  }[];
  readonly windows: { wanted: string; site: string; factors: { name: string }[] }[];
  readonly misses: { wanted: string; failing: string }[];
  readonly cautions: string[];
  readonly failed: { file: string; reason: string }[];
  readonly here: { kind: string };
}

const here = ['--lat', '51.5', '--lon', '-0.1'];

describe('a forecast with missing hours', () => {
  it('is told in a sentence, listed with its reason, and ends with 4; the other hours are there', async () => {
    const { out, error, status } = await tepal(...here, '--forecast', file('holes.json'), '--json');
    const document = JSON.parse(out) as Printed;
    expect(status).toBe(4);
    expect(error).toMatch(/found nothing between 2020-07-20T16:00:00Z and 2020-07-20T21:00:00Z/);
    expect(document.failed.map((one) => one.file)).toEqual([file('holes.json')]);
    expect(document.cautions).toContain(
      'The forecast has no hours between 2020-07-20T16:00:00Z and 2020-07-20T21:00:00Z: nothing is said of them.',
    );
    expect(document.hours.length).toBe(fresh().properties.timeseries.length - 4);
  });

  it('without wind in some: those hours say so and the status is 0', async () => {
    const { out, status } = await tepal(...here, '--forecast', file('windless.json'), '--json');
    const document = JSON.parse(out) as Printed;
    expect(status).toBe(0);
    expect(document.hours[3]!.missing).toContain('windSpeedMs');
    expect(document.hours[3]!.wind.atPlantMs).toBeNull();
    expect(document.hours[2]!.missing).not.toContain('windSpeedMs');
    expect(document.cautions.join(' ')).toMatch(/Some hours lack an input: wind in 6 of \d+/);
  });
});

describe('a place by options', () => {
  it('at a crest and behind a hedge has other factors than on the level', async () => {
    const factors = async (...more: string[]) => {
      const { out } = await tepal(...here, '--forecast', file('whole.json'), '--json', ...more);
      return (JSON.parse(out) as Printed).hours
        .map(({ wind }) => wind.factors.map(({ name }) => name))
        .flat();
    };
    expect(await factors()).not.toContain('hedge');
    expect(await factors('--hedge-bearing', '270', '--hedge-height', '2')).toContain('hedge');
  });

  it('takes a wish by options, and says what is missing where it fails', async () => {
    const { out, status } = await tepal(
      ...here,
      '--forecast',
      file('whole.json'),
      '--json',
      '--drops',
      'wanted',
    );
    const document = JSON.parse(out) as Printed;
    expect(status).toBe(0);
    expect([...document.windows, ...document.misses].every(({ wanted }) => wanted === 'asked')).toBe(true);
  });

  it.each([
    [['--hedge-height', '2'], /Give --hedge-bearing/],
    [['--slope', '10'], /needs both --slope and --aspect/],
    [['--horizon', '90'], /expected azimuth:altitude in degrees/],
    [['--hedge-bearing', '400'], /for barrier.bearingDeg but received 400/],
    [['--site', 'bank'], /give --notebook too/],
  ])('%s is refused with a sentence and status 2', async (more, sentence) => {
    const { error, status } = await tepal(...here, '--forecast', file('whole.json'), ...more);
    expect(status).toBe(2);
    expect(error).toMatch(sentence);
  });

  it('for reading, tells now, what suits, and what to mind', async () => {
    const { out } = await tepal(...here, '--forecast', file('whole.json'), '--light', 'soft');
    expect(out).toMatch(/^Forecast: MET Norway Locationforecast 2.0/);
    expect(out).toContain("Local law and the site's own rules come first.");
  });
});

describe('a site of the notebook', () => {
  const kept = () => ['--notebook', file('notebook.automerge'), '--forecast', file('whole.json')];

  it('is judged for what is wanted there, its season among the factors', async () => {
    const { out, status } = await tepal(...kept(), '--site', 'bank', '--wanted', 'w1', '--json');
    const { windows } = JSON.parse(out) as Printed;
    expect(status).toBe(0);
    expect(windows.length).toBeGreaterThan(0);
    expect(windows[0]).toMatchObject({ wanted: 'w1', site: 'bank' });
    expect(windows[0]!.factors.map(({ name }) => name)).toContain('season');
  });

  it.each([
    [['--site', 'nowhere'], /expected --site to be one of the notebook's \(bank\) but received nowhere/],
    [['--site', 'bank', '--wanted', 'w9'], /has no wanted picture w9 for the site bank/],
  ])('%s is refused with status 2', async (more, sentence) => {
    const { error, status } = await tepal(...kept(), ...more);
    expect(status).toBe(2);
    expect(error).toMatch(sentence);
  });

  it('writes its windows as a calendar without any place, and overwrites nothing', async () => {
    const calendar = ['--calendar', file('windows.ics')];
    expect((await tepal(...kept(), '--site', 'bank', ...calendar)).status).toBe(0);
    const text = readFileSync(file('windows.ics'), 'utf8');
    expect(text).toContain('SUMMARY:Photographs in soft light');
    expect(text).not.toMatch(/nowhere|51\.51|orchi|LOCATION|GEO/i);
    expect((await tepal(...kept(), '--site', 'bank', ...calendar)).status).toBe(2);
    expect((await tepal(...kept(), '--site', 'bank', ...calendar, '--replace')).status).toBe(0);
  });
});
