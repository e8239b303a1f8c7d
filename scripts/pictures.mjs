// Takes the README's pictures of the real pages from the invented outing: node scripts/pictures.mjs
import { spawn } from 'node:child_process';
import { mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { chromium } from 'playwright-core';
import { findChromium } from './install.mjs';

const root = new URL('..', import.meta.url).pathname;
const library = mkdtempSync(join(tmpdir(), 'tepal-pictures-'));
const engine = spawn(
  process.execPath,
  [join(root, 'packages/desk/bin/tepal.js'), 'open', '--port', '0', '--library', library],
  { env: { ...process.env, TEPAL_NO_BROWSER: '1' } },
);
const address = await new Promise((resolve) => {
  let said = '';
  engine.stdout.on('data', (chunk) => {
    said += chunk;
    const found = /http:\/\/127\.0\.0\.1:\d+/.exec(said);
    if (found) resolve(found[0]);
  });
});
const browser = await chromium.launch({
  executablePath: findChromium(),
  args: ['--no-sandbox', '--disable-gpu', '--disable-background-networking', '--no-first-run'],
});
const shots = [
  ['frames', '/invented/frames', 1280, 900],
  ['days', '/invented/days', 1280, 900],
  ['set-up', '/invented/set-up', 390, 844],
  ['frames-390', '/invented/frames', 390, 844],
  ['days-390', '/invented/days', 390, 844],
  ['records', '/invented/records', 1280, 900],
  ['picture', '/invented/picture', 1280, 900],
  ['set-up-1280', '/invented/set-up', 1280, 900],
  ['days-1920', '/invented/days', 1920, 1080],
];
const wanted = process.argv.slice(2);
for (const [name, path, width, height] of shots) {
  if (wanted.length > 0 && !wanted.includes(name)) continue;
  const page = await browser.newPage({ viewport: { width, height } });
  await page.goto(address + path);
  await page.getByRole('heading', { level: 1 }).waitFor();
  if (name.startsWith('frames')) await page.locator('.crop img').first().waitFor({ timeout: 120_000 });
  await page.waitForTimeout(name === 'frames' ? 25_000 : 2500);
  await page.screenshot({ path: join(root, 'docs/pictures', `${name}.png`) });
  await page.close();
}
await browser.close();
engine.kill('SIGINT');
