// The notebook on two devices: kept on the phone without a network, met with the desk by a file and over TLS.
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser, BrowserContext, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { startBrowser } from './browser.ts';
import { startEngine, type RunningEngine } from './engine.ts';

const phoneSize = { width: 390, height: 844 };

let engine: RunningEngine;
let elsewhere: RunningEngine;
let browser: Browser;
let desk: BrowserContext;
let phone: BrowserContext;
let folder: string;
const faults: string[] = [];

beforeAll(async () => {
  [engine, elsewhere, browser] = await Promise.all([startEngine(), startEngine(), startBrowser()]);
  folder = await mkdtemp(join(tmpdir(), 'tepal-exchange-'));
  desk = await browser.newContext({ viewport: { width: 1280, height: 900 }, acceptDownloads: true });
  phone = await browser.newContext({ viewport: phoneSize, acceptDownloads: true, ignoreHTTPSErrors: true });
  for (const context of [desk, phone]) {
    context.on('page', (page) => page.on('pageerror', (error) => faults.push(error.message)));
  }
});
afterAll(async () => {
  await browser.close();
  await Promise.all([engine.stop(), elsewhere.stop()]);
  await rm(folder, { recursive: true, force: true });
});

async function addSite(page: Page, name: string): Promise<void> {
  const field = page.getByLabel('Name of the place');
  const places = page.getByText('Places and forecasts');
  await field.or(places).first().waitFor();
  if (!(await field.isVisible())) await places.click();
  await field.fill(name);
  await page.getByLabel('Position').fill('51.2, -1.9');
  await page.getByRole('button', { name: 'Add the place' }).click();
  await page.getByText(`${name} is noted`).first().waitFor();
}

/** Every site that the notebook of this page holds stands in its list of places. */
const knows = (page: Page, name: string) => page.getByText(name).first().waitFor({ state: 'attached' });

describe('the notebook on the desk and on a phone', () => {
  it('is written on the phone without anybody answering, and is there when the page is opened again', async () => {
    const page = await phone.newPage();
    await page.goto(`${elsewhere.address}/days`);
    // The field pages are kept once the worker is ready.
    await page.getByText('works without a network').waitFor();
    await phone.setOffline(true);
    await addSite(page, 'Invented Bank');
    await page.close();
    // Still nobody answers: page and place come from this phone.
    const later = await phone.newPage();
    await later.goto(`${elsewhere.address}/days`);
    await knows(later, 'Invented Bank');
    await later.close();
    await phone.setOffline(false);
  });

  it('meets the desk by a file', async () => {
    const there = await phone.newPage();
    await there.goto(`${elsewhere.address}/records`);
    const saved = there.waitForEvent('download');
    await there.getByRole('button', { name: 'Save the notebook to a file' }).click();
    const file = join(folder, 'brought home.tepal-exchange');
    await (await saved).saveAs(file);
    await there.close();
    const here = await desk.newPage();
    await here.goto(`${engine.address}/records`);
    await here.getByLabel('Take a file in').setInputFiles(file);
    await here.getByText('is in this notebook now').waitFor();
    await here.goto(`${engine.address}/days`);
    await knows(here, 'Invented Bank');
    await here.close();
  });

  it('meets the desk over TLS once a code has let the phone in, and no more when it is taken off', async () => {
    const here = await desk.newPage();
    await here.goto(`${engine.address}/records`);
    await here.getByRole('button', { name: 'Open to the phones of the house' }).click();
    await here.getByRole('button', { name: 'Let a phone in' }).click();
    const code = (await here.locator('.code').innerText()).replace(' ', '');
    const address = (await here.locator('.by-code strong').first().innerText()).replace(
      /\/\/[^:]+/,
      '//127.0.0.1',
    );
    await here.screenshot({ path: join(folder, 'desk.png'), fullPage: true });

    const there = await phone.newPage();
    await there.goto(`${address}/?meet=${code}`);
    await there.getByRole('button', { name: 'Let it in' }).click();
    await there.waitForURL('**/days');
    await knows(there, 'Invented Bank');
    await addSite(there, 'Invented Ride');
    await here.getByText('my phone').waitFor();
    const days = await desk.newPage();
    await days.goto(`${engine.address}/days`);
    await knows(days, 'Invented Ride');
    await days.close();

    await here.getByRole('button', { name: 'Take it off the list' }).click();
    await here.getByText('my phone').waitFor({ state: 'detached' });
    await there.goto(`${address}/records`);
    await there.getByRole('button', { name: 'Exchange with the desk now' }).click();
    await there.getByText('not paired with the desk').first().waitFor();
    await here.getByRole('button', { name: 'Shut it again' }).click();
    await expect(there.goto(address)).rejects.toThrow(/ERR_CONNECTION_REFUSED/);
  });

  it('without a fault of the page’s own', () => {
    expect(faults).toEqual([]);
  });
});
