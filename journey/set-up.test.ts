// Set-up in the hand: at 390 px, without a network, by steppers and taps alone.
import type { Browser, BrowserContext, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { startBrowser } from './browser.ts';
import { startEngine, type RunningEngine } from './engine.ts';
import { testShotJpeg } from './test-shot.ts';

let engine: RunningEngine;
let browser: Browser;
let phone: BrowserContext;
let page: Page;
const faults: string[] = [];

beforeAll(async () => {
  [engine, browser] = await Promise.all([startEngine(), startBrowser()]);
  phone = await browser.newContext({
    viewport: { width: 390, height: 844 },
    hasTouch: true,
    permissions: ['geolocation'],
    geolocation: { latitude: 51.2001, longitude: -1.9, accuracy: 8 },
  });
  page = await phone.newPage();
  page.on('pageerror', (error) => faults.push(error.message));
  await page.goto(`${engine.address}/set-up`);
  // The field pages are kept once the worker is ready.
  await page.getByText('works without a network').waitFor();
  await phone.setOffline(true);
  await page.reload();
  await page.locator('.big').first().waitFor();
});
afterAll(async () => {
  await browser.close();
  await engine.stop();
});

const answer = () => page.locator('.big-numbers').innerText();
const more = (name: string) => page.getByRole('button', { name: `Larger: ${name}`, exact: true });
const less = (name: string) => page.getByRole('button', { name: `Smaller: ${name}`, exact: true });
const fold = (words: RegExp) => page.locator('summary').filter({ hasText: words });
const choose = (word: string) => page.locator('.choice label').filter({ hasText: new RegExp(`^${word}$`) });

describe('Set-up on a phone without a network', () => {
  it('answers first, within the width of the screen, and follows every stepper', async () => {
    const first = await answer();
    expect(first).toMatch(/f\/\d/);
    await more('wind at the plant').tap();
    await more('wind at the plant').tap();
    await less('light').tap();
    await less('light').tap();
    await more('magnification').tap();
    await more('depth of the subject').tap();
    await more('background behind it').tap();
    await more('stabilisation').tap();
    await choose('elbows').tap();
    expect(await answer()).not.toBe(first);
    await page.getByText(/from the elbows/).waitFor();
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(390);
  });

  it('opens every number to equation, source and what went in', async () => {
    for (const [name, title] of [
      [/aperture\s*, open/, 'Why this aperture'],
      [/shutter\s*, open/, 'Why this shutter'],
      [/ISO\s*, open/, 'Why this ISO'],
      [/why so many/, 'Why so many'],
      [/what the wind does/, 'What the wind does'],
      [/how bright it is/, 'How bright it is'],
    ] as const) {
      await page.getByRole('button', { name }).tap();
      const opened = page.getByRole('region', { name: title });
      await opened.locator('.form').first().waitFor();
      expect(await opened.locator('dd').count()).toBeGreaterThan(1);
      await opened.getByRole('button', { name: 'Close' }).tap();
    }
  });

  it('takes the light from a meter, the insect, the print, the ceiling and the hands’ own settings', async () => {
    await fold(/^Light/).tap();
    await choose('by the meter').tap();
    await more('ISO of the reading').tap();
    await choose('silver').tap();
    await page.getByText(/The reflector lifts it by/).waitFor();
    await fold(/^Plant/).tap();
    await choose('resting').tap();
    await fold(/^For:/).tap();
    await less('longer side of the print').tap();
    await page.getByText(/297 × 198 mm/).waitFor();
    await fold(/^Camera/).tap();
    await choose('all by hand').tap();
    await more('ISO ceiling').tap();
    await more('aperture').tap();
    await more('shutter').tap();
    await page.getByRole('button', { name: 'Back to the advice' }).tap();
    expect(await page.getByRole('alert').count()).toBe(0);
  });

  it('lets a point of the field be touched, and not while it is locked against rain', async () => {
    const field = page.locator('.ways-field');
    await field.scrollIntoViewIfNeeded();
    await field.tap({ position: { x: 150, y: 120 } });
    const byTouch = await answer();
    await field.focus();
    await page.keyboard.press('ArrowRight');
    await expect.poll(answer).not.toBe(byTouch);
    const touched = await answer();
    await page.getByRole('button', { name: 'Lock against rain' }).tap();
    await field.tap({ position: { x: 230, y: 60 }, force: true });
    expect(await answer()).toBe(touched);
    const lock = page.getByRole('button', { name: /Locked/ });
    await lock.dispatchEvent('pointerdown');
    await page.getByRole('button', { name: 'Lock against rain' }).waitFor();
  });

  it('watches the sway by taps, and reckons with it', async () => {
    await fold(/^Sway by eye/).tap();
    const tap = page.getByRole('button', { name: /Tap at the turn/ });
    for (let i = 0; i < 5; i++) {
      await tap.dispatchEvent('pointerdown');
      await page.waitForTimeout(350);
    }
    await page.getByText(/It swings/).waitFor();
    await page.getByRole('button', { name: 'Reckon with it' }).tap();
    await page.getByText('sway as watched, free it').waitFor();
  });

  it('looks at a test shot: sharp or why not, burnt petals, evenness, what pulls the eye', async () => {
    await fold(/^Test shot/).tap();
    const shot = { name: 'shot.jpg', mimeType: 'image/jpeg', buffer: await testShotJpeg(page) };
    await page.locator('input[type=file]').setInputFiles(shot);
    await page.getByText(/where this print bears/).waitFor({ timeout: 30_000 });
    // A third of the disc at the point was drawn with red at the top.
    await page.getByText(/Burnt at the point: red/).waitFor();
    await page.getByText(/One bright place beside the subject/).waitFor();
  });

  it('begins an outing with care, logs the set-up with its place, keeps a note, and knows it after a restart', async () => {
    await page.getByRole('button', { name: 'Begin an outing here' }).tap();
    await page.getByText('Before you lie down').waitFor();
    await page.getByRole('button', { name: 'Read', exact: true }).tap();
    await page.getByRole('button', { name: 'Log this set-up' }).tap();
    await page.getByText(/^Logged at \d+:\d\d\.$/).waitFor();
    await page.getByLabel('Note', { exact: true }).fill('Two more spikes by the gate');
    await page.getByRole('button', { name: 'Keep the note' }).tap();
    await page.getByText(/Two more spikes by the gate/).waitFor();
    await fold(/^As found/).tap();
    await more('wind as felt, Beaufort').tap();
    await page.getByText('Beaufort 1').waitFor();
    await page.reload();
    await page.getByText(/Two more spikes by the gate/).waitFor();
    await page.getByRole('button', { name: 'Log this set-up' }).waitFor();
    await page
      .locator('.logged')
      .getByText(/f\/\d.*ISO \d+/)
      .waitFor();
  });

  it('prints the pocket card alone, on one page', async () => {
    await fold(/^Pocket card/).tap();
    await page.locator('.pocket-card tbody tr').nth(8).waitFor();
    const paper = (await page.pdf({ format: 'A5' })).toString('latin1');
    expect(paper.match(/\/Type\s*\/Page\b/g)).toHaveLength(1);
  });

  it('without a fault of the page’s own', () => {
    expect(faults).toEqual([]);
  });
});
