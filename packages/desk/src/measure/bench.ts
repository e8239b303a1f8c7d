/** A thread's bench: the kernel and the room to decode in that it holds, and how its work tells how far it is. */
import type { Kernel } from '@tepal/imaging';
import { newDecodeRoom, type DecodeRoom, type PictureMemory } from '../decode/room.ts';
import { openKernel } from './kernel-file.ts';

/** What a thread holds through its life. */
export interface Bench {
  readonly kernel: Kernel;
  readonly room: DecodeRoom;
}

/** @param memory that the thread shares with others */
export async function openBench(memory?: PictureMemory): Promise<Bench> {
  return { kernel: await openKernel(), room: newDecodeRoom(memory) };
}

/** What a long task says while it runs. */
export type TellTask = (progress: { readonly done: number; readonly saying: string }) => void;
