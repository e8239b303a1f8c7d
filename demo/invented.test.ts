import { readFileSync, readdirSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import exifr from 'exifr';
import { describe, expect, it } from 'vitest';
import { parseInstantMs, readForecast } from '@tepal/formats';
import { list, openNotebook } from '@tepal/notebook';
import { inventedForecast } from './make-forecast.ts';
import { inventedNotebook } from './make-notebook.ts';
import { LONG_MEAD } from './place.ts';
import { DAY, FOCUS, REPEATS } from './scenes.ts';

const here = (path: string) => fileURLToPath(new URL(path, import.meta.url));

const manifest = JSON.parse(readFileSync(here('outing.json'), 'utf8')) as Record<
  'frames' | 'notebook' | 'forecast' | 'siteId' | 'outingId',
  string
>;

async function notebook() {
  // Making one starts Automerge; the notebook looked at is the one that is committed.
  await inventedNotebook();
  const opened = openNotebook(readFileSync(here(manifest.notebook)));
  if (!opened.ok) throw new Error('the invented notebook does not open');
  return opened.value;
}

function forecast() {
  const read = readForecast(readFileSync(here(manifest.forecast)));
  if (!read.ok) throw new Error('the invented forecast does not read');
  return read;
}

const frames = readdirSync(here(manifest.frames)).filter((file) => file.endsWith('.JPG'));

async function tagsOf(file: string): Promise<Record<string, unknown>> {
  const bytes = readFileSync(`${here(manifest.frames)}/${file}`);
  const tags: unknown = await exifr.parse(bytes, { tiff: true, exif: true, gps: true, reviveValues: false });
  return tags as Record<string, unknown>;
}

describe('the invented outing', () => {
  it('has every frame of its scenes, taken within the outing, and says of each that it is invented', async () => {
    const [outing] = list(await notebook(), 'outing');
    const startedMs = parseInstantMs(outing?.startedAt ?? '') ?? NaN;
    const endedMs = parseInstantMs(outing?.endedAt ?? '') ?? NaN;
    const meant = REPEATS.reduce<number>((sum, scene) => sum + scene.frames.length, FOCUS.focusAt.length);
    expect(frames).toHaveLength(meant);
    for (const file of frames) {
      const tags = await tagsOf(file);
      const [date, time] = String(tags['DateTimeOriginal']).split(' ');
      const takenMs = parseInstantMs(
        `${String(date).replaceAll(':', '-')}T${String(time)}${String(tags['OffsetTimeOriginal'])}`,
      );
      expect(takenMs).toBeGreaterThanOrEqual(startedMs);
      expect(takenMs).toBeLessThanOrEqual(endedMs);
      expect(tags['Artist']).toBe('invented');
      expect(tags['ImageDescription']).toMatch(/^Invented frame, made from a photograph of /);
      expect(tags['Copyright']).not.toBe('');
      expect(Number(tags['ExposureTime'])).toBeGreaterThan(0);
      expect(Object.keys(tags).filter((key) => /^GPS|latitude|longitude/i.test(key))).toEqual([]);
    }
  });

  it('has records, set-ups and wanted pictures that name its own subjects, site and outing', async () => {
    const kept = await notebook();
    const ids = (kind: 'subject' | 'site' | 'outing' | 'kit' | 'wantedPicture') =>
      list(kept, kind).map(({ id }) => id);
    expect(ids('subject')).toHaveLength(3);
    expect(ids('wantedPicture')).toHaveLength(3);
    expect(ids('site')).toEqual([manifest.siteId]);
    expect(ids('outing')).toEqual([manifest.outingId]);
    for (const record of list(kept, 'record')) {
      expect(ids('subject')).toContain(record.subjectId);
      expect(record).toMatchObject({ siteId: manifest.siteId, outingId: manifest.outingId, eventDate: DAY });
      expect(record.remarks).toMatch(/invented/i);
    }
    for (const setUp of list(kept, 'setUp')) {
      expect(setUp.outingId).toBe(manifest.outingId);
      expect(ids('kit')).toEqual(expect.arrayContaining([setUp.cameraId, setUp.lensId]));
      if (setUp.wantedPictureId !== null) expect(ids('wantedPicture')).toContain(setUp.wantedPictureId);
    }
    for (const wanted of list(kept, 'wantedPicture')) expect(ids('subject')).toContain(wanted.subjectId);
  });

  it('lies in open sea, in the notebook as in the forecast', async () => {
    const [site] = list(await notebook(), 'site');
    const { value } = forecast();
    // The box lies in the Celtic Sea, west of Ushant and Scilly and south of Ireland (from memory).
    for (const { latitudeDeg, longitudeDeg } of [
      site?.position ?? { latitudeDeg: 0, longitudeDeg: 0 },
      value,
    ]) {
      expect(latitudeDeg).toBe(LONG_MEAD.latitudeDeg);
      expect(longitudeDeg).toBe(LONG_MEAD.longitudeDeg);
      expect(latitudeDeg > 49 && latitudeDeg < 50.5 && longitudeDeg > -9.5 && longitudeDeg < -7.5).toBe(true);
    }
    expect(site?.name).toContain('invented');
  });

  it('has a forecast that reads without a fault, covers the outing, and credits nobody for it', async () => {
    const { value, warnings } = forecast();
    expect(warnings).toEqual([]);
    expect(value.credit).toMatch(/invented/i);
    expect(value.source).toMatch(/invented/i);
    const [outing] = list(await notebook(), 'outing');
    const times = value.instants.map(({ timeMs }) => timeMs);
    expect(times[0]).toBeLessThan(parseInstantMs(outing?.startedAt ?? '') ?? NaN);
    expect(times.at(-1)).toBeGreaterThan(parseInstantMs(outing?.endedAt ?? '') ?? NaN);
    expect((times.at(-1)! - times[0]!) / 86_400_000).toBe(10);
    for (const instant of value.instants) {
      expect(instant.dewPointC).toBeLessThanOrEqual(instant.airTemperatureC ?? NaN);
      expect(instant.windGustMs).toBeGreaterThanOrEqual(instant.windSpeedMs ?? NaN);
    }
  });

  it('is what its makers make', async () => {
    expect(JSON.parse(readFileSync(here(manifest.forecast), 'utf8'))).toEqual(inventedForecast());
    const made = await inventedNotebook();
    const committed = await notebook();
    for (const kind of ['site', 'subject', 'wantedPicture', 'kit', 'outing', 'setUp', 'record'] as const) {
      expect(list(committed, kind)).toEqual(list(made, kind));
    }
  });
});
