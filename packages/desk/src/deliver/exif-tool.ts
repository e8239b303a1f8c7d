/** The one file that knows ExifTool: tags read and written, profiles attached. Started once, when first needed. */
import { ExifTool } from 'exiftool-vendored';
import { unlink, writeFile } from 'node:fs/promises';
import { DeskFault, reasonOf } from '../files/faults.ts';

let running: ExifTool | undefined;

function tool(): ExifTool {
  running ??= new ExifTool({ maxProcs: 1, taskTimeoutMillis: 60_000 });
  return running;
}

/** Ends ExifTool, if it was started; the program cannot end before. */
export async function endExifTool(): Promise<void> {
  const ending = running;
  running = undefined;
  await ending?.end();
}

/**
 * Every tag of a file by its group and name: "GPS:GPSLatitude". Numbers as numbers.
 *
 * @throws DeskFault when the file cannot be read
 */
export async function readTags(path: string): Promise<Readonly<Record<string, unknown>>> {
  try {
    const found = await tool().readRaw(path, { readArgs: ['-G1', '-n', '-a', '-struct'] });
    return found as Record<string, unknown>;
  } catch (error) {
    throw new DeskFault(`The tags of ${path} cannot be read: ${reasonOf(error)}.`, 3);
  }
}

/**
 * Writes tags in place; for files of our own making only, never for an original.
 *
 * @param tags by group and name; a list becomes a list
 * @param profilePath an ICC profile to attach, its bytes unaltered
 */
export async function writeTags(
  path: string,
  tags: Readonly<Record<string, string | number | readonly string[]>>,
  profilePath?: string,
): Promise<void> {
  // Values go in as single lines: a line break would end the argument.
  const line = (value: string | number) =>
    String(value).replaceAll('&', '&amp;').replaceAll('\n', '&#xa;').replaceAll('\r', '');
  const args = Object.entries(tags).flatMap(([name, value]) =>
    typeof value === 'object' ? value.map((one) => `-${name}=${line(one)}`) : [`-${name}=${line(value)}`],
  );
  const profile = profilePath === undefined ? [] : [`-ICC_Profile<=${profilePath}`];
  if (args.length + profile.length === 0) return;
  try {
    await tool().write(
      path,
      {},
      {
        writeArgs: ['-E', '-n', '-codedcharacterset=utf8', '-overwrite_original', ...args, ...profile],
        useMWG: false,
      },
    );
  } catch (error) {
    throw new DeskFault(`The caption could not be written into ${path}: ${reasonOf(error)}.`, 3);
  }
}

/**
 * Writes tags, and the profile where the file holds none, through a file of ours that is removed again.
 *
 * @param profile its bytes, attached unaltered; null where the file holds its own
 */
export async function attachProfile(
  path: string,
  tags: Parameters<typeof writeTags>[1],
  profile: Uint8Array | null,
): Promise<void> {
  if (profile === null) return writeTags(path, tags);
  const beside = `${path}.icc`;
  try {
    await writeFile(beside, profile, { flag: 'wx' });
    await writeTags(path, tags, beside);
  } finally {
    await unlink(beside).catch(() => undefined);
  }
}
