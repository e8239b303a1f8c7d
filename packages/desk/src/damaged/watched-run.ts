/** The command line run from the sources in a process of its own, its memory and time watched. */
import { build } from 'esbuild';
import { spawn } from 'node:child_process';
import { copyFileSync, mkdirSync, readFileSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

const root = fileURLToPath(new URL('../../../..', import.meta.url));
const rooms = ['science', 'formats', 'imaging', 'notebook', 'advice'];

/** Bundles the command line and its worker; what npm brings stays outside. @returns the path of the program */
export async function bundleDesk(name: string): Promise<string> {
  // Inside the clone, so that the packages are found.
  const outdir = join(root, '.cache', name);
  mkdirSync(outdir, { recursive: true });
  await build({
    absWorkingDir: root,
    entryPoints: { tepal: 'packages/desk/src/main.ts', worker: 'packages/desk/src/worker.ts' },
    ...{ outdir, outExtension: { '.js': '.mjs' }, bundle: true, splitting: true },
    ...{ format: 'esm', platform: 'node', packages: 'external', logLevel: 'silent' },
    alias: Object.fromEntries(
      rooms.map((room) => [`@tepal/${room}`, join(root, 'packages', room, 'src/index.ts')]),
    ),
  });
  copyFileSync(join(root, 'packages/imaging/build/kernel.wasm'), join(outdir, 'kernel.wasm'));
  return join(outdir, 'tepal.mjs');
}

export interface WatchedRun {
  readonly status: number | null;
  readonly out: string;
  readonly error: string;
  /** Resident memory of the process and all below it, at its largest [bytes]; 0 where the system does not tell. */
  readonly peakBytes: number;
  readonly ms: number;
}

const LOOK_EVERY_MS = 25;

export function watchedRun(program: string, args: readonly string[]): Promise<WatchedRun> {
  const started = performance.now();
  const child = spawn(process.execPath, [program, ...args], { stdio: ['ignore', 'pipe', 'pipe'] });
  const out: Buffer[] = [];
  const error: Buffer[] = [];
  child.stdout.on('data', (part: Buffer) => out.push(part));
  child.stderr.on('data', (part: Buffer) => error.push(part));
  let peakBytes = 0;
  const timer = setInterval(() => {
    peakBytes = Math.max(peakBytes, residentBytes(child.pid ?? 0));
  }, LOOK_EVERY_MS);
  return new Promise((resolve) => {
    child.on('close', (status) => {
      clearInterval(timer);
      resolve({
        ...{ status, peakBytes, ms: performance.now() - started },
        out: Buffer.concat(out).toString('utf8'),
        error: Buffer.concat(error).toString('utf8'),
      });
    });
  });
}

const PAGE = 4096;

/** Of a process and all that it has started, from Linux's process files. */
function residentBytes(pid: number): number {
  try {
    const pages = Number(readFileSync(`/proc/${pid}/statm`, 'utf8').split(' ')[1]);
    const children = readdirSync(`/proc/${pid}/task`).flatMap((task) =>
      readFileSync(`/proc/${pid}/task/${task}/children`, 'utf8').split(' ').filter(Boolean),
    );
    return pages * PAGE + children.reduce((sum, child) => sum + residentBytes(Number(child)), 0);
  } catch {
    // It has ended meanwhile, or the system keeps no such files.
    return 0;
  }
}
