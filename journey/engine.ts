import { spawn, type ChildProcess } from 'node:child_process';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

const launcher = fileURLToPath(new URL('../packages/desk/bin/tepal.js', import.meta.url));

/** An engine started the way a photographer starts it, with a library of its own that goes when it stops. */
export interface RunningEngine {
  readonly address: string;
  /** The time from the start of the process to its printed address, ms. */
  readonly startMs: number;
  stop(): Promise<void>;
}

export async function startEngine(environment: Record<string, string> = {}): Promise<RunningEngine> {
  const library = await mkdtemp(join(tmpdir(), 'tepal-journey-'));
  const started = performance.now();
  const engine = spawn(process.execPath, [launcher, 'open', '--port', '0', '--library', library], {
    env: { ...process.env, TEPAL_NO_BROWSER: '1', ...environment },
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  const address = await printedAddress(engine);
  return {
    address,
    startMs: performance.now() - started,
    stop: async () => {
      const gone = new Promise((resolve) => engine.once('exit', resolve));
      engine.kill('SIGINT');
      await gone;
      await rm(library, { recursive: true, force: true });
    },
  };
}

function printedAddress(engine: ChildProcess): Promise<string> {
  return new Promise((resolve, reject) => {
    let said = '';
    const listen = (chunk: Buffer) => {
      said += chunk.toString();
      const address = /http:\/\/(?:127\.0\.0\.1|localhost|\[::1\]):\d+/.exec(said);
      if (address) resolve(address[0]);
    };
    engine.stdout?.on('data', listen);
    engine.stderr?.on('data', listen);
    engine.once('exit', (code) =>
      reject(new Error(`The engine ended with ${String(code)} and said: ${said}`)),
    );
  });
}
