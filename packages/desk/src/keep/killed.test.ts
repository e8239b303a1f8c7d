// Killed while writing: notebook and library reopen, and hold everything whose writing was done.
import { list, unreadable } from '@tepal/notebook';
import { build } from 'esbuild';
import { spawn } from 'node:child_process';
import { mkdirSync, mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { openLibrary } from '../library/library.ts';
import { readNotebook } from '../library/notebook-file.ts';

/** Kills; TEPAL_KILLS=500 is the whole trial. */
const KILLS = Number(process.env['TEPAL_KILLS'] ?? 6);
/** A folder takes so many kills, then a new one is begun. */
const KILLS_A_FOLDER = 25;

const source = fileURLToPath(new URL('../../fixtures/write-until-killed.ts', import.meta.url));
// Inside the checkout, so that what npm brings is found.
const place = fileURLToPath(new URL('../../../../.cache/killed/', import.meta.url));
const script = join(place, 'write-until-killed.mjs');
let folder: string;

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'tepal-killed-'));
  mkdirSync(place, { recursive: true });
  const rooms = ['science', 'formats', 'imaging', 'notebook', 'advice'];
  await build({
    entryPoints: [source],
    outfile: script,
    ...{ bundle: true, format: 'esm', platform: 'node', packages: 'external', logLevel: 'silent' },
    alias: Object.fromEntries(
      rooms.map((name) => [
        `@tepal/${name}`,
        fileURLToPath(new URL(`../../../${name}/src/index.ts`, import.meta.url)),
      ]),
    ),
  });
}, 60_000);

afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
  rmSync(place, { recursive: true, force: true });
});

/** Starts a writer, kills it some time after its first entry, and gives the entries that it said were done. */
async function writeAndKill(into: string, delayMs: number): Promise<readonly number[]> {
  const child = spawn(process.execPath, [script, into], { stdio: ['ignore', 'pipe', 'pipe'] });
  let said = '';
  let complaint = '';
  child.stderr.on('data', (chunk: Buffer) => (complaint += chunk.toString()));
  const ended = new Promise<void>((resolve) => child.on('close', () => resolve()));
  const begun = new Promise<void>((resolve) => {
    child.stdout.on('data', (chunk: Buffer) => {
      said += chunk.toString();
      resolve();
    });
    void ended.then(resolve);
  });
  await begun;
  await wait(delayMs);
  child.kill('SIGKILL');
  await ended;
  expect(complaint).toBe('');
  return said.split('\n').slice(0, -1).map(Number);
}

it('reopens with everything that was written, wherever it was killed', async () => {
  let random = 20261125;
  let done: number[] = [];
  for (let kill = 0; kill < KILLS; kill++) {
    const into = join(folder, String(Math.floor(kill / KILLS_A_FOLDER)));
    random = (Math.imul(random, 1664525) + 1013904223) >>> 0;
    if (kill % KILLS_A_FOLDER === 0) done = [];
    done.push(...(await writeAndKill(into, (random / 2 ** 32) * 60)));
    const { notebook } = await readNotebook(join(into, 'notebook.automerge'), { create: false });
    const ids = list(notebook, 'freeHours').map(({ id }) => id);
    expect(unreadable(notebook)).toEqual([]);
    expect(ids.length % 2).toBe(0);
    for (const entry of done) expect(ids).toContain(`b${String(entry).padStart(6, '0')}`);
    const library = openLibrary(into);
    const decided = library.decisions();
    for (const entry of done) expect(decided.get(`frame ${entry}`)).toBe('keep');
    library.close();
    expect(readdirSync(into)).toContain('notebook.automerge');
  }
}, 3_600_000);
