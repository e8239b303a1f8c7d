// Builds the pages into dist: one script for each page, hashed names, fonts, and the service worker with its list of
// what the field pages need. Prints what the field pages weigh, and fails above the limit.
import { build } from 'esbuild';
import { copyFile, cp, mkdir, readFile, rm, stat, writeFile } from 'node:fs/promises';
import { createHash } from 'node:crypto';
import { gzipSync } from 'node:zlib';
import { createRequire } from 'node:module';
import path from 'node:path';
import { fileURLToPath } from 'node:url';

const root = path.dirname(fileURLToPath(import.meta.url));
const at = (...parts) => path.join(root, ...parts);
const dist = at('dist');

/** Compressed script of any one field page [bytes], issue: 300 kB. */
const fieldLimitBytes = 300_000;
/** The pages that work without a network. */
const fieldPages = ['src/days/days-page.tsx', 'src/set-up/set-up-page.tsx'];

await rm(dist, { recursive: true, force: true });
await mkdir(dist, { recursive: true });

const shared = {
  absWorkingDir: root,
  bundle: true,
  minify: true,
  target: ['es2022'],
  jsx: 'automatic',
  jsxImportSource: 'preact',
  legalComments: 'none',
  logLevel: 'warning',
  // Node takes the default export of its CommonJS build, so the pages take the same file.
  alias: { mgrs: createRequire(at('../science/package.json')).resolve('mgrs') },
  loader: { '.woff2': 'file', '.wasm': 'file' },
};

// The replicated document's WebAssembly is fetched apart, and only when the notebook is opened.
const automerge = await readFile(
  createRequire(at('../notebook/package.json')).resolve('@automerge/automerge/automerge.wasm'),
);
const automergeHash = createHash('sha256').update(automerge).digest('hex').slice(0, 8).toUpperCase();
const automergeAddress = `/assets/automerge-${automergeHash}.wasm`;

// The days are worked out beside the page, by a script of their own.
const daysWorker = await build({
  ...shared,
  entryPoints: { 'days-worker': 'src/days/compute/days-worker.ts' },
  format: 'esm',
  outdir: 'dist/assets',
  entryNames: '[name]-[hash]',
  metafile: true,
});
const [daysWorkerFile] = Object.keys(daysWorker.metafile.outputs);
const daysWorkerAddress = daysWorkerFile.replace(/^dist/, '');

// A test shot is measured beside the page, by a script of its own.
const shotWorker = await build({
  ...shared,
  entryPoints: { 'shot-worker': 'src/set-up/test-shot/shot-worker.ts' },
  format: 'esm',
  outdir: 'dist/assets',
  entryNames: '[name]-[hash]',
  metafile: true,
});
const [shotWorkerFile] = Object.keys(shotWorker.metafile.outputs);
const shotWorkerAddress = shotWorkerFile.replace(/^dist/, '');

const pages = await build({
  ...shared,
  define: {
    automergeAddress: JSON.stringify(automergeAddress),
    daysWorkerAddress: JSON.stringify(daysWorkerAddress),
    shotWorkerAddress: JSON.stringify(shotWorkerAddress),
  },
  entryPoints: { main: 'src/main.tsx', look: 'src/look/look.css' },
  format: 'esm',
  splitting: true,
  outdir: 'dist/assets',
  publicPath: '/assets',
  entryNames: '[name]-[hash]',
  chunkNames: '[name]-[hash]',
  assetNames: '[name]-[hash]',
  metafile: true,
});

const outputs = pages.metafile.outputs;
const addressOf = (output) => output.replace(/^dist/, '');
const outputOf = (entry) => {
  const found = Object.keys(outputs).find((name) => outputs[name].entryPoint === entry);
  if (found === undefined) throw new Error(`the build made no file of ${entry}`);
  return found;
};

/** A script and everything that it imports before it can run. */
function withImports(output, found = new Set()) {
  if (found.has(output)) return found;
  found.add(output);
  for (const { path: imported, kind } of outputs[output]?.imports ?? []) {
    if (kind === 'import-statement') withImports(imported, found);
  }
  return found;
}

const main = outputOf('src/main.tsx');
const look = outputOf('src/look/look.css');
const page = await readFile(at('index.html'), 'utf8');
const links = [
  `<link rel="stylesheet" href="${addressOf(look)}" />`,
  ...[...withImports(main)].map((file) => `<link rel="modulepreload" href="${addressOf(file)}" />`),
  `<script type="module" src="${addressOf(main)}"></script>`,
];
await writeFile(
  at('dist/index.html'),
  page.replace('<!-- built: styles and scripts -->', links.join('\n    ')),
);

await cp(at('public'), dist, { recursive: true });
await writeFile(at('dist', automergeAddress), automerge);
const kernel = at('../imaging/build/kernel.wasm');
const hasKernel = (await stat(kernel).catch(() => null)) !== null;
if (hasKernel) await copyFile(kernel, at('dist/assets/kernel.wasm'));

const fonts = Object.keys(outputs).filter((name) => name.endsWith('.woff2'));
const fieldScripts = new Set([main, ...fieldPages.map(outputOf)].flatMap((file) => [...withImports(file)]));
// The notebook is opened in the meadow too, so its script and its WebAssembly are kept with the rest.
const notebook = outputOf('../notebook/src/index.ts');
for (const file of withImports(notebook)) fieldScripts.add(file);
const fieldFiles = [
  '/',
  ...[...fieldScripts, look, ...fonts].map(addressOf),
  automergeAddress,
  daysWorkerAddress,
  shotWorkerAddress,
  ...(hasKernel ? ['/assets/kernel.wasm'] : []),
  '/tepal.svg',
  '/tepal.webmanifest',
];
// The kernel's name stays the same, so its bytes count.
const version = createHash('sha256')
  .update(fieldFiles.join())
  .update(hasKernel ? await readFile(kernel) : '')
  .digest('hex')
  .slice(0, 12);
await build({
  ...shared,
  entryPoints: { 'service-worker': 'src/field/service-worker.ts' },
  format: 'iife',
  outdir: 'dist',
  define: { fieldFiles: JSON.stringify(fieldFiles), fieldVersion: JSON.stringify(version) },
});

let tooHeavy = false;
for (const name of fieldPages) {
  const scripts = new Set([main, outputOf(name), notebook].flatMap((file) => [...withImports(file)]));
  // The worker's script is fetched by the page too.
  if (name.startsWith('src/days/')) scripts.add(daysWorkerFile);
  if (name.startsWith('src/set-up/')) scripts.add(shotWorkerFile);
  let bytes = 0;
  for (const file of scripts) bytes += gzipSync(await readFile(at(file))).byteLength;
  tooHeavy ||= bytes > fieldLimitBytes;
  console.error(
    `web: ${path.basename(name, '-page.tsx')} page, ${Math.round(bytes / 1000)} kB of compressed script`,
  );
}
if (tooHeavy) {
  console.error(`web: a field page is above ${fieldLimitBytes / 1000} kB of compressed script`);
  process.exit(1);
}
