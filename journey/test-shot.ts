import type { Page } from 'playwright-core';

/**
 * A picture drawn for the test: fine structure on a disc in the middle, a third of it with red at the top code, and one
 * bright place in a dark, even background. Drawn by the browser, so nothing of it is anybody's.
 */
export async function testShotJpeg(page: Page): Promise<Buffer> {
  const text = await page.evaluate(async () => {
    const canvas = new OffscreenCanvas(1200, 800);
    const context = canvas.getContext('2d');
    if (context === null) throw new Error('no canvas');
    context.fillStyle = 'rgb(40 60 30)';
    context.fillRect(0, 0, 1200, 800);
    context.fillStyle = 'rgb(250 250 240)';
    context.fillRect(100, 90, 90, 80);
    for (let y = 300; y < 500; y += 4) {
      for (let x = 500; x < 700; x += 4) {
        if (Math.hypot(x - 600, y - 400) > 100) continue;
        const step = (x * 7 + y * 13) % 5;
        context.fillStyle = step < 2 ? 'rgb(255 60 90)' : `rgb(${90 + step * 20} ${40 + step * 30} 110)`;
        context.fillRect(x, y, 4, 4);
      }
    }
    const bytes = new Uint8Array(
      await (await canvas.convertToBlob({ type: 'image/jpeg', quality: 0.97 })).arrayBuffer(),
    );
    return btoa(bytes.reduce((all, byte) => all + String.fromCharCode(byte), ''));
  });
  return Buffer.from(text, 'base64');
}
