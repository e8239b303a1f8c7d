// The engine over HTTP, from its sources: what it does with frames, decisions and jobs, and whom it refuses.
import { cpSync, mkdirSync, mkdtempSync, readFileSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { FolderListing, FramesAnswer, Job, LibraryFrame, LibrarySeries } from '@tepal/formats';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { buildEngine } from './engine.ts';

const invented = fileURLToPath(new URL('../../../../demo/invented/frames', import.meta.url));
const ours = { 'x-tepal': '1' };

let place: string;
let card: string;
let built: Awaited<ReturnType<typeof buildEngine>>;

beforeAll(async () => {
  place = mkdtempSync(join(tmpdir(), 'tepal-engine-'));
  card = join(place, 'card');
  mkdirSync(card);
  const names = readdirSync(invented).filter((name) => /\.jpg$/i.test(name));
  for (const name of names.slice(0, 4)) cpSync(join(invented, name), join(card, name));
  writeFileSync(join(card, 'cut.jpg'), readFileSync(join(card, names[0]!)).subarray(0, 40_000));
  built = await buildEngine({ folder: join(place, 'library'), version: 'test' });
}, 60_000);

afterAll(async () => {
  await built.close();
  rmSync(place, { recursive: true, force: true });
});

interface Asked {
  readonly url: string;
  readonly method?: 'GET' | 'PUT' | 'POST' | 'DELETE';
  readonly headers?: Readonly<Record<string, string>>;
  readonly body?: object | string;
}

async function ask({ url, method = 'GET', headers = {}, body }: Asked) {
  const answer = await built.server.inject({
    url,
    method,
    headers: { ...ours, ...headers },
    ...(body === undefined ? {} : { payload: body }),
  });
  return { status: answer.statusCode, headers: answer.headers, bytes: answer.rawPayload, text: answer.body };
}

async function answer<T>(asked: Asked): Promise<T> {
  const { status, text } = await ask(asked);
  expect(status, text).toBe(200);
  return JSON.parse(text) as T;
}

async function ended(id: string): Promise<Job> {
  for (;;) {
    const job = await answer<Job>({ url: `/api/jobs/${id}` });
    if (job.state !== 'running' && job.state !== 'waiting') return job;
    await new Promise((resolve) => setTimeout(resolve, 20));
  }
}

const frames = () => answer<FramesAnswer>({ url: '/api/mine/frames' });

async function measured(): Promise<Job> {
  const job = await answer<Job>({ url: '/api/mine/measure', method: 'POST', body: { path: card } });
  return ended(job.id);
}

describe('whom the engine refuses', () => {
  it.each([
    ['a host name that was made to point here', { url: '/api/state', headers: { host: 'meadow.example' } }],
    ['another site', { url: '/api/state', headers: { origin: 'http://elsewhere.example' } }],
    ['a picture tag on another site', { url: '/api/state', headers: { 'sec-fetch-site': 'cross-site' } }],
    [
      'a write that a foreign form could send',
      { url: '/api/mine/measure', method: 'POST', headers: { 'x-tepal': '' }, body: {} },
    ],
  ] satisfies [string, Asked][])('%s: 403 and a sentence', async (_who, asked) => {
    const { status, text } = await ask(asked);
    expect(status).toBe(403);
    expect((JSON.parse(text) as { message: string }).message).toMatch(/\.$/);
  });

  it.each(['/../package.json', '/%2e%2e/%2e%2e/package.json', '/..%2f..%2fpackage.json'])(
    'gives no file outside the pages for %s',
    async (url) => {
      const { text } = await ask({ url });
      expect(text).not.toContain('"workspaces"');
      expect(text).not.toContain('"dependencies"');
    },
  );

  it.each([
    ['a store that is not there', { url: '/api/yours/frames' }, 404],
    ['a folder that is not there', post('/api/mine/measure', { path: '/nowhere/at/all' }), 404],
    ['a part of a path', post('/api/mine/measure', { path: 'card' }), 400],
    ['no path', post('/api/mine/measure', {}), 400],
    ['a list for a body', post('/api/mine/measure', []), 400],
    ['a foreign folder for the invented outing', post('/api/invented/measure', { path: '/' }), 403],
    ['a frame that is not there', { url: '/api/mine/frames/none/crop.jpg?x=0&y=0&width=9&height=9' }, 404],
    ['a job that is not there', { url: '/api/jobs/none' }, 404],
    ['the records of the invented outing', { url: '/api/invented/records/archive.zip' }, 403],
  ] satisfies [string, Asked, number][])('%s: a sentence and no stack', async (_what, asked, status) => {
    const refused = await ask(asked);
    expect(refused.status).toBe(status);
    const { message } = JSON.parse(refused.text) as { message: string };
    expect(message).toMatch(/\.$/);
    expect(message).not.toMatch(/\bat .*:\d+/);
  });

  it('lets a page use shared memory, and nothing from elsewhere', async () => {
    const { headers } = await ask({ url: '/' });
    expect(headers['cross-origin-opener-policy']).toBe('same-origin');
    expect(headers['cross-origin-embedder-policy']).toBe('require-corp');
    expect(headers['content-security-policy']).toContain("default-src 'self'");
  });
});

describe('a folder of photographs', () => {
  it('lists folders with the number of photographs in them', async () => {
    const listing = await answer<FolderListing>({ url: `/api/folders?path=${encodeURIComponent(place)}` });
    expect(listing.folders.map(({ name }) => name)).toContain('card');
    expect(listing.photographsHere).toBe(0);
    expect(listing.photographsBelow).toBeGreaterThanOrEqual(5);
  });

  it('measures the good frames, names the bad one, and writes to neither', async () => {
    const before = readdirSync(card).map((name) => readFileSync(join(card, name)).length);
    const job = await measured();
    expect(job).toMatchObject({ state: 'done', kind: 'measure' });
    expect(job.failed.map(({ file }) => file)).toEqual(['cut.jpg']);
    const shown = await frames();
    expect(shown.frames).toHaveLength(4);
    expect(shown.series.flatMap(({ frameIds }) => frameIds)).toHaveLength(4);
    expect(shown.failed.map(({ file }) => file)).toEqual(['cut.jpg']);
    expect(readdirSync(card).map((name) => readFileSync(join(card, name)).length)).toEqual(before);
  }, 60_000);

  it('gives a crop of the asked size, at the edge of the frame too, and the next one within 100 ms', async () => {
    const { frames: all } = await frames();
    const crop = (id: string, x: number, y: number) =>
      ask({ url: `/api/mine/frames/${encodeURIComponent(id)}/crop.jpg?x=${x}&y=${y}&width=300&height=200` });
    await crop(all[0]!.id, 0.5, 0.5);
    const started = performance.now();
    const { status, bytes } = await crop(all[0]!.id, 1, 1);
    const tookMs = performance.now() - started;
    expect(status).toBe(200);
    expect(await sharp(bytes).metadata()).toMatchObject({ format: 'jpeg', width: 300, height: 200 });
    expect(tookMs).toBeLessThan(100);
  });

  it.each([
    'x=2&y=0&width=9&height=9',
    'x=0&y=0&width=0&height=9',
    'x=0&y=0&width=9',
    'x=&y=0&width=9&height=1e9',
  ])('refuses a crop of %s', async (query) => {
    const { frames: all } = await frames();
    const { status } = await ask({
      url: `/api/mine/frames/${encodeURIComponent(all[0]!.id)}/crop.jpg?${query}`,
    });
    expect(status).toBe(400);
  });

  it('keeps a decision through a new measuring, takes it back, and refuses other words', async () => {
    const id = (await frames()).frames[1]!.id;
    const url = `/api/mine/frames/${encodeURIComponent(id)}/decision`;
    const decide = (decision: string | null) => ({ url, method: 'PUT', body: { decision } }) satisfies Asked;
    expect((await answer<LibraryFrame>(decide('maybe'))).decision).toBe('maybe');
    await measured();
    expect((await frames()).frames.find((frame) => frame.id === id)?.decision).toBe('maybe');
    expect((await ask(decide('perhaps'))).status).toBe(400);
    expect((await answer<LibraryFrame>(decide(null))).decision).toBeNull();
  }, 60_000);

  it('measures a series again at a marked point, and carries the mark to its other frames', async () => {
    const { series } = await frames();
    const longest = series.reduce((a, b) => (b.frameIds.length > a.frameIds.length ? b : a));
    expect(longest.frameIds.length).toBeGreaterThan(1);
    const marked = longest.frameIds[0]!;
    const job = await answer<Job>({
      url: `/api/mine/series/${encodeURIComponent(longest.id)}/point`,
      method: 'PUT',
      body: { frameId: marked, x: 0.4, y: 0.45 },
    });
    expect((await ended(job.id)).state).toBe('done');
    const points = new Map((await frames()).frames.map(({ id, point }) => [id, point]));
    expect(points.get(marked)).toMatchObject({ x: 0.4, y: 0.45, origin: 'marked' });
    for (const id of longest.frameIds.slice(1)) {
      expect(points.get(id)?.origin).toBe('carried');
      // The frames of one series drift, yet by less than a tenth of the frame.
      expect(Math.hypot(points.get(id)!.x - 0.4, points.get(id)!.y - 0.45)).toBeLessThan(0.1);
    }
  }, 60_000);

  it('names series by their day and number until they are named', async () => {
    expect((await frames()).series.map(({ name }) => name)).toEqual(['11 June, no. 1']);
  });

  it('keeps the name of a series', async () => {
    const { series } = await frames();
    const url = `/api/mine/series/${encodeURIComponent(series[0]!.id)}/name`;
    const named = await answer<LibrarySeries>({ url, method: 'PUT', body: { name: ' By the ditch ' } });
    expect(named.name).toBe('By the ditch');
    expect((await frames()).series[0]!.name).toBe('By the ditch');
  });
});

describe('several folders', () => {
  it('shows the one measured last, and goes back to an earlier one without measuring again', async () => {
    const before = await frames();
    const second = join(place, 'second');
    mkdirSync(second);
    cpSync(join(card, before.frames[0]!.file), join(second, 'other.jpg'));
    const job = await answer<Job>({ url: '/api/mine/measure', method: 'POST', body: { path: second } });
    await ended(job.id);
    const now = await frames();
    expect(now.frames.map(({ file }) => file)).toEqual(['other.jpg']);
    expect(now.folders.map(({ path }) => path)).toEqual([second, card]);
    const back = await answer<FramesAnswer>({ url: '/api/mine/folder', method: 'PUT', body: { path: card } });
    expect(back.frames).toEqual(before.frames);
    expect(back.series).toEqual(before.series);
    expect((await ask({ url: '/api/mine/folder', method: 'PUT', body: { path: place } })).status).toBe(404);
  }, 60_000);
});

describe('long work', () => {
  it('is cancelled when asked, and the library stays as it was', async () => {
    const before = (await frames()).frames.map(({ id }) => id);
    const job = await answer<Job>({ url: '/api/mine/measure', method: 'POST', body: { path: card } });
    await answer<Job>({ url: `/api/jobs/${job.id}`, method: 'DELETE' });
    expect((await ended(job.id)).state).toBe('cancelled');
    expect((await frames()).frames.map(({ id }) => id)).toEqual(before);
  }, 60_000);

  it('tells its end to a page that comes late', async () => {
    const job = await measured();
    const { text, headers } = await ask({ url: `/api/jobs/${job.id}/events` });
    expect(headers['content-type']).toContain('text/event-stream');
    const last = text.trim().split('\n\n').at(-1)!.replace('data: ', '');
    expect(JSON.parse(last)).toMatchObject({ id: job.id, state: 'done' });
  }, 60_000);
});

function post(url: string, body: object): Asked {
  return { url, method: 'POST', body };
}
