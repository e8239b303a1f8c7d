/**
 * LibRaw compiled to WebAssembly: its module, started once a thread and with an end to its memory, and a fresh decoder
 * for each job, since the settings of one job cling to the next. Its opaque errors become sentences here.
 */
import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { DecodeFault } from './jpeg-decoder.ts';

export interface LibRawInstance {
  open(bytes: Uint8Array, settings: Record<string, unknown>): void;
  metadata(full: boolean): Record<string, unknown> | undefined;
  imageData(): { width: number; height: number; colors: number; bits: number; data: ArrayLike<number> };
  rawImageData(): SensorData | undefined;
  thumbnailData(): { data: Uint8Array; width: number; height: number; format: string } | undefined;
  delete(): void;
}

export interface SensorData {
  readonly raw_width: number;
  readonly raw_height: number;
  readonly top_margin: number;
  readonly left_margin: number;
  readonly width: number;
  readonly height: number;
  readonly data: Uint16Array;
}

interface LibRawModule {
  readonly LibRaw: new () => LibRawInstance;
}

type LibRawCore = (options: {
  readonly wasmBinary: Uint8Array;
  readonly wasmMemory: WebAssembly.Memory;
  print(): void;
  printErr(): void;
}) => Promise<LibRawModule>;

const PAGE = 65_536;
/** The module starts with so much address space, of which only what is used is taken [pages of 64 KiB]. */
const INITIAL_PAGES = 4096;
/** What it can address at most [pages of 64 KiB]. */
const MOST_PAGES = 32_768;
/** Files up to this size have their headers read within the first pages [bytes]. */
const USUAL_FILE_BYTES = 96 * 2 ** 20;

/**
 * The package's own entry wants a browser's Worker; its core module runs anywhere when handed the bytes.
 *
 * @param pages where its memory ends: a damaged file can ask for all that there is
 */
async function startCore(pages: number): Promise<LibRawModule> {
  const folder = dirname(createRequire(import.meta.url).resolve('libraw-wasm'));
  const { default: start } = (await import(pathToFileURL(join(folder, 'libraw.js')).href)) as {
    default: LibRawCore;
  };
  const wasmBinary = await readFile(join(folder, 'libraw.wasm'));
  const wasmMemory = new WebAssembly.Memory({ initial: INITIAL_PAGES, maximum: pages, shared: true });
  // What it prints are the reasons of faults, which are told in sentences here.
  return start({ wasmBinary, wasmMemory, print: () => undefined, printErr: () => undefined });
}

/** For headers and previews: kept for the next file, since it stays small. */
let kept: Promise<LibRawModule> | undefined;

/** Reads what lies in the headers. @throws DecodeFault with a sentence */
export async function withHeaders<T>(bytes: Uint8Array, use: (decoder: LibRawInstance) => T): Promise<T> {
  if (bytes.length > USUAL_FILE_BYTES) {
    const pages = INITIAL_PAGES + Math.ceil((2 * bytes.length) / PAGE);
    return decodeWith(await startCore(Math.min(MOST_PAGES, pages)), bytes, {}, 'headers', use);
  }
  kept ??= startCore(INITIAL_PAGES);
  return decodeWith(await kept, bytes, {}, 'headers', use);
}

/**
 * Any job, in a module of its own; its memory comes back when that is collected, or the thread ends.
 *
 * @param what is decoded, for the sentence of a fault
 * @param mostBytes that it may take; all that it can address unless given
 * @throws DecodeFault with a sentence
 */
export async function withDecoder<T>(
  bytes: Uint8Array,
  settings: Record<string, unknown>,
  what: string,
  use: (decoder: LibRawInstance) => T,
  mostBytes = MOST_PAGES * PAGE,
): Promise<T> {
  const pages = Math.min(MOST_PAGES, Math.max(INITIAL_PAGES, Math.ceil(mostBytes / PAGE)));
  return decodeWith(await startCore(pages), bytes, settings, what, use);
}

function decodeWith<T>(
  { LibRaw }: LibRawModule,
  bytes: Uint8Array,
  settings: Record<string, unknown>,
  what: string,
  use: (decoder: LibRawInstance) => T,
): T {
  if (bytes.length === 0) throw new DecodeFault('The raw file is empty (0 bytes).');
  const decoder = new LibRaw();
  try {
    decoder.open(bytes, settings);
    return use(decoder);
  } catch (error) {
    if (error instanceof DecodeFault) throw error;
    // A trap leaves the module in no state to go on with.
    if (error instanceof WebAssembly.RuntimeError) kept = undefined;
    throw new DecodeFault(
      `The raw file's ${what} cannot be decoded: it is cut off, damaged or not supported.`,
    );
  } finally {
    try {
      decoder.delete();
    } catch {
      // A decoder that failed may not be whole enough to be deleted; its memory goes with the module.
    }
  }
}
