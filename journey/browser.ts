import { chromium, type Browser } from 'playwright-core';

/** Chromium without the background traffic that a closed network would refuse. */
export function startBrowser(): Promise<Browser> {
  const executablePath = process.env['TEPAL_CHROMIUM'] ?? '/usr/bin/chromium';
  return chromium.launch({
    executablePath,
    args: [
      '--no-sandbox',
      '--disable-gpu',
      '--disable-quic',
      '--no-first-run',
      '--disable-background-networking',
      '--disable-component-update',
      '--disable-sync',
    ],
  });
}
