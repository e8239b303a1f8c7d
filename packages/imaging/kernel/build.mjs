// Builds build/kernel.wasm from the AssemblyScript beside this file; does nothing when no source has changed.
import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readFileSync, readdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

const here = fileURLToPath(new URL('.', import.meta.url));
const target = fileURLToPath(new URL('../build/', import.meta.url));

/** @returns the path of an up-to-date kernel.wasm; throws with the compiler's own words when it does not build. */
export async function buildKernel() {
  const wasm = join(target, 'kernel.wasm');
  const stamp = join(target, 'kernel.sha256');
  const hash = createHash('sha256');
  for (const name of readdirSync(here).sort()) hash.update(name).update(readFileSync(join(here, name)));
  const digest = hash.digest('hex');
  if (existsSync(wasm) && existsSync(stamp) && readFileSync(stamp, 'utf8') === digest) return wasm;

  mkdirSync(target, { recursive: true });
  const { default: asc } = await import('assemblyscript/asc');
  const { error, stderr } = await asc.main([
    join(here, 'index.ts'),
    '--outFile',
    wasm,
    '--enable',
    'simd',
    '--runtime',
    'stub',
    '--use',
    'abort=',
    '--noAssert',
    '-O3',
    '--converge',
  ]);
  if (error) throw new Error(`the kernel does not build: ${stderr.toString()}`, { cause: error });
  writeFileSync(stamp, digest);
  return wasm;
}

if (process.argv[1] === fileURLToPath(import.meta.url)) await buildKernel();
