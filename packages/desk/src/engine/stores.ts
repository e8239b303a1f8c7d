/** The two stores: the photographer's own, and the invented outing, which neither syncs nor exports. */
import type { StoreName } from '@tepal/formats';
import { mergeNotebooks, openNotebook, saveNotebook, type Notebook } from '@tepal/notebook';
import { copyFile, mkdir } from 'node:fs/promises';
import { existsSync } from 'node:fs';
import { homedir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { DeskFault } from '../files/faults.ts';
import { exists } from '../files/write.ts';
import { openLibrary, type Library } from '../library/library.ts';
import { readNotebook, writeNotebook } from '../library/notebook-file.ts';

export interface Store {
  readonly name: StoreName;
  readonly folder: string;
  readonly library: Library;
  /** Where the invented frames lie; null for the photographer's own store, whose folder is chosen. */
  readonly inventedFrames: string | null;
  notebook(): Promise<Notebook>;
  saveNotebook(notebook: Notebook): Promise<void>;
  /**
   * Merges another device's notebook into this one, one merge at a time; answers the bytes of both.
   *
   * @throws DeskFault when the bytes are no notebook
   */
  mergeNotebook(bytes: Uint8Array): Promise<Uint8Array>;
  /** The forecast's file of a site. */
  forecastPath(siteId: string): string;
  /** The folder of photographs that the pages show: the one opened last; null before the first. */
  photographs(): string | null;
  /** Shows another folder from now on; the invented outing stays with its own. */
  open(folder: string): void;
}

/** Where the user's data are kept on this system. */
export function dataFolder(): string {
  const { env, platform } = process;
  if (platform === 'darwin') return join(homedir(), 'Library', 'Application Support', 'Tepal');
  if (platform === 'win32') return join(env['APPDATA'] ?? join(homedir(), 'AppData', 'Roaming'), 'Tepal');
  return join(env['XDG_DATA_HOME'] ?? join(homedir(), '.local', 'share'), 'tepal');
}

/** The invented outing: beside the bundle `packages/desk/dist`, or from the sources. */
const demos = ['../../../demo/invented', '../../../../demo/invented'];

export async function openStores(folder: string): Promise<Readonly<Record<StoreName, Store>>> {
  const demo = demos
    .map((place) => fileURLToPath(new URL(place, import.meta.url)))
    .find((path) => existsSync(join(path, 'notebook.automerge')));
  const invented = join(folder, 'invented');
  await mkdir(invented, { recursive: true });
  if (demo !== undefined && !(await exists(join(invented, 'notebook.automerge')))) {
    await copyFile(join(demo, 'notebook.automerge'), join(invented, 'notebook.automerge'));
  }
  return {
    mine: openStore('mine', folder, null),
    invented: openStore('invented', invented, demo ?? null),
  };
}

function openStore(name: StoreName, folder: string, demo: string | null): Store {
  const library = openLibrary(folder);
  const notebookFile = join(folder, 'notebook.automerge');
  const inventedFrames = demo === null ? null : join(demo, 'frames');
  const notebook = async () => (await readNotebook(notebookFile, { create: true })).notebook;
  /** One change of the notebook at a time: two merges at once would lose one. */
  let last: Promise<unknown> = Promise.resolve();
  const merged = async (bytes: Uint8Array) => {
    const mine = await notebook();
    const theirs = openNotebook(bytes);
    if (!theirs.ok) throw new DeskFault(theirs.fault.message, 3);
    const both = mergeNotebooks(mine, theirs.value);
    await writeNotebook(notebookFile, both);
    return saveNotebook(both);
  };
  return {
    name,
    folder,
    library,
    inventedFrames,
    notebook,
    saveNotebook: (changed) => writeNotebook(notebookFile, changed),
    mergeNotebook(bytes) {
      const next = last.then(() => merged(bytes));
      last = next.catch(() => undefined);
      return next;
    },
    forecastPath: (siteId) =>
      demo === null
        ? join(folder, 'forecasts', `${encodeURIComponent(siteId).replaceAll('.', '%2E')}.json`)
        : join(demo, 'forecast.json'),
    photographs: () => (demo === null ? library.setting('folder') : inventedFrames),
    open(folder) {
      if (demo === null) library.setSetting('folder', folder);
    },
  };
}
