/**
 * The notebook on this device: complete here, kept here first, exchanged with the desk when it answers. The replicated
 * document's WebAssembly is loaded apart, when the notebook is first needed.
 */
import { signal, type Signal } from '@preact/signals';
import type { StoreName } from '@tepal/formats';
import type * as NotebookPackage from '@tepal/notebook';
import { engineOf } from '../engine/engine.ts';
import { askToKeep, keep, kept } from './kept.ts';
import { exchangeNotebook, readPairing } from './peer.ts';

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

/** When this device last met the desk, and whether it has written since. */
export interface Exchange {
  /** ms; null when it never did. */
  readonly lastMs: number | null;
  readonly writtenSince: boolean;
}

export const exchange = signal<Exchange>({ lastMs: null, writtenSince: false });

function noteExchange(next: Exchange): void {
  exchange.value = next;
  void keep('exchange', next).catch(() => undefined);
}

/**
 * Reads the notebook of a store: the photographer's own from this device, then met with the desk; the invented one
 * from the desk, for it stays with its page.
 *
 * @returns null when it is here, else the sentence that says why not
 */
export async function readNotebook(store: StoreName): Promise<string | null> {
  try {
    const room = await startedRoom();
    return store === 'invented' ? await readInvented(room) : await readMine(room);
  } catch {
    return 'The notebook’s script could not be loaded. Reload once there is a network.';
  }
}

async function readInvented(room: NotebookRoom): Promise<string | null> {
  const answer = await engineOf('invented').notebook();
  return answer.ok ? take('invented', room, answer.value) : answer.fault.message;
}

async function readMine(room: NotebookRoom): Promise<string | null> {
  await readPairing();
  if (notebooks.mine.value === null) {
    const bytes = await kept<Uint8Array>('notebook').catch(() => undefined);
    exchange.value = (await kept<Exchange>('exchange').catch(() => undefined)) ?? exchange.value;
    const fault = take('mine', room, bytes ?? new Uint8Array());
    if (fault !== null) return fault;
  }
  const fault = await meetDesk();
  // Nobody there is no fault: the notebook is complete on this device.
  return fault === null || fault.status === 0 || fault.status === 404 ? null : fault.message;
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

/** One change of the notebook at a time: each goes on from what the one before left. */
let last: Promise<unknown> = Promise.resolve();
function inTurn<T>(work: () => Promise<T>): Promise<T> {
  const next = last.then(work, work);
  last = next.catch(() => undefined);
  return next;
}

/** Exchanges the notebook with the desk, and keeps what comes of it. */
export function meetDesk(): Promise<{ status: number; message: string } | null> {
  return inTurn(meetNow);
}

async function meetNow(): Promise<{ status: number; message: string } | null> {
  const open = notebooks.mine.value;
  if (open === null) return null;
  const { room } = open;
  const answer = await exchangeNotebook(new Uint8Array(room.saveNotebook(open.notebook)));
  if (!answer.ok) return answer.fault;
  const theirs = room.openNotebook(answer.value);
  if (!theirs.ok) return { status: 422, message: theirs.fault.message };
  const both = room.mergeNotebooks(open.notebook, theirs.value);
  notebooks.mine.value = { room, notebook: both };
  await keep('notebook', room.saveNotebook(both)).catch(() => undefined);
  noteExchange({ lastMs: Date.now(), writtenSince: false });
  return null;
}

/**
 * Makes one change: kept on this device first, then handed to the desk when it answers.
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
  return reworkNotebook(store, ({ room, notebook }) =>
    room.change(notebook, { message, timeMs: Date.now() }, write),
  );
}

/**
 * Puts another state of the notebook in its place, as an import or taking a change back makes it: kept on this device
 * first, then handed to the desk when it answers.
 *
 * @param work gives the notebook as it is to be
 * @returns null when it is kept, else the sentence that says why not; the notebook is then as it was
 */
export async function reworkNotebook(
  store: StoreName,
  work: (open: OpenNotebook) => NotebookPackage.Notebook,
): Promise<string | null> {
  if (store === 'invented') return 'The invented outing never syncs; nothing is written into it.';
  if (notebooks.mine.value === null) {
    const fault = await readNotebook('mine');
    if (fault !== null) return fault;
  }
  return inTurn(async () => {
    const fault = await writeNow(work);
    if (fault !== null) return fault;
    noteExchange({ ...exchange.value, writtenSince: true });
    const met = await meetNow();
    return met === null || met.status === 0 || met.status === 404 ? null : met.message;
  });
}

async function writeNow(work: (open: OpenNotebook) => NotebookPackage.Notebook): Promise<string | null> {
  const open = notebooks.mine.value;
  if (open === null) return 'The notebook is not open.';
  const { room } = open;
  const before = room.saveNotebook(open.notebook);
  try {
    const written = work(open);
    await keepWritten(room.saveNotebook(written));
    notebooks.mine.value = { room, notebook: written };
    return null;
  } catch (fault) {
    take('mine', room, before);
    return fault instanceof Error ? fault.message : 'The change could not be written.';
  }
}

/**
 * Takes back the last change that was made on this device since the page was opened.
 *
 * @returns null when it is taken back, else the sentence that says why not
 */
export function undoLast(): Promise<string | null> {
  return inTurn(async () => {
    const open = notebooks.mine.value;
    if (open === null) return 'The notebook is not open.';
    const { room } = open;
    const last = room.history(open.notebook).findLast(({ mine }) => mine);
    if (last === undefined) return 'There is nothing to take back.';
    const note = { message: `taken back: ${last.message}`, timeMs: Date.now() };
    const { notebook } = room.undoChange(open.notebook, last.hash, note);
    notebooks.mine.value = { room, notebook };
    await keepWritten(room.saveNotebook(notebook));
    noteExchange({ ...exchange.value, writtenSince: true });
    const met = await meetNow();
    return met === null || met.status === 0 || met.status === 404 ? null : met.message;
  });
}

async function keepWritten(bytes: Uint8Array): Promise<void> {
  try {
    await keep('notebook', bytes);
  } catch {
    throw new Error(
      'This browser keeps nothing for this page (a private window, or a full disk): not written.',
    );
  }
  void askToKeep();
}

/** Takes another device's notebook or exchange file in; answers a sentence on a fault, null when it is done. */
export async function takeFile(bytes: Uint8Array): Promise<string | null> {
  const fault = notebooks.mine.value === null ? await readNotebook('mine') : null;
  if (fault !== null) return fault;
  return inTurn(async () => {
    const open = notebooks.mine.value;
    if (open === null) return 'The notebook is not open.';
    const { room } = open;
    const taken = room.takeExchange(open.notebook, bytes);
    if (!taken.ok) return taken.fault.message;
    await keepWritten(room.saveNotebook(taken.value.notebook));
    notebooks.mine.value = { room, notebook: taken.value.notebook };
    noteExchange({ lastMs: Date.now(), writtenSince: exchange.value.writtenSince });
    return null;
  });
}

/** The whole notebook as an exchange file. */
export async function exchangeFile(from: string): Promise<Uint8Array<ArrayBuffer> | null> {
  if (notebooks.mine.value === null) await readNotebook('mine');
  const open = notebooks.mine.value;
  return open === null ? null : new Uint8Array(open.room.writeExchange(open.notebook, { from }));
}
