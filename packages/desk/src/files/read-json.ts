/** A JSON file as a value still to be checked. */
import { readFile } from 'node:fs/promises';
import { DeskFault, reasonOf } from './faults.ts';

/** @throws DeskFault with a sentence: it cannot be read, or is no JSON */
export async function readJson(path: string): Promise<unknown> {
  let text: string;
  try {
    text = await readFile(path, 'utf8');
  } catch (error) {
    throw new DeskFault(`${path} cannot be read: ${reasonOf(error)}.`, 3);
  }
  try {
    return JSON.parse(text) as unknown;
  } catch {
    throw new DeskFault(`${path} is no JSON.`, 3);
  }
}
