/** The phones that were let in: a key each, of which only the hash is kept; listed, and revoked one by one. */
import type { MetDevice } from '@tepal/formats';
import { createHash, randomBytes, randomUUID, timingSafeEqual } from 'node:crypto';
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { DeskFault, reasonOf } from '../files/faults.ts';
import { writeWhole } from '../files/write.ts';

interface KeptDevice extends MetDevice {
  /** SHA-256 of the key, hexadecimal. */
  readonly keyHash: string;
}

export interface Devices {
  list(): readonly MetDevice[];
  /** @returns what the phone keeps and sends with each request: "id.key" */
  add(name: string, now: string): Promise<string>;
  /** The device whose key this is; null for none, a wrong one or a revoked one. */
  known(credential: string): MetDevice | null;
  seen(id: string, now: string): Promise<void>;
  /** @returns whether there was such a device */
  revoke(id: string): Promise<boolean>;
}

/** @throws DeskFault when the list is there but cannot be read: nobody is let in by mistake, nobody is forgotten */
export async function openDevices(folder: string): Promise<Devices> {
  const path = join(folder, 'devices.json');
  let devices = await read(path);
  let last: Promise<unknown> = Promise.resolve();
  const keep = (next: readonly KeptDevice[]) => {
    devices = next;
    const saved = last.then(() =>
      writeWhole(path, JSON.stringify({ schema: 'tepal/devices/1', devices }, null, 2), { replace: true }),
    );
    last = saved.catch(() => undefined);
    return saved;
  };
  const find = (id: string) => devices.find((device) => device.id === id);
  return {
    list: () => devices.map(shown),
    async add(name, now) {
      const [id, key] = [randomUUID(), randomBytes(32).toString('base64url')];
      await keep([...devices, { id, name, pairedAt: now, lastSeenAt: now, keyHash: hashOf(key) }]);
      return `${id}.${key}`;
    },
    known(credential) {
      const [id = '', key = ''] = credential.split('.');
      const device = find(id);
      // The same work for an unknown device, so that nothing is learned from the time it takes.
      const wanted = Buffer.from(device?.keyHash ?? hashOf(''), 'hex');
      const same = timingSafeEqual(Buffer.from(hashOf(key), 'hex'), wanted);
      return device === undefined || !same ? null : shown(device);
    },
    seen: (id, now) =>
      keep(devices.map((device) => (device.id === id ? { ...device, lastSeenAt: now } : device))),
    async revoke(id) {
      if (find(id) === undefined) return false;
      await keep(devices.filter((device) => device.id !== id));
      return true;
    },
  };
}

/** A device without what its key is known by. */
const shown = ({ id, name, pairedAt, lastSeenAt }: KeptDevice): MetDevice => ({
  id,
  name,
  pairedAt,
  lastSeenAt,
});

const hashOf = (key: string) => createHash('sha256').update(key).digest('hex');

async function read(path: string): Promise<readonly KeptDevice[]> {
  let text: string;
  try {
    text = await readFile(path, 'utf8');
  } catch (error) {
    if ((error as { code?: string }).code === 'ENOENT') return [];
    throw new DeskFault(`The list of paired phones ${path} cannot be read: ${reasonOf(error)}.`, 3);
  }
  const found = parsed(text);
  if (found?.schema === 'tepal/devices/1' && Array.isArray(found.devices)) return found.devices;
  throw new DeskFault(`${path} is no list of paired phones; move it away and pair them again.`, 3);
}

function parsed(text: string): { schema?: unknown; devices?: readonly KeptDevice[] } | null {
  try {
    return JSON.parse(text) as { schema?: unknown; devices?: readonly KeptDevice[] } | null;
  } catch {
    // Cut off or foreign: said by the caller.
    return null;
  }
}
