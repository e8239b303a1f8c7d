/** Faults of the outside world at the desk: a path and a sentence, with the exit status that they lead to. */

/** Exit status of the command line: 0 done, 2 wrong use, 3 nothing could be read, 4 done but some inputs failed. */
export const exitStatus = { done: 0, wrongUse: 2, nothingRead: 3, someFailed: 4 } as const;

export interface FileFault {
  readonly path: string;
  /** One sentence: what was found, and what would be accepted. */
  readonly reason: string;
}

/** A fault that ends the work at hand; its message is a sentence for the user, never a stack trace. */
export class DeskFault extends Error {
  override readonly name = 'DeskFault';

  /** @param status the exit status it leads to */
  constructor(
    message: string,
    readonly status: 2 | 3 | 4 = 2,
  ) {
    super(message);
  }
}

/** The reason behind an error of the file system, in words. */
export function reasonOf(error: unknown): string {
  const code =
    typeof error === 'object' && error !== null && 'code' in error && typeof error.code === 'string'
      ? error.code
      : '';
  const told = sentences[code];
  if (told !== undefined) return told;
  if (error instanceof Error && error.message !== '') return firstLine(error.message);
  return 'it failed for a reason that was not given';
}

const sentences: Readonly<Record<string, string>> = {
  ENOENT: 'there is nothing of that name',
  EACCES: 'you are not allowed to read it; change its permissions',
  EPERM: 'the system does not allow it',
  ENOTDIR: 'it is a file, but a folder is needed',
  EISDIR: 'it is a folder, but a file is needed',
  ENOSPC: 'the disk is full',
  EROFS: 'the disk can only be read, not written',
  EIO: 'the disk reports a read error',
  ELOOP: 'its links lead round in a circle',
  EMFILE: 'too many files are open',
  ENAMETOOLONG: 'its name is too long for this disk',
  EEXIST: 'it is there already',
};

function firstLine(message: string): string {
  return (message.split('\n')[0] ?? message).slice(0, 300);
}
