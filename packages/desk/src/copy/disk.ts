/** What copying asks of a file system: few verbs, so that a test can stand in for a full disk or a pulled card. */
import type { Dirent } from 'node:fs';
import { link, mkdir, open, readdir, rename, stat, unlink, utimes, type FileHandle } from 'node:fs/promises';
import { dirname } from 'node:path';

export interface DiskEntry {
  readonly name: string;
  readonly is: 'file' | 'folder' | 'other';
}

export interface DiskFile {
  readonly bytes: number;
  readonly modifiedMs: number;
}

export interface Reading {
  /** @returns how many bytes were read; 0 at the end */
  read(into: Uint8Array): Promise<number>;
  close(): Promise<void>;
}

export interface Writing {
  write(chunk: Uint8Array): Promise<void>;
  /** Flushes to the disk, with this time of change, and closes. */
  finish(modifiedMs: number): Promise<void>;
  /** Closes without any promise of what is on the disk. */
  abandon(): Promise<void>;
}

/** Every verb throws the system's error, with its `code`. */
export interface Disk {
  list(folder: string): Promise<readonly DiskEntry[]>;
  /** @returns null when there is no file of that name */
  fileAt(path: string): Promise<DiskFile | null>;
  read(path: string): Promise<Reading>;
  /** A new file; throws EEXIST when the name is taken. */
  create(path: string): Promise<Writing>;
  /** Gives a finished file its final name, and flushes the folder; throws EEXIST rather than replace anything. */
  settle(temporary: string, final: string): Promise<void>;
  /** For temporary files of our own only. */
  remove(path: string): Promise<void>;
  /** Makes the folder and those above it, and flushes them. */
  makeFolder(path: string): Promise<void>;
  /** Adds a line to a file of our own. */
  append(path: string, line: string): Promise<void>;
}

const codeOf = (error: unknown) => (error as { code?: string }).code;

/** The computer's own file system. */
export const nodeDisk: Disk = {
  async list(folder) {
    const entries = await readdir(folder, { withFileTypes: true });
    return entries.map((entry) => ({ name: entry.name, is: kindOf(entry) }));
  },
  async fileAt(path) {
    try {
      const found = await stat(path);
      return found.isFile() ? { bytes: found.size, modifiedMs: found.mtimeMs } : null;
    } catch (error) {
      if (codeOf(error) === 'ENOENT' || codeOf(error) === 'ENOTDIR') return null;
      throw error;
    }
  },
  async read(path) {
    const file = await open(path, 'r');
    return {
      read: async (into) => (await file.read(into, 0, into.length, null)).bytesRead,
      close: () => file.close(),
    };
  },
  async create(path) {
    const file = await open(path, 'wx');
    return {
      write: (chunk) => writeAll(file, chunk),
      async finish(modifiedMs) {
        try {
          await file
            .utimes(new Date(), new Date(modifiedMs))
            .catch(() => utimes(path, new Date(), modifiedMs));
          await file.sync();
        } finally {
          await file.close();
        }
      },
      abandon: () => file.close(),
    };
  },
  async settle(temporary, final) {
    try {
      await link(temporary, final);
      await unlink(temporary);
    } catch (error) {
      if (codeOf(error) === 'EEXIST' || (await nodeDisk.fileAt(final)) !== null) {
        throw Object.assign(new Error(`${final} is there already`), { code: 'EEXIST' });
      }
      // Disks without hard links (exFAT) leave check and rename.
      await rename(temporary, final);
    }
    await flushFolder(dirname(final));
  },
  remove: (path) => unlink(path),
  async makeFolder(path) {
    const first = await mkdir(path, { recursive: true });
    if (first === undefined) return;
    for (let folder = path; ; folder = dirname(folder)) {
      await flushFolder(dirname(folder));
      if (folder === first || folder === dirname(folder)) break;
    }
  },
  async append(path, line) {
    const file = await open(path, 'a');
    try {
      await file.writeFile(line);
    } finally {
      await file.close();
    }
  },
};

function kindOf(entry: Dirent): DiskEntry['is'] {
  return entry.isFile() ? 'file' : entry.isDirectory() ? 'folder' : 'other';
}

async function writeAll(file: FileHandle, chunk: Uint8Array): Promise<void> {
  for (let at = 0; at < chunk.length;) {
    const { bytesWritten } = await file.write(chunk, at, chunk.length - at, null);
    at += bytesWritten;
  }
}

async function flushFolder(path: string): Promise<void> {
  try {
    const folder = await open(path, 'r');
    try {
      await folder.sync();
    } finally {
      await folder.close();
    }
  } catch {
    // Some systems cannot flush a folder; the file itself is on the disk.
  }
}
