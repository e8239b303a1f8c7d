// Records on one computer: noted, changed, asked about, exported in both ways, taken in, taken back, backed up.
import { mkdtemp, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { unzipSync } from 'fflate';
import type { Browser, BrowserContext, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { startBrowser } from './browser.ts';
import { startEngine, type RunningEngine } from './engine.ts';

let engine: RunningEngine;
let browser: Browser;
let context: BrowserContext;
let page: Page;
let folder: string;
const faults: string[] = [];

beforeAll(async () => {
  [engine, browser] = await Promise.all([startEngine(), startBrowser()]);
  folder = await mkdtemp(join(tmpdir(), 'tepal-records-'));
  context = await browser.newContext({ viewport: { width: 390, height: 844 }, acceptDownloads: true });
  context.on('page', (one) => one.on('pageerror', (error) => faults.push(error.message)));
  page = await context.newPage();
  await page.goto(`${engine.address}/records`);
});
afterAll(async () => {
  await browser.close();
  await engine.stop();
  await rm(folder, { recursive: true, force: true });
});

async function saved(button: string): Promise<Buffer> {
  const coming = page.waitForEvent('download');
  await page.getByRole('button', { name: button }).click();
  const path = join(folder, `${button}.file`);
  await (await coming).saveAs(path);
  return readFile(path);
}

describe('records', () => {
  it('are noted with the keyboard, and changed', async () => {
    await page.getByLabel('Name, scientific or common').focus();
    await page.keyboard.type('Scabiosa arvensis');
    await page.getByLabel('How many').fill('3');
    await page.getByLabel('With it').fill('Briza media, Linum catharticum');
    await page.getByLabel('Name, scientific or common').press('Enter');
    await page.getByText('Scabiosa arvensis is recorded.').waitFor();
    await page.getByRole('button', { name: 'Change the record of Scabiosa arvensis' }).click();
    const form = page.getByRole('region', { name: 'Change the record of Scabiosa arvensis' });
    await form.getByLabel('Life stage').fill('in flower');
    await form.getByRole('button', { name: 'Keep the change' }).click();
    await page.getByText('in flower').waitFor();
  });

  it('get their species from a checklist, which is asked about once', async () => {
    await page.getByLabel('Give a checklist').setInputFiles({
      name: 'taxa.csv',
      mimeType: 'text/csv',
      buffer: Buffer.from(
        'taxonID,scientificName,acceptedNameUsage,taxonRank,vernacularName\n1,Knautia arvensis,,species,field scabious\n2,Scabiosa arvensis,Knautia arvensis,species,\n',
      ),
    });
    await page.getByText('Scabiosa arvensis: Knautia arvensis.').waitFor();
    await page.getByLabel('Knautia arvensis', { exact: true }).selectOption('high');
    await page.getByText('Would a published place do harm?').waitFor({ state: 'detached' });
  });

  it('leave as archive and as table, and confidentially only when confirmed, into the log', async () => {
    const archive = unzipSync(await saved('Export the archive'));
    expect(new TextDecoder().decode(archive['occurrence.txt'])).toContain('Knautia arvensis');
    expect((await saved('Export the recorders’ table')).toString()).toContain('Briza media');
    await page.getByText('With exact places, to one person').click();
    await page.getByLabel('For whom').fill('County recorder');
    await page.getByRole('button', { name: 'Export with exact places' }).click();
    await page.getByText('Type the recipient twice').waitFor();
    await page.getByLabel('once more').fill('County recorder');
    await saved('Export with exact places');
    await page.getByRole('list', { name: 'Sendings' }).getByText('to County recorder').waitFor();
  });

  it('come in with a report of what was not understood', async () => {
    await page.getByLabel('Take records in').setInputFiles({
      name: 'from elsewhere.csv',
      mimeType: 'text/csv',
      buffer: Buffer.from('scientificName,eventDate,inventedColumn\nBriza media,2026-06-01,odd\n'),
    });
    await page.getByText('from elsewhere.csv: 1 record taken in.').waitFor();
    await page.getByText('Not understood').first().waitFor();
  });

  it('are taken back change by change', async () => {
    await page.getByText('What was changed').click();
    await page.getByRole('button', { name: 'Take back records from from elsewhere.csv' }).click();
    await page.getByRole('region', { name: 'June 2026' }).waitFor({ state: 'detached' });
  });

  it('are in the backup, and the library is whole', async () => {
    const backup = unzipSync(await saved('Save a backup'));
    expect(new TextDecoder().decode(backup['notebook/record.json'])).toContain('Scabiosa arvensis');
    await page.getByRole('button', { name: 'Check the library' }).click();
    await page.getByText('All is well').waitFor();
  });

  it('without a fault of the page’s own', () => {
    expect(faults).toEqual([]);
  });
});
