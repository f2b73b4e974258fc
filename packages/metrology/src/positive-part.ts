/**
 * The positive part of a symmetric matrix: its eigenvalues below zero set to zero. It is the covariance nearest to a
 * difference of two estimated covariances, which chance may leave with a negative variance in some direction (Higham,
 * Linear Algebra Appl. 103, 103 (1988)).
 *
 * Eigenvalues by Jacobi's rotations: for the few columns that are read together.
 *
 * @param matrix row by row, n × n; only its lower triangle is looked at.
 * @throws RangeError for an entry that is not finite.
 */
export function positivePart(matrix: Float64Array, n: number): Float64Array {
  for (const entry of matrix) if (!Number.isFinite(entry)) throw new RangeError(`the matrix holds ${entry}`);
  const a = new Float64Array(n * n);
  for (let i = 0; i < n; i++)
    for (let j = 0; j <= i; j++) {
      a[i * n + j] = matrix[i * n + j]!;
      a[j * n + i] = matrix[i * n + j]!;
    }
  if (isPositive(a, n)) return a;
  const vectors = Float64Array.from({ length: n * n }, (_, k) => (k % (n + 1) === 0 ? 1 : 0));
  for (let sweep = 0; sweep < SWEEPS && offDiagonal(a, n) > 0; sweep++)
    for (let p = 0; p < n; p++) for (let q = p + 1; q < n; q++) rotate(a, vectors, n, p, q);
  const part = new Float64Array(n * n);
  for (let k = 0; k < n; k++) {
    const eigenvalue = a[k * n + k]!;
    if (!(eigenvalue > 0)) continue;
    for (let i = 0; i < n; i++)
      for (let j = 0; j < n; j++) part[i * n + j]! += eigenvalue * vectors[i * n + k]! * vectors[j * n + k]!;
  }
  return part;
}

/** Each sweep squares what is left beside the diagonal: far more than are needed. */
const SWEEPS = 30;

/** Whether a Cholesky factor exists: then there is nothing to set to zero. */
function isPositive(a: Float64Array, n: number): boolean {
  const factor = new Float64Array(n * n);
  for (let i = 0; i < n; i++)
    for (let j = 0; j <= i; j++) {
      let rest = a[i * n + j]!;
      for (let k = 0; k < j; k++) rest -= factor[i * n + k]! * factor[j * n + k]!;
      if (i !== j) factor[i * n + j] = rest / factor[j * n + j]!;
      else if (rest > 0) factor[i * n + i] = Math.sqrt(rest);
      else return false;
    }
  return true;
}

/** Σ of squares beside the diagonal, as far as they still matter to it. */
function offDiagonal(a: Float64Array, n: number): number {
  let beside = 0;
  let all = 0;
  for (let i = 0; i < n; i++)
    for (let j = 0; j < n; j++) {
      const square = a[i * n + j]! * a[i * n + j]!;
      all += square;
      if (i !== j) beside += square;
    }
  return beside > 1e-32 * all ? beside : 0;
}

/** Turns the plane of two axes so that their entry beside the diagonal becomes nil. */
function rotate(a: Float64Array, vectors: Float64Array, n: number, p: number, q: number): void {
  const beside = a[p * n + q]!;
  if (beside === 0) return;
  const half = (a[q * n + q]! - a[p * n + p]!) / (2 * beside);
  const t = (half < 0 ? -1 : 1) / (Math.abs(half) + Math.sqrt(half * half + 1));
  const cosine = 1 / Math.sqrt(t * t + 1);
  const sine = t * cosine;
  const turn = (of: Float64Array, i: number, j: number) => {
    const [x, y] = [of[i]!, of[j]!];
    of[i] = cosine * x - sine * y;
    of[j] = sine * x + cosine * y;
  };
  for (let k = 0; k < n; k++) turn(a, k * n + p, k * n + q);
  for (let k = 0; k < n; k++) turn(a, p * n + k, q * n + k);
  for (let k = 0; k < n; k++) turn(vectors, k * n + p, k * n + q);
}
