// Builds what runs: the kernel, the pages, the desk. Each part is built again only when one of its inputs changed.
import { spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import {
  copyFileSync,
  existsSync,
  mkdirSync,
  readFileSync,
  readdirSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

const root = fileURLToPath(new URL('..', import.meta.url));
const rooms = ['science', 'formats', 'imaging', 'notebook', 'advice'];
const sources = (names) => names.map((name) => `packages/${name}/src`);

const parts = [
  {
    name: 'kernel',
    inputs: ['packages/imaging/kernel'],
    output: 'packages/imaging/build/kernel.wasm',
    build: () => runScript('packages/imaging/kernel/build.mjs'),
  },
  {
    name: 'pages',
    inputs: ['packages/web', 'packages/imaging/kernel', ...sources(rooms)],
    output: 'packages/web/dist/index.html',
    build: () => runScript('packages/web/build.mjs'),
  },
  {
    name: 'desk',
    inputs: ['packages/imaging/kernel', ...sources([...rooms, 'desk'])],
    output: 'packages/desk/dist/tepal.mjs',
    build: buildDesk,
  },
];

/** Builds every part that changed; returns false, with the reason printed, when one does not build. */
export async function buildAll() {
  for (const part of parts) {
    const stamp = join(root, '.cache', 'build', `${part.name}.sha256`);
    const hash = hashOf([...part.inputs, 'scripts/build.mjs', 'package-lock.json']);
    const fresh = existsSync(join(root, part.output)) && existsSync(stamp);
    if (fresh && readFileSync(stamp, 'utf8') === hash) {
      process.stdout.write(`build: ${part.name} is up to date\n`);
      continue;
    }
    const started = performance.now();
    try {
      rmSync(stamp, { force: true });
      await part.build();
    } catch (error) {
      process.stdout.write(`build: ${part.name} does not build: ${error.message}\n`);
      return false;
    }
    mkdirSync(join(root, '.cache', 'build'), { recursive: true });
    writeFileSync(stamp, hash);
    process.stdout.write(`build: ${part.name} in ${((performance.now() - started) / 1000).toFixed(1)} s\n`);
  }
  return true;
}

async function buildDesk() {
  const { build } = await import('esbuild');
  const dist = join(root, 'packages/desk/dist');
  rmSync(dist, { recursive: true, force: true });
  await build({
    absWorkingDir: root,
    entryPoints: { tepal: 'packages/desk/src/main.ts', worker: 'packages/desk/src/worker.ts' },
    outdir: dist,
    outExtension: { '.js': '.mjs' },
    bundle: true,
    splitting: true,
    format: 'esm',
    platform: 'node',
    target: 'node20.19',
    sourcemap: true,
    logLevel: 'warning',
    // Our own rooms go into the bundle from their sources; what npm brings stays where npm put it.
    packages: 'external',
    alias: Object.fromEntries(
      rooms.map((name) => [`@tepal/${name}`, join(root, 'packages', name, 'src/index.ts')]),
    ),
  });
  copyFileSync(join(root, 'packages/imaging/build/kernel.wasm'), join(dist, 'kernel.wasm'));
}

function runScript(script) {
  if (!existsSync(join(root, script))) throw new Error(`${script} is missing`);
  const { status } = spawnSync(process.execPath, [join(root, script)], { cwd: root, stdio: 'inherit' });
  if (status !== 0) throw new Error(`${script} ended with status ${status}`);
}

/** One hash over the names and contents of the inputs; what is built from them is passed over. */
function hashOf(inputs) {
  const hash = createHash('sha256');
  const visit = (path) => {
    const full = join(root, path);
    if (!existsSync(full)) return;
    let entries;
    try {
      entries = readdirSync(full, { withFileTypes: true });
    } catch {
      hash.update(path).update(readFileSync(full));
      return;
    }
    for (const entry of entries.sort((a, b) => (a.name < b.name ? -1 : 1))) {
      const inner = `${path}/${entry.name}`;
      if (entry.isDirectory()) {
        if (!['dist', 'build', 'node_modules', 'fixtures'].includes(entry.name)) visit(inner);
      } else if (!/\.test\.tsx?$/.test(entry.name)) {
        hash.update(inner).update(readFileSync(join(root, inner)));
      }
    }
  };
  for (const input of inputs) visit(input);
  return hash.digest('hex');
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  process.exitCode = (await buildAll()) ? 0 : 1;
}
