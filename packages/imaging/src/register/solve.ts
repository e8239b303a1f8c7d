/** Small systems of normal equations. */

/**
 * Solves a symmetric positive definite system by Cholesky's factorisation.
 *
 * @param matrix n x n row by row, of which only the lower triangle is read
 * @param right n values
 * @returns the solution, or null where the matrix is not positive definite
 */
export function solveSymmetric(matrix: Float64Array, right: Float64Array, n: number): number[] | null {
  const l = new Float64Array(n * n);
  for (let row = 0; row < n; row++) {
    for (let column = 0; column <= row; column++) {
      let sum = matrix[row * n + column]!;
      for (let k = 0; k < column; k++) sum -= l[row * n + k]! * l[column * n + k]!;
      if (row === column) {
        if (!(sum > 1e-12 * Math.abs(matrix[row * n + row]!))) return null;
        l[row * n + row] = Math.sqrt(sum);
      } else {
        l[row * n + column] = sum / l[column * n + column]!;
      }
    }
  }
  const solution = Array.from(right);
  for (let row = 0; row < n; row++) {
    for (let k = 0; k < row; k++) solution[row]! -= l[row * n + k]! * solution[k]!;
    solution[row]! /= l[row * n + row]!;
  }
  for (let row = n - 1; row >= 0; row--) {
    for (let k = row + 1; k < n; k++) solution[row]! -= l[k * n + row]! * solution[k]!;
    solution[row]! /= l[row * n + row]!;
  }
  return solution;
}
