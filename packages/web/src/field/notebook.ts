/**
 * The notebook in the page: fetched from the engine, opened by the replicated document's WebAssembly, which is loaded
 * apart when it is first needed. What is written goes back to the engine, which merges it.
 */
import { signal, type Signal } from '@preact/signals';
import type { StoreName } from '@tepal/formats';
import type * as NotebookPackage from '@tepal/notebook';
import { engineOf } from '../engine/engine.ts';

/** Written in by the build: where the replicated document's WebAssembly lies. */
declare const automergeAddress: string;

export type NotebookRoom = typeof NotebookPackage;

export interface OpenNotebook {
  readonly room: NotebookRoom;
  readonly notebook: NotebookPackage.Notebook;
}

let starting: Promise<NotebookRoom> | null = null;

/** The notebook's package with its document started; once for the life of the page. */
function startedRoom(): Promise<NotebookRoom> {
  starting ??= import('@tepal/notebook').then(async (room) => {
    await room.startNotebooks(automergeAddress);
    return room;
  });
  return starting;
}

const notebooks: Readonly<Record<StoreName, Signal<OpenNotebook | null>>> = {
  mine: signal<OpenNotebook | null>(null),
  invented: signal<OpenNotebook | null>(null),
};

/** The notebook of a store as last read; null before `readNotebook` has found it. */
export const notebookOf = (store: StoreName): Signal<OpenNotebook | null> => notebooks[store];

/**
 * Reads the notebook of a store.
 *
 * @returns null when it is here, else the sentence that says why not
 */
export async function readNotebook(store: StoreName): Promise<string | null> {
  try {
    const [room, answer] = await Promise.all([startedRoom(), engineOf(store).notebook()]);
    return answer.ok ? take(store, room, answer.value) : answer.fault.message;
  } catch {
    return 'The notebook’s script could not be loaded. Reload once the engine answers.';
  }
}

function take(store: StoreName, room: NotebookRoom, bytes: Uint8Array): string | null {
  // A first start has no notebook yet: an empty one is begun.
  if (bytes.length === 0) {
    notebooks[store].value = { room, notebook: room.createNotebook() };
    return null;
  }
  const opened = room.openNotebook(bytes);
  if (!opened.ok) return opened.fault.message;
  notebooks[store].value = { room, notebook: opened.value };
  return null;
}

/**
 * Makes one change and hands it to the engine.
 *
 * @param store whose notebook
 * @param message what the change is called in the history
 * @param write writes the change
 * @returns null when it is kept, else the sentence that says why not; the notebook is then as it was
 */
export async function writeNotebook(
  store: StoreName,
  message: string,
  write: (pen: NotebookPackage.Pen) => void,
): Promise<string | null> {
  if (notebooks[store].value === null) {
    const fault = await readNotebook(store);
    if (fault !== null) return fault;
  }
  const open = notebooks[store].value;
  if (open === null) return 'The notebook is not open.';
  const { room } = open;
  const before = room.saveNotebook(open.notebook);
  try {
    const written = room.change(open.notebook, { message, timeMs: Date.now() }, write);
    const answer = await engineOf(store).mergeNotebook(new Uint8Array(room.saveNotebook(written)));
    if (answer.ok) return take(store, room, answer.value);
    take(store, room, before);
    return answer.fault.message;
  } catch (fault) {
    take(store, room, before);
    return fault instanceof Error ? fault.message : 'The change could not be written.';
  }
}
