/** What a copy says at its end: whether all is safe, and if not, what to do. */
import type { CopiedFile } from '@tepal/formats';

export interface CopySentence {
  readonly saying: string;
  readonly copied: number;
  readonly alreadyThere: number;
  readonly failed: number;
}

export function copySentence(
  files: readonly CopiedFile[],
  folders: readonly string[],
  allSafe: boolean,
): CopySentence {
  const count = (result: CopiedFile['result']) => files.filter((file) => file.result === result).length;
  const [copied, alreadyThere, failed] = [count('copied'), count('alreadyThere'), count('failed')];
  const sources = new Set(files.map(({ source }) => source)).size;
  const unsafe = new Set(files.filter(({ result }) => result === 'failed').map(({ source }) => source)).size;
  const places = folders.join(' and in ');
  const how = `${copied} copied and read back, ${alreadyThere} there already`;
  const saying = allSafe
    ? `All ${sources} files of the card are safe in ${places}: ${how}. The card is unchanged.`
    : `Not all is safe yet: ${unsafe} of ${sources} files of the card are not in ${places} (${how}, ${failed} failed). Keep the card; put right what is named below and give the same command again, it goes on where it stopped.`;
  return { saying, copied, alreadyThere, failed };
}
