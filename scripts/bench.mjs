// npm run bench [NAME...]: bundles each benchmark in bench/ and runs it; without a name, all of them.
import { build } from 'esbuild';
import { spawnSync } from 'node:child_process';
import { mkdirSync, readdirSync } from 'node:fs';
import { basename, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { buildKernel } from '../packages/imaging/kernel/build.mjs';

const root = fileURLToPath(new URL('..', import.meta.url));
const wanted = process.argv.slice(2).filter((argument) => !argument.startsWith('--'));
const names = readdirSync(join(root, 'bench'))
  .filter((file) => file.endsWith('.ts') && !file.endsWith('.test.ts'))
  .map((file) => basename(file, '.ts'))
  .filter((name) => wanted.length === 0 || wanted.includes(name));
if (names.length === 0) {
  process.stdout.write(`No benchmark is named ${wanted.join(', ')}.\n`);
  process.exit(2);
}

const wasm = await buildKernel();
const out = join(root, '.cache', 'bench');
mkdirSync(out, { recursive: true });
let failed = 0;
for (const name of names) {
  const outfile = join(out, `${name}.mjs`);
  await build({
    entryPoints: [join(root, 'bench', `${name}.ts`)],
    outfile,
    bundle: true,
    platform: 'node',
    format: 'esm',
    external: ['sharp', '@julusian/jpeg-turbo'],
    logLevel: 'error',
  });
  const { status } = spawnSync(process.execPath, [outfile], {
    stdio: 'inherit',
    env: { ...process.env, TEPAL_KERNEL: wasm },
  });
  if (status !== 0) failed++;
}
process.exit(failed > 0 ? 1 : 0);
