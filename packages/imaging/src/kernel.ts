/** The WebAssembly kernel: loads it, and hands out its memory. */
import { DomainError } from '@tepal/science';

/** n pixels of interleaved RGB to three padded rows. */
type PlanesOf = (
  src: number,
  n: number,
  red: number,
  green: number,
  blue: number,
  gainRed: number,
  gainGreen: number,
  gainBlue: number,
) => void;

/** What the compiled kernel exports; pointers are byte offsets into `memory`. Sources in `kernel/`. */
interface KernelExports {
  readonly memory: WebAssembly.Memory;
  heapBase(): number;
  surveyStrip(
    rows: number,
    stride: number,
    width: number,
    height: number,
    tilePx: number,
    tiles: number,
    columns: number,
  ): void;
  fftColumns(re: number, im: number, n: number, width: number, cosines: number, sines: number): void;
  transpose(plane: number, n: number): void;
  underWindow(
    src: number,
    w: number,
    h: number,
    left: number,
    top: number,
    side: number,
    weights: number,
    dst: number,
  ): void;
  powerSums(re: number, im: number, side: number, cells: number, sums: number): void;
  crossSums(re: number, im: number, side: number, cells: number, turns: number, sums: number): void;
  reduce(src: number, w: number, h: number, dst: number, row: number): void;
  addExpanded(
    fine: number,
    w: number,
    h: number,
    coarse: number,
    factor: number,
    out: number,
    row: number,
  ): void;
  energy(src: number, w: number, h: number, floor: number, dst: number, row: number): void;
  prepareCubic(): void;
  halve(src: number, w: number, h: number, dst: number): void;
  alignSums(
    reference: number,
    rw: number,
    rh: number,
    moving: number,
    mw: number,
    mh: number,
    m0: number,
    m1: number,
    m2: number,
    m3: number,
    m4: number,
    m5: number,
    gain: number,
    offset: number,
    unit: number,
    step: number,
    spread: number,
    topReference: number,
    topMoving: number,
    out: number,
  ): void;
  nodeSums(
    reference: number,
    rw: number,
    rh: number,
    moving: number,
    mw: number,
    mh: number,
    nodes: number,
    cell: number,
    columns: number,
    rows: number,
    gain: number,
    offset: number,
    step: number,
    spread: number,
    out: number,
  ): void;
  warpPlane(
    moving: number,
    mw: number,
    mh: number,
    nodes: number,
    cell: number,
    columns: number,
    rows: number,
    gain: number,
    dst: number,
    rw: number,
    rh: number,
  ): void;
  prepareWeights(): void;
  planesOf8: PlanesOf;
  planesOf16: PlanesOf;
  resampleAcross(
    red: number,
    green: number,
    blue: number,
    w: number,
    nodes: number,
    cell: number,
    outRed: number,
    outGreen: number,
    outBlue: number,
    n: number,
  ): void;
  resampleDown(
    ringRed: number,
    ringGreen: number,
    ringBlue: number,
    slots: number,
    stride: number,
    h: number,
    nodes: number,
    cell: number,
    outRed: number,
    outGreen: number,
    outBlue: number,
    n: number,
  ): void;
  boxAcross(row: number, factor: number, scale: number, out: number, n: number): void;
  lumaOf(red: number, green: number, blue: number, out: number, n: number): void;
  weigh(
    plane: number,
    w: number,
    h: number,
    step: number,
    least: number,
    a: number,
    b: number,
    cx: number,
    cy: number,
    srcW: number,
    srcH: number,
    ramp: number,
  ): void;
  addWeighted(sum: number, weight: number, value: number, n: number): void;
  addPlane(sum: number, value: number, n: number): void;
  divide(sum: number, weight: number, n: number): void;
  keepBest(
    weight: number,
    n: number,
    frame: number,
    best: number,
    source: number,
    depth: number,
    depthWeight: number,
  ): void;
}

/**
 * The kernel with a stack of memory: `mark`, `allocate` as often as needed, `release` back to the mark.
 *
 * One kernel serves one thread and one task at a time. Views are taken after the last allocation, since growing the
 * memory detaches those taken before.
 */
export interface Kernel {
  readonly run: Omit<KernelExports, 'memory' | 'heapBase'>;
  /** @returns a place on the stack to release back to */
  mark(): number;
  /** @returns a pointer to `bytes` zeroed bytes, aligned to 16 */
  allocate(bytes: number): number;
  /** @returns a pointer to `bytes` bytes that hold anything, aligned to 16 */
  reserve(bytes: number): number;
  /** Gives back everything allocated since `mark`. */
  release(mark: number): void;
  bytes(pointer: number, length: number): Uint8Array;
  uint16(pointer: number, length: number): Uint16Array;
  int32(pointer: number, length: number): Int32Array;
  float32(pointer: number, length: number): Float32Array;
  float64(pointer: number, length: number): Float64Array;
}

const PAGE = 65_536;

/**
 * Instantiates the kernel.
 *
 * @param wasm the bytes of `build/kernel.wasm`: the desk reads the file, a page fetches it
 * @returns the kernel with an empty stack
 * @throws DomainError if the bytes are not this package's kernel
 */
export async function loadKernel(wasm: BufferSource): Promise<Kernel> {
  const { instance } = await WebAssembly.instantiate(wasm, {});
  const exports = instance.exports as unknown as KernelExports;
  if (typeof exports.surveyStrip !== 'function') {
    throw new DomainError('notOneOf', "the bytes of this package's kernel.wasm", 'wasm', 'another module');
  }
  const { memory } = exports;
  exports.prepareWeights();
  exports.prepareCubic();
  let top = (exports.heapBase() + 15) & ~15;
  const reserve = (bytes: number): number => {
    const pointer = top;
    // Not by bit operations: pointers may pass 2 GiB.
    top += Math.ceil(bytes / 16) * 16;
    const missing = top - memory.buffer.byteLength;
    if (missing > 0) memory.grow(Math.ceil(missing / PAGE));
    return pointer;
  };
  return {
    run: exports,
    mark: () => top,
    reserve,
    allocate(bytes) {
      const pointer = reserve(bytes);
      new Uint8Array(memory.buffer, pointer, bytes).fill(0);
      return pointer;
    },
    release(mark) {
      top = mark;
    },
    bytes: (pointer, length) => new Uint8Array(memory.buffer, pointer, length),
    uint16: (pointer, length) => new Uint16Array(memory.buffer, pointer, length),
    int32: (pointer, length) => new Int32Array(memory.buffer, pointer, length),
    float32: (pointer, length) => new Float32Array(memory.buffer, pointer, length),
    float64: (pointer, length) => new Float64Array(memory.buffer, pointer, length),
  };
}
