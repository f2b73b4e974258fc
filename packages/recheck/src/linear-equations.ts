/**
 * Solves `matrix · x = right` by Gaussian elimination with scaled rows and partial pivoting.
 *
 * @throws Error where the equations do not determine x.
 */
export function solve(matrix: readonly (readonly number[])[], right: readonly number[]): number[] {
  const n = right.length;
  const rows = matrix.map((row, i) => {
    const scale = Math.max(...row.map((cell) => Math.abs(cell)));
    if (!(scale > 0)) throw new Error("the equations do not determine the unknowns: one of them is empty");
    return [...row, right[i]!].map((cell) => cell / scale);
  });
  for (let k = 0; k < n; k++) {
    let pivot = k;
    for (let i = k + 1; i < n; i++) if (Math.abs(rows[i]![k]!) > Math.abs(rows[pivot]![k]!)) pivot = i;
    [rows[k], rows[pivot]] = [rows[pivot]!, rows[k]!];
    const lead = rows[k]!;
    if (!(Math.abs(lead[k]!) > 1e-14)) throw new Error("the equations do not determine the unknowns");
    for (let i = k + 1; i < n; i++) {
      const factor = rows[i]![k]! / lead[k]!;
      for (let j = k; j <= n; j++) rows[i]![j] = rows[i]![j]! - factor * lead[j]!;
    }
  }
  const x = new Array<number>(n).fill(0);
  for (let i = n - 1; i >= 0; i--) {
    let rest = rows[i]![n]!;
    for (let j = i + 1; j < n; j++) rest -= rows[i]![j]! * x[j]!;
    x[i] = rest / rows[i]![i]!;
  }
  return x;
}

/** The quadratic form `aᵀ · matrix · a`. */
export function quadratic(matrix: readonly (readonly number[])[], a: readonly number[]): number {
  return a.reduce((sum, weight, i) => sum + weight * dot(matrix[i]!, a), 0);
}

/** Σ aᵢ·bᵢ. */
export function dot(a: readonly number[], b: readonly number[]): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i]! * b[i]!;
  return sum;
}
