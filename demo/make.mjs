// Makes the invented outing anew: `node demo/make.mjs [frames] [forecast] [notebook]`, all three when none is named.
import { mkdirSync } from 'node:fs';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { build } from 'esbuild';

const here = (path) => fileURLToPath(new URL(path, import.meta.url));
const wanted = process.argv.length > 2 ? process.argv.slice(2) : ['frames', 'forecast', 'notebook'];

mkdirSync(here('build'), { recursive: true });
await build({
  entryPoints: wanted.map((part) => here(`make-${part}.ts`)),
  outdir: here('build'),
  outExtension: { '.js': '.mjs' },
  bundle: true,
  format: 'esm',
  platform: 'node',
  external: ['sharp', '@automerge/*'],
});
for (const part of wanted) {
  const made = await import(pathToFileURL(here(`build/make-${part}.mjs`)).href);
  if (part === 'frames') {
    const count = await made.makeFrames(here('sources'), here('invented/frames'));
    process.stdout.write(`demo: ${count} frames\n`);
  } else if (part === 'forecast') {
    made.writeForecast(here('invented/forecast.json'));
    process.stdout.write('demo: the forecast\n');
  } else {
    await made.writeNotebook(here('invented/notebook.automerge'));
    process.stdout.write('demo: the notebook\n');
  }
}
