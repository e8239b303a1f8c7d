#!/usr/bin/env node
// The committed launcher: it only finds the build and hands over to it.
import { existsSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

const built = new URL('../dist/tepal.mjs', import.meta.url);
if (existsSync(fileURLToPath(built))) {
  await import(built.href);
} else {
  process.stderr.write(
    'tepal: not built yet. Run "npm ci" and "npm run build" in the folder of the clone.\n',
  );
  process.exitCode = 2;
}
