// Runs the fast tests on the current long-term release of Node as well; the npm package `node` carries one.
import { spawnSync } from 'node:child_process';

const release = process.argv[2] ?? '26';
const { status } = spawnSync(
  'npx',
  ['--yes', '-p', `node@${release}`, 'node', 'node_modules/vitest/vitest.mjs', 'run'],
  { stdio: 'inherit', cwd: new URL('..', import.meta.url).pathname },
);
process.exit(status ?? 1);
