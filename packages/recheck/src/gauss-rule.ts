/** A quadrature: ∫ w·f ≈ Σ weight·f(node). */
export interface Rule {
  readonly nodes: readonly number[];
  readonly weights: readonly number[];
}

/**
 * The Gauss rule of orthogonal polynomials that are even or odd, given by their recurrence
 * `x·p_k = b_{k+1}·p_{k+1} + b_k·p_{k−1}`, orthonormal, and the integral of their weight function. The nodes are the zeros
 * of p_n: those of p_{k+1} lie between those of p_k, so each is found by halving an interval that must hold it. The
 * weights are 1/Σ p_k² (Christoffel).
 *
 * @param end beyond all zeros.
 */
function gaussRule(n: number, b: (k: number) => number, total: number, end: number): Rule {
  const values = (x: number, degree: number): number[] => {
    const p = [1 / Math.sqrt(total)];
    for (let k = 0; k < degree; k++) p.push((x * p[k]! - (k === 0 ? 0 : b(k) * p[k - 1]!)) / b(k + 1));
    return p;
  };
  let zeros: number[] = [];
  for (let degree = 1; degree <= n; degree++) {
    const ends = [-end, ...zeros, end];
    zeros = ends.slice(1).map((high, i) => halved((x) => values(x, degree)[degree]!, ends[i]!, high));
  }
  return {
    nodes: zeros,
    weights: zeros.map((x) => 1 / values(x, n - 1).reduce((sum, p) => sum + p * p, 0)),
  };
}

/** A zero of a function that has opposite signs at the two ends, by halving. */
export function halved(f: (x: number) => number, from: number, to: number): number {
  let [low, high] = [from, to];
  const rising = f(high) > 0;
  for (let i = 0; i < 200; i++) {
    const middle = 0.5 * (low + high);
    if (middle <= low || middle >= high) return middle;
    if (f(middle) > 0 === rising) high = middle;
    else low = middle;
  }
  return 0.5 * (low + high);
}

/** Gauss–Legendre: ∫ f over [−1, 1]. */
export function gaussLegendre(n: number): Rule {
  return onFirstUse(() => gaussRule(n, (k) => k / Math.sqrt(4 * k * k - 1), 2, 1));
}

/** Gauss–Hermite: the expectation of f of a standard normal variable. */
export function gaussHermite(n: number): Rule {
  return onFirstUse(() => gaussRule(n, (k) => Math.sqrt(k), 1, 2 * Math.sqrt(n) + 1));
}

/** A rule that is worked out when somebody asks for it: a program that starts and never rechecks need not wait for it. */
function onFirstUse(make: () => Rule): Rule {
  let made: Rule | undefined;
  const rule = () => (made ??= make());
  return {
    get nodes() {
      return rule().nodes;
    },
    get weights() {
      return rule().weights;
    },
  };
}
