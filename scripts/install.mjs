// What a fresh clone still lacks: the packages of the lock file, and for the browser tests a Chromium.
import { spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';

const root = new URL('..', import.meta.url).pathname;

/** Installs from the lock file when it changed since the last time; exits with a sentence when that fails. */
export function installPackages() {
  const lock = createHash('sha256')
    .update(readFileSync(join(root, 'package-lock.json')))
    .digest('hex');
  const stamp = join(root, 'node_modules', '.tepal-lock');
  if (existsSync(stamp) && readFileSync(stamp, 'utf8') === lock) return;
  const started = process.hrtime.bigint();
  process.stdout.write('Installing packages from the lock file …\n');
  const npm = process.platform === 'win32' ? 'npm.cmd' : 'npm';
  const { status } = spawnSync(npm, ['ci', '--no-audit', '--no-fund', '--loglevel=error'], {
    cwd: root,
    stdio: 'inherit',
    shell: process.platform === 'win32',
  });
  if (status !== 0) {
    process.stdout.write('The packages could not be installed. Is there a network, and npm 10 or newer?\n');
    process.exit(status ?? 1);
  }
  writeFileSync(stamp, lock);
  process.stdout.write(`Installed in ${Number((process.hrtime.bigint() - started) / 1_000_000_000n)} s.\n`);
}

const usualPlaces = [
  process.env.TEPAL_CHROMIUM,
  '/usr/bin/chromium',
  '/usr/bin/chromium-browser',
  '/usr/bin/google-chrome',
  '/Applications/Chromium.app/Contents/MacOS/Chromium',
  '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
  'C:/Program Files/Google/Chrome/Application/chrome.exe',
];

/** @returns the path of a Chromium: the one that is there, else Debian's when root; null with a sentence printed. */
export function findChromium() {
  const there = () => usualPlaces.find((path) => path !== undefined && existsSync(path));
  const found = there();
  if (found !== undefined) return found;
  if (process.getuid?.() === 0 && existsSync('/usr/bin/apt-get')) {
    process.stdout.write("Installing Debian's chromium for the browser tests …\n");
    const quiet = {
      stdio: ['ignore', 'ignore', 'inherit'],
      env: { ...process.env, DEBIAN_FRONTEND: 'noninteractive' },
    };
    spawnSync('apt-get', ['update', '-qq'], quiet);
    spawnSync('apt-get', ['install', '-y', '-qq', '--no-install-recommends', 'chromium'], quiet);
    const installed = there();
    if (installed !== undefined) return installed;
  }
  process.stdout.write(
    'No Chromium was found for the browser tests. Install one (Debian: "apt-get install chromium"), ' +
      'or set TEPAL_CHROMIUM to the path of one.\n',
  );
  return null;
}
