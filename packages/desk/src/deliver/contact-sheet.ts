/** Many pictures small on one page, each with its title: to look through, not to deliver. */
import { unlink, writeFile } from 'node:fs/promises';
import { basename, extname } from 'node:path';
import sharp from 'sharp';
import { MADE_BY_TEPAL } from '../decode/describe.ts';
import { DeskFault, reasonOf, type FileFault } from '../files/faults.ts';
import { checkOutput, settle, temporaryName } from '../files/write.ts';
import { asFault, photographKind } from '../finish/finish.ts';
import { profileOf } from '../finish/spaces.ts';
import type { Pool } from '../measure/pool.ts';
import type { TellWork } from '../finish/tell.ts';
import { attachProfile, readTags } from './exif-tool.ts';

export interface SheetWish {
  readonly pictures: readonly string[];
  readonly output: string;
  readonly columns: number;
  /** Of the page [px]. */
  readonly widthPx: number;
  readonly replace: boolean;
  readonly pool: Pool;
  readonly tell?: TellWork;
}

export interface Sheet {
  readonly output: string;
  readonly widthPx: number;
  readonly heightPx: number;
  readonly pictures: number;
  readonly failed: readonly FileFault[];
}

const MARGIN = 24;
const LINE = 28;

/**
 * Writes the page as a JPEG in sRGB without any tag but the program's name: no place, no owner.
 *
 * @throws DeskFault with a sentence; a picture that cannot be read is listed and the page made without it
 */
export async function contactSheet(wish: SheetWish): Promise<Sheet> {
  const { pictures, output, columns, widthPx, pool } = wish;
  if (!['.jpg', '.jpeg'].includes(extname(output).toLowerCase())) {
    throw new DeskFault(`A contact sheet is a .jpg, but the output is ${output}.`);
  }
  await checkOutput(output, wish);
  const cell = Math.floor((widthPx - MARGIN * (columns + 1)) / columns);
  if (cell < 60) throw new DeskFault(`${columns} columns do not fit on a page ${widthPx} px wide.`);
  const failed: FileFault[] = [];
  const shown: {
    readonly path: string;
    readonly title: string;
    readonly width: number;
    readonly height: number;
  }[] = [];
  const temporary = temporaryName(output);
  try {
    for (const [done, picture] of pictures.entries()) {
      wish.tell?.({ done, total: pictures.length, saying: 'Making the pictures small.' });
      const path = `${temporary}.${done}.jpg`;
      try {
        const kind = await photographKind(picture);
        const made = await pool.run('render', {
          ...{ source: { path: picture, kind }, steps: null, sharpening: { medium: 'screen', strength: 1 } },
          ...{
            size: { kind: 'box', box: { width: cell, height: cell } },
            colour: { kind: 'space', space: 'srgb' },
          },
          file: { kind: 'jpeg', path, limitBytes: null },
        });
        shown.push({ path, title: await titleOf(picture), width: made.widthPx, height: made.heightPx });
      } catch (error) {
        failed.push({ path: picture, reason: reasonOf(error) });
        await unlink(path).catch(() => undefined);
      }
    }
    if (shown.length === 0)
      throw new DeskFault(
        `None of the pictures can be read. ${failed[0]?.path ?? ''}: ${failed[0]?.reason ?? ''}`,
        3,
      );
    const rows = Math.ceil(shown.length / columns);
    const heightPx = MARGIN + rows * (cell + LINE + MARGIN);
    const page = sharp({ create: { width: widthPx, height: heightPx, channels: 3, background: '#ffffff' } });
    const layers = shown.flatMap(({ path, title, width, height }, n) => {
      const left = MARGIN + (n % columns) * (cell + MARGIN);
      const top = MARGIN + Math.floor(n / columns) * (cell + LINE + MARGIN);
      return [
        {
          input: path,
          left: left + Math.floor((cell - width) / 2),
          top: top + Math.floor((cell - height) / 2),
        },
        { input: Buffer.from(lineOf(title, cell)), left, top: top + cell },
      ];
    });
    const bytes = await page.composite(layers).jpeg({ quality: 90 }).toBuffer();
    await writeFile(temporary, bytes, { flag: 'wx' });
    await attachProfile(temporary, { 'IFD0:Software': MADE_BY_TEPAL }, profileOf('srgb'));
    await settle(temporary, output, wish);
    return { output, widthPx, heightPx, pictures: shown.length, failed };
  } catch (error) {
    throw await asFault(error, output);
  } finally {
    await Promise.all(
      [temporary, ...shown.map(({ path }) => path)].map((path) => unlink(path).catch(() => undefined)),
    );
  }
}

/** Its own title, else its file's name. */
async function titleOf(picture: string): Promise<string> {
  const tags = await readTags(picture);
  const title = tags['XMP-dc:Title'] ?? tags['IPTC:ObjectName'];
  return typeof title === 'string' && title.trim() !== '' ? title : basename(picture, extname(picture));
}

/** A line of text as a drawing as wide as its picture. */
function lineOf(text: string, width: number): string {
  const most = Math.max(4, Math.floor(width / 8.5));
  const cut = [...text].length > most ? `${[...text].slice(0, most - 1).join('')}…` : text;
  const safe = cut.replaceAll('&', '&amp;').replaceAll('<', '&lt;');
  return (
    `<svg xmlns="http://www.w3.org/2000/svg" width="${width}" height="${LINE}">` +
    `<text x="${width / 2}" y="19" font-family="sans-serif" font-size="15" text-anchor="middle" fill="#222">${safe}</text></svg>`
  );
}
