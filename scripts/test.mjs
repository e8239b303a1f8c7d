// npm test: installs what the tests need, builds, runs the unit, property, known-truth and browser tests, and ends
// with one line: N passed, N failed.
import { spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, readFileSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { findChromium, installPackages } from './install.mjs';

const root = new URL('..', import.meta.url).pathname;
if (!process.argv.includes('--no-install')) installPackages();

const chromium = findChromium();
run('node', ['scripts/build.mjs']) || finish({ passed: 0, failed: 1, why: 'the build failed' });

const total = { passed: 0, failed: 0 };
suite('unit, property and known-truth tests', 'vitest.config.ts', {});
if (chromium === null) {
  total.failed += 1;
  process.stdout.write('The browser tests were not run: counted as one failure.\n');
} else {
  suite('browser tests', 'journey/vitest.config.ts', { TEPAL_CHROMIUM: chromium });
}
finish(total);

function suite(name, config, env) {
  const results = join(root, 'test-results', `${config.replaceAll(/[^a-z]/g, '-')}.json`);
  mkdirSync(join(root, 'test-results'), { recursive: true });
  rmSync(results, { force: true });
  process.stdout.write(`\n${name}\n`);
  const args = [
    'vitest',
    'run',
    '--config',
    config,
    '--reporter=default',
    '--reporter=json',
    `--outputFile.json=${results}`,
  ];
  const ended = run('npx', args, env);
  if (!existsSync(results)) {
    process.stdout.write(`${name}: the runner left no results\n`);
    total.failed += 1;
    return;
  }
  const { numPassedTests, numFailedTests, numTotalTests, numFailedTestSuites } = JSON.parse(
    readFileSync(results, 'utf8'),
  );
  total.passed += numPassedTests;
  total.failed += numFailedTests;
  // A file that cannot even be loaded, or a run without a test, is a failure too.
  if (numFailedTests === 0 && (!ended || numFailedTestSuites > 0 || numTotalTests === 0)) total.failed += 1;
}

function run(command, args, env = {}) {
  const { status } = spawnSync(command, args, {
    cwd: root,
    stdio: 'inherit',
    env: { ...process.env, ...env },
  });
  return status === 0;
}

function finish({ passed, failed, why }) {
  if (why) process.stdout.write(`${why}\n`);
  process.stdout.write(`\n${passed} passed, ${failed} failed\n`);
  process.exit(failed > 0 || passed === 0 ? 1 : 0);
}
