/** Least squares by orthogonal triangularisation, with the rank told, for the fits of this package. */
import { Matrix, QrDecomposition } from "ml-matrix";

/** A least-squares problem ‖A·β − b‖ after an orthogonal transformation: R upper triangular over scaled columns. */
export interface TriangularForm {
  /** R of A with its columns divided by their norms, row by row. */
  readonly triangle: readonly (readonly number[])[];
  /** Norms of A's columns. */
  readonly norms: readonly number[];
  /** Qᵀb: the part of b that the columns can follow. */
  readonly projected: readonly number[];
  /** Norm of the part of b that they cannot. */
  readonly residualNorm: number;
  /** The first column that is zero or lies in the span of those before it, to rounding; null at full rank. */
  readonly dependentColumn: number | null;
}

/**
 * Householder triangularisation of [A | b], columns scaled to unit norm: the diagonal of R is then the sine of each
 * column's angle to the span of the earlier ones, so that rank does not depend on units.
 *
 * @param rows - A, observations × coefficients, with at least as many rows as columns.
 * @param rightSide - b.
 */
export function triangularForm(rows: readonly (readonly number[])[], rightSide: readonly number[]): TriangularForm {
  const size = rows[0]!.length;
  const norms = Array.from({ length: size }, (_, j) => norm(rows.map((row) => row[j]!)));
  const augmented = new Matrix(rows.length, size + 1);
  rows.forEach((row, i) => {
    for (let j = 0; j < size; j++) augmented.set(i, j, norms[j] === 0 ? 0 : row[j]! / norms[j]!);
    augmented.set(i, size, rightSide[i]!);
  });
  const full = new QrDecomposition(augmented).upperTriangularMatrix;
  const triangle = Array.from({ length: size }, (_, i) => Array.from({ length: size }, (_, j) => full.get(i, j)));
  const tolerance = 10 * rows.length * Number.EPSILON;
  const dependent = triangle.findIndex((row, i) => Math.abs(row[i]!) <= tolerance);
  return {
    triangle,
    norms,
    projected: Array.from({ length: size }, (_, i) => full.get(i, size)),
    residualNorm: Math.abs(full.get(size, size)),
    dependentColumn: dependent < 0 ? null : dependent,
  };
}

/** The least-squares solution β = R⁻¹Qᵀb. Full rank is the caller's duty. */
export function solveTriangular(form: TriangularForm): number[] {
  const size = form.norms.length;
  const solution = new Array<number>(size).fill(0);
  for (let i = size - 1; i >= 0; i--) {
    let sum = form.projected[i]!;
    for (let j = i + 1; j < size; j++) sum -= form.triangle[i]![j]! * solution[j]!;
    solution[i] = sum / form.triangle[i]![i]!;
  }
  return solution.map((value, j) => value / form.norms[j]!);
}

/** (AᵀA)⁻¹ = R⁻¹R⁻ᵀ. Full rank is the caller's duty. */
export function inverseNormalMatrix(form: TriangularForm): number[][] {
  const size = form.norms.length;
  const inverse = Array.from({ length: size }, () => new Array<number>(size).fill(0));
  for (let j = 0; j < size; j++) {
    for (let i = j; i >= 0; i--) {
      let sum = i === j ? 1 : 0;
      for (let k = i + 1; k <= j; k++) sum -= form.triangle[i]![k]! * inverse[k]![j]!;
      inverse[i]![j] = sum / form.triangle[i]![i]!;
    }
  }
  return inverse.map((row, i) =>
    inverse.map((other, j) => {
      let sum = 0;
      for (let k = Math.max(i, j); k < size; k++) sum += row[k]! * other[k]!;
      return sum / (form.norms[i]! * form.norms[j]!);
    }),
  );
}

/** Euclidean norm, safe from overflow and underflow of the squares. */
export function norm(values: readonly number[]): number {
  let largest = 0;
  for (const value of values) largest = Math.max(largest, Math.abs(value));
  if (largest === 0 || !(largest < Infinity)) return largest;
  let sum = 0;
  for (const value of values) sum += (value / largest) * (value / largest);
  return largest * Math.sqrt(sum);
}
