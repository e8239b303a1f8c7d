/** `tepal open`: the engine on the loopback address, and the pages in the browser. */
import type { Command } from 'commander';
import { DeskFault, reasonOf } from '../files/faults.ts';
import { asCount } from './options.ts';
import { terminal } from './print.ts';
import { VERSION } from './version.ts';

interface Options {
  readonly port?: number;
  readonly library?: string;
}

const USUAL_PORT = 4747;
const PORTS_TRIED = 20;

export function addOpen(program: Command): void {
  program
    .command('open', { isDefault: false })
    .description('starts the engine on this computer and opens the pages')
    .option(
      '--port <n>',
      `port on the loopback address; ${USUAL_PORT} or the next free one unless given`,
      asCount,
    )
    .option('--library <folder>', 'where library and notebook are kept')
    .action(async (options: Options) => {
      if (options.port !== undefined && options.port > 65535) {
        throw new DeskFault(`expected a port from 0 to 65535 but received ${options.port}.`);
      }
      // Loaded here, so that the other commands do not wait for it.
      const [{ buildEngine }, { dataFolder }] = await Promise.all([
        import('../engine/engine.ts'),
        import('../engine/stores.ts'),
      ]);
      const { server, close } = await buildEngine({
        folder: options.library ?? dataFolder(),
        version: VERSION,
      });
      const address = await listen(server, options.port);
      terminal.out(`Tepal is open at ${address}`);
      terminal.out('Stop it with Ctrl+C. Photographs stay on this computer and are never written to.');
      await showPages(address);
      await interrupted();
      await close();
      const { endExifTool } = await import('../deliver/exif-tool.ts');
      await endExifTool();
    });
}

interface Listening {
  listen(at: { host: string; port: number }): Promise<string>;
}

async function listen(server: Listening, port: number | undefined): Promise<string> {
  const ports = port === undefined ? Array.from({ length: PORTS_TRIED }, (_, i) => USUAL_PORT + i) : [port];
  for (const one of ports) {
    try {
      return await server.listen({ host: '127.0.0.1', port: one });
    } catch (error) {
      const taken = (error as { code?: string }).code === 'EADDRINUSE';
      if (!taken) throw new DeskFault(`The engine cannot listen on port ${one}: ${reasonOf(error)}.`, 3);
    }
  }
  throw new DeskFault(
    port === undefined
      ? `The ports ${USUAL_PORT} to ${USUAL_PORT + PORTS_TRIED - 1} are all taken; choose one with --port.`
      : `Port ${port} is taken; choose another with --port.`,
    3,
  );
}

/** Only where somebody can see it: a display, and nobody who asked for none. */
async function showPages(address: string): Promise<void> {
  const { env, platform } = process;
  if (env['TEPAL_NO_BROWSER'] !== undefined && env['TEPAL_NO_BROWSER'] !== '') return;
  const display =
    platform !== 'linux' || env['DISPLAY'] !== undefined || env['WAYLAND_DISPLAY'] !== undefined;
  if (!display) return;
  try {
    const { default: open } = await import('open');
    const child = await open(address);
    child.on('error', () => terminal.out(`No browser could be started; open ${address} yourself.`));
  } catch {
    terminal.out(`No browser could be started; open ${address} yourself.`);
  }
}

function interrupted(): Promise<void> {
  return new Promise((resolve) => {
    for (const signal of ['SIGINT', 'SIGTERM'] as const) process.once(signal, () => resolve());
  });
}
