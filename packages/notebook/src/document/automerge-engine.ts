/**
 * Starting Automerge. Its slim build is imported here and by its neighbours, so that no bundle carries the
 * WebAssembly inside its script: the host hands the bytes over once.
 */
import { initializeWasm, isWasmInitialized } from '@automerge/automerge/slim';

/**
 * Makes notebooks usable; to be awaited once before any other function of the document is called. A second call does
 * nothing.
 *
 * In Node the bytes are the file that `@automerge/automerge/automerge.wasm` resolves to; in a page pass that file's
 * address, or a Request for it.
 *
 * @param wasm the module's bytes, or in a browser its address
 * @throws WebAssembly.CompileError if the bytes are no such module
 */
export async function startNotebooks(wasm: Uint8Array | Request | string): Promise<void> {
  if (!isWasmInitialized()) await initializeWasm(wasm);
}
