// The table of contents of the kernel. AssemblyScript, built by build.mjs; pointers are byte offsets into the
// exported memory, handed out by the arena of src/kernel.ts; images are row by row without gaps.
export { surveyStrip } from './survey';
export { crossSums, fftColumns, powerSums, transpose, underWindow } from './fourier';
export { addExpanded, energy, reduce } from './pyramid';
export { nodeSums, warpPlane } from './flow';
export { alignSums, halve, prepareCubic } from './register';
export { addPlane, addWeighted, divide, keepBest, lumaOf, weigh } from './blend';
export { boxAcross, planesOf16, planesOf8, prepareWeights, resampleAcross, resampleDown } from './warp';

/** The first byte that the arena may use. */
export function heapBase(): usize {
  return __heap_base;
}
