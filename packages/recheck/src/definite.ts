import { solve } from "./linear-equations.ts";

type Matrix = readonly (readonly number[])[];

/** Part of the largest entry that is added while the sign is sought: a nil eigenvalue has none. */
const RIDGE = 1e-12;

/**
 * A symmetric matrix without its negative eigenvalues: `(X + |X|)/2`, with `|X| = X·sign(X)` and the sign by Newton's
 * iteration `S ← (S + S⁻¹)/2` from X (Higham, Functions of Matrices (2008), 5.3).
 */
export function withoutNegativeParts(matrix: Matrix): number[][] {
  const size = Math.max(...matrix.flatMap((row) => row.map((cell) => Math.abs(cell))));
  if (size === 0) return matrix.map((row) => [...row]);
  const scaled = matrix.map((row, i) => row.map((cell, j) => cell / size + (i === j ? RIDGE : 0)));
  let sign: Matrix = scaled;
  for (let step = 0; step < 100; step++) {
    const inverse = inverseOf(sign);
    const next = sign.map((row, i) => row.map((cell, j) => (cell + inverse[i]![j]!) / 2));
    const moved = Math.max(...next.flatMap((row, i) => row.map((cell, j) => Math.abs(cell - sign[i]![j]!))));
    sign = next;
    if (moved < 1e-13) break;
  }
  const absolute = scaled.map((row) => row.map((_, j) => row.reduce((sum, cell, k) => sum + cell * sign[k]![j]!, 0)));
  return matrix.map((row, i) => row.map((cell, j) => (cell + (size * (absolute[i]![j]! + absolute[j]![i]!)) / 2) / 2));
}

/** Column by column, as the solutions for the unit vectors. */
function inverseOf(matrix: Matrix): number[][] {
  const columns = matrix.map((_, k) =>
    solve(
      matrix,
      matrix.map((__, i) => (i === k ? 1 : 0)),
    ),
  );
  return matrix.map((_, i) => columns.map((column) => column[i]!));
}
