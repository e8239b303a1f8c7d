/** The content hash by which the library knows a frame wherever it lies. */
import { createHash } from 'node:crypto';

/** @returns "sha256:" and 64 hex digits */
export function contentHash(bytes: Uint8Array): string {
  return `sha256:${createHash('sha256').update(bytes).digest('hex')}`;
}
