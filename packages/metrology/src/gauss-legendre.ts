import { cos } from "./special.ts";

/** Nodes and weights of a quadrature rule on [−1, 1]. */
export interface QuadratureRule {
  readonly nodes: readonly number[];
  readonly weights: readonly number[];
}

const known = new Map<number, QuadratureRule>();

/**
 * The Gauss–Legendre rule of n points: exact for polynomials up to degree 2n − 1. Nodes by Newton's method on the
 * Legendre polynomial from Tricomi's estimate (Abramowitz and Stegun, 25.4.29).
 * @throws RangeError unless n is a whole number from 1 to 256.
 */
export function gaussLegendre(n: number): QuadratureRule {
  if (!(Number.isInteger(n) && n >= 1 && n <= 256)) throw new RangeError(`a rule of ${n} points`);
  const made = known.get(n);
  if (made) return made;
  const nodes = new Array<number>(n);
  const weights = new Array<number>(n);
  for (let i = 0; i < (n + 1) >> 1; i++) {
    let x = cos((Math.PI * (i + 0.75)) / (n + 0.5));
    let slope = 1;
    for (let step = 0; step < 10; step++) {
      const { value, derivative } = legendre(n, x);
      slope = derivative;
      x -= value / derivative;
    }
    const weight = 2 / ((1 - x * x) * slope * slope);
    nodes[i] = -x;
    nodes[n - 1 - i] = x;
    weights[i] = weight;
    weights[n - 1 - i] = weight;
  }
  if (n % 2 === 1) nodes[n >> 1] = 0;
  const rule = { nodes, weights };
  known.set(n, rule);
  return rule;
}

/** P_n and its derivative, by the three-term recurrence. */
function legendre(n: number, x: number): { value: number; derivative: number } {
  let before = 1;
  let value = x;
  for (let k = 2; k <= n; k++) {
    const next = ((2 * k - 1) * x * value - (k - 1) * before) / k;
    before = value;
    value = next;
  }
  return { value, derivative: (n * (x * value - before)) / (x * x - 1) };
}
