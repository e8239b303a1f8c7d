/** Small symmetric matrices, as rows. */

export type Matrix = readonly (readonly number[])[];

/**
 * The lower triangle L with L L^T = A.
 *
 * @returns null where A is not positive definite
 */
export function choleskyOf(A: Matrix): number[][] | null {
  const n = A.length;
  const L: number[][] = Array.from({ length: n }, () => new Array<number>(n).fill(0));
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = A[i]![j]!;
      for (let k = 0; k < j; k++) sum -= L[i]![k]! * L[j]![k]!;
      if (i !== j) L[i]![j] = sum / L[j]![j]!;
      else if (sum > 1e-12) L[i]![i] = Math.sqrt(sum);
      else return null;
    }
  }
  return L;
}

/** x with L L^T x = b. */
export function solveCholesky(L: Matrix, b: readonly number[]): number[] {
  const n = b.length;
  const x = [...b];
  for (let i = 0; i < n; i++) {
    for (let k = 0; k < i; k++) x[i]! -= L[i]![k]! * x[k]!;
    x[i]! /= L[i]![i]!;
  }
  for (let i = n - 1; i >= 0; i--) {
    for (let k = i + 1; k < n; k++) x[i]! -= L[k]![i]! * x[k]!;
    x[i]! /= L[i]![i]!;
  }
  return x;
}

/** The inverse of L L^T. */
export function inverseOfCholesky(L: Matrix): number[][] {
  const n = L.length;
  const columns = Array.from({ length: n }, (_, j) =>
    solveCholesky(
      L,
      Array.from({ length: n }, (_, i) => (i === j ? 1 : 0)),
    ),
  );
  return columns.map((_, i) => columns.map((column) => column[i]!));
}
