/** A thread's bench: the kernel and buffers that it holds, and how its work tells how far it is. */
import type { Kernel } from '@tepal/imaging';
import { newDecodeBuffers, type DecodeBuffers } from '../decode/jpeg-decoder.ts';
import { openKernel } from './kernel-file.ts';

/** What a thread holds through its life. */
export interface Bench {
  readonly kernel: Kernel;
  readonly buffers: DecodeBuffers;
}

export async function openBench(): Promise<Bench> {
  return { kernel: await openKernel(), buffers: newDecodeBuffers() };
}

/** What a long task says while it runs. */
export type TellTask = (progress: { readonly done: number; readonly saying: string }) => void;
