// Days, as one comes to it: a first place at the desk, a picture to come back for, the evening before; and on a phone at
// an address without an engine, in the meadow without a network.
import { readFile } from 'node:fs/promises';
import type { Browser, BrowserContext, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { startBrowser } from './browser.ts';
import { startEngine, type RunningEngine } from './engine.ts';
import { startStaticAddress } from './static-address.ts';
import { startWeather, type WeatherService } from './weather.ts';

let weather: WeatherService;
let engine: RunningEngine;
let elsewhere: Awaited<ReturnType<typeof startStaticAddress>>;
let browser: Browser;
let desk: BrowserContext;
let phone: BrowserContext;
let page: Page;
const faults: string[] = [];

/** Invented; what the service is told must hold none of these digits. */
const place = { name: 'Nether Wallowby Bank', position: '51.23456, -1.87654' };

beforeAll(async () => {
  weather = await startWeather();
  [engine, elsewhere, browser] = await Promise.all([
    startEngine({ TEPAL_LOCATIONFORECAST_ADDRESS: weather.address, TEPAL_CONTACT: 'someone@example.org' }),
    startStaticAddress(),
    startBrowser(),
  ]);
  desk = await browser.newContext({ viewport: { width: 1280, height: 900 }, acceptDownloads: true });
  phone = await browser.newContext({ viewport: { width: 390, height: 844 } });
  for (const context of [desk, phone]) {
    context.on('page', (opened) => opened.on('pageerror', (error) => faults.push(error.message)));
  }
  page = await desk.newPage();
});

afterAll(async () => {
  await browser.close();
  await Promise.all([engine.stop(), elsewhere.stop(), weather.stop()]);
});

const heading = (on: Page) => on.getByRole('heading', { level: 1 });
const ribbon = (on: Page) => on.getByRole('slider', { name: /Hours at/ }).first();

async function addPlace(on: Page): Promise<void> {
  await on.getByLabel('Name of the place').fill(place.name);
  await on.getByLabel('Position').fill(place.position);
  await on.getByText(/^Read as degrees/).waitFor();
  await on.getByRole('button', { name: 'Add the place' }).click();
  await on.getByText(`${place.name} is noted`).first().waitFor();
}

describe('Days at the desk', () => {
  it('asks a first-time user for a place only, and then for its forecast', async () => {
    await page.goto(`${engine.address}/days`);
    await addPlace(page);
    await page.getByRole('button', { name: 'Fetch the forecast' }).click();
    await ribbon(page).waitFor();
    expect(await heading(page).innerText()).toMatch(/from \d+:\d\d to \d+:\d\d|No soft, still hours/);
    await page.getByText(`Now at ${place.name}`).waitFor();
  });

  it('tells the service a coarse cell, never the place', () => {
    const told = weather.asked.join('\n');
    expect(told).toContain('/weatherapi/locationforecast/2.0/complete');
    for (const secret of ['51.234', '51.23', '1.876', '1.88', 'Wallowby']) expect(told).not.toContain(secret);
  });

  it('opens an hour by keyboard, with what brings the wind down to the plant and from where that is known', async () => {
    await ribbon(page).focus();
    await page.keyboard.press('End');
    const steps = page.getByRole('table', { name: /down to the plant/ });
    await steps.waitFor();
    expect(await steps.innerText()).toMatch(/\d{4}/);
    await page.keyboard.press('Escape');
    await steps.waitFor({ state: 'detached' });
  });

  it('names the days past the third in words, without an hour', async () => {
    const later = page.getByRole('region', { name: 'Later days, in words' });
    expect(await later.innerText()).toMatch(/good|fair|poor/);
    expect(await later.innerText()).not.toMatch(/\d:\d\d/);
  });

  it('keeps what was noted of the ground when a place is edited again', async () => {
    const places = page.getByText(/^Places and forecasts/);
    const edit = page.getByRole('button', { name: `Edit ${place.name}` });
    await places.click();
    await edit.click();
    await page.getByText('More about the ground').first().waitFor();
    await page.getByLabel('Form of the ground').selectOption('crest');
    await page.getByLabel('Its height, foot to top').fill('60');
    await page.getByLabel('Uphill across it is').selectOption('west');
    await page.getByRole('button', { name: 'Keep the changes' }).click();
    await page.getByText(`${place.name} is changed`).waitFor();
    await edit.click();
    expect(await page.getByLabel('Form of the ground').inputValue()).toBe('crest');
    expect(await page.getByLabel('Uphill across it is').inputValue()).toBe('west');
    await page.getByRole('button', { name: `Close ${place.name}` }).click();
    await places.click();
  });

  it('takes a picture to come back for, answers for it, and takes it back', async () => {
    await page.getByText(/^Wanted pictures/).click();
    await page.getByLabel('Its name').fill('made scabious');
    await page.getByLabel('What the picture is called').fill('Scabious from the side');
    await page.getByRole('button', { name: 'Note the picture' }).click();
    await page.getByText('Scabious from the side is noted').waitFor();
    await expect.poll(() => page.locator('.answer').innerText()).toMatch(/Scabious from the side/);
    await page.locator('.suited summary').first().click();
    expect(await page.locator('.why table').first().innerText()).toMatch(/stillness/);
  });

  it('saves the hours as a calendar file that gives no place away', async () => {
    const save = page.getByRole('button', { name: /as a calendar file/ });
    const [download] = await Promise.all([page.waitForEvent('download'), save.click()]);
    const text = await readFile(await download.path(), 'utf8');
    expect(text).toContain('BEGIN:VALARM');
    expect(text).toContain('made scabious');
    for (const secret of ['Wallowby', '51.2', '1.87']) expect(text).not.toContain(secret);
  });

  it('packs: forecasts, pages and notebook are proven, or it says which is not', async () => {
    await page.getByText('The evening before: pack').click();
    await page.getByText('works without a network').waitFor();
    await page.getByRole('button', { name: 'Pack for tomorrow' }).click();
    await page.getByText('Ready: Days and Set-up open without a network.').waitFor();
    await page.getByText(/^Ready: The forecasts of 1 place/).waitFor();
  });

  it('takes the last change back', async () => {
    await page.getByRole('button', { name: 'Take it back' }).click();
    await expect.poll(() => page.locator('.answer').innerText()).not.toMatch(/Scabious from the side/);
  });

  it('works the days out without the engine and without a network', async () => {
    await desk.setOffline(true);
    await page.reload();
    await ribbon(page).waitFor();
    expect(await page.locator('.standing').innerText()).toMatch(/forecast of \d+:\d\d, .*old/);
    await desk.setOffline(false);
  });
});

describe('Days on a phone at an address without an engine', () => {
  it('fetches by itself, at the cell only, and keeps the days for the meadow', async () => {
    const there = await phone.newPage();
    await there.goto(`${elsewhere.address}/days`);
    await addPlace(there);
    await there.getByText('Where it comes from').click();
    await there.getByLabel(/Another address/).fill(weather.address);
    await there.getByRole('button', { name: 'Keep', exact: true }).click();
    await there.getByText('Kept on this device.', { exact: true }).waitFor();
    const before = weather.asked.length;
    await there.getByRole('button', { name: 'Fetch the forecast' }).click();
    await ribbon(there).waitFor();
    expect(weather.asked.length).toBe(before + 1);
    expect(weather.asked.join('\n')).not.toContain('51.23');
    await there.getByText('works without a network').waitFor();
    await there.close();

    await phone.setOffline(true);
    const meadow = await phone.newPage();
    await meadow.goto(`${elsewhere.address}/days`);
    await ribbon(meadow).waitFor();
    await meadow.getByText(`Now at ${place.name}`).waitFor();
    expect(await meadow.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(390);
    // Set-up opens on this hour's wind and light there.
    await meadow.goto(`${elsewhere.address}/set-up`);
    await meadow.getByText(new RegExp(`${place.name}, \\d+:\\d\\d`)).waitFor();
    await meadow.close();
  });

  it('ran without a fault in any page', () => {
    expect(faults).toEqual([]);
  });
});
