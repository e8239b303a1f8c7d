/** What the forecast client keeps between runs, as files in a folder that can be thrown away at any time. */
import type { ForecastCache, KeptAnswer, Pause } from '@tepal/formats';
import { createHash } from 'node:crypto';
import { mkdir, readFile, rm } from 'node:fs/promises';
import { join } from 'node:path';
import { writeWhole } from '../files/write.ts';

type Head = Omit<KeptAnswer, 'bytes'> & { readonly url: string };

/**
 * A cache in a folder, made when first written to. A file that cannot be read or does not fit counts as nothing kept;
 * one that cannot be written is passed over: the forecast was had all the same.
 */
export function diskForecastCache(folder: string): ForecastCache {
  const pathOf = (key: string, ending: string) =>
    join(folder, `${createHash('sha256').update(key).digest('hex').slice(0, 32)}.${ending}`);
  const write = async (path: string, bytes: Uint8Array | string) => {
    try {
      await mkdir(folder, { recursive: true });
      await writeWhole(path, bytes, { replace: true });
    } catch {
      // Kept or not, the answer is there; the next run asks again.
    }
  };

  return {
    async answer(url) {
      const bytes = await readFile(pathOf(url, 'answer')).catch(() => null);
      const end = bytes?.indexOf(0x0a) ?? -1;
      if (bytes === null || end < 0) return null;
      const head = parsed(bytes.toString('utf8', 0, end));
      return isHead(head) && head.url === url
        ? { ...head, bytes: new Uint8Array(bytes.subarray(end + 1)) }
        : null;
    },
    async keepAnswer(url, { bytes, ...rest }) {
      const head: Head = { ...rest, url };
      await write(pathOf(url, 'answer'), Buffer.concat([Buffer.from(`${JSON.stringify(head)}\n`), bytes]));
    },
    async pause(origin) {
      const text = await readFile(pathOf(origin, 'pause'), 'utf8').catch(() => '');
      const pause = parsed(text);
      return isPause(pause) ? pause : null;
    },
    async keepPause(origin, pause) {
      const path = pathOf(origin, 'pause');
      if (pause === null) await rm(path, { force: true }).catch(() => undefined);
      else await write(path, JSON.stringify(pause));
    },
  };
}

function parsed(text: string): Record<string, unknown> {
  try {
    const value: unknown = JSON.parse(text);
    return typeof value === 'object' && value !== null ? (value as Record<string, unknown>) : {};
  } catch {
    return {};
  }
}

const isTime = (value: unknown): value is number => typeof value === 'number' && Number.isFinite(value);
const isTextOrNull = (value: unknown): value is string | null => value === null || typeof value === 'string';

function isHead(value: object): value is Head {
  const { url, fetchedAtMs, checkedAtMs, freshUntilMs, lastModified, entityTag } = value as Partial<Head>;
  return (
    typeof url === 'string' &&
    isTime(fetchedAtMs) &&
    isTime(checkedAtMs) &&
    isTime(freshUntilMs) &&
    isTextOrNull(lastModified) &&
    isTextOrNull(entityTag)
  );
}

function isPause(value: object): value is Pause {
  const { untilMs, refusals, why } = value as Partial<Pause>;
  return isTime(untilMs) && isTime(refusals) && typeof why === 'string';
}
