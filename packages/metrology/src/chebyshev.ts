import { cos } from "./special.ts";

/** The n nodes of Chebyshev's interpolation on −1…1, cos((k + ½)π/n). */
export function chebyshevNodes(n: number): Float64Array {
  return Float64Array.from({ length: n }, (_, k) => cos(((k + 0.5) * Math.PI) / n));
}

/**
 * Σ c_i·T_i(x) of one variable on −1…1, by Clenshaw's recurrence.
 * @param coefficients as {@link chebyshevCoefficients} returns them.
 */
export function chebyshevSeries(coefficients: ArrayLike<number>, x: number): number {
  let [next, last] = [0, 0];
  for (let i = coefficients.length - 1; i > 0; i--) [next, last] = [coefficients[i]! + 2 * x * next - last, next];
  return coefficients[0]! + x * next - last;
}

/** Σ coefficient·T_i(x)·T_j(y)·…, in up to three variables on −1…1. */
export interface ChebyshevSum {
  /** Orders of each term, variable by variable; three a term, those of variables that there are not are zero. */
  readonly orders: Int32Array;
  readonly coefficients: Float64Array;
  /** Highest order of each variable. */
  readonly degrees: readonly number[];
}

/**
 * The interpolant of values at the nodes, in one to three variables.
 * @param values at all combinations of the nodes, the last variable running fastest.
 * @param counts how many nodes each variable has.
 * @returns all coefficients, in the same arrangement: T_i takes the place of the i-th node.
 */
export function chebyshevCoefficients(values: Float64Array, counts: readonly number[]): Float64Array {
  let from = values;
  stridesOf(counts).forEach((stride, variable) => {
    const n = counts[variable]!;
    const transform = new Float64Array(n * n);
    for (let i = 0; i < n; i++)
      for (let k = 0; k < n; k++) transform[i * n + k] = ((i === 0 ? 1 : 2) / n) * cos((i * (k + 0.5) * Math.PI) / n);
    const to = new Float64Array(from.length);
    for (let place = 0; place < to.length; place++) {
      const i = Math.floor(place / stride) % n;
      const start = place - i * stride;
      for (let k = 0; k < n; k++) to[place]! += transform[i * n + k]! * from[start + k * stride]!;
    }
    from = to;
  });
  return from;
}

/**
 * The terms that matter: the smallest are left out as long as they add up to no more than `negligible`.
 * @param counts how many nodes each variable had.
 */
export function chebyshevSum(coefficients: Float64Array, counts: readonly number[], negligible: number): ChebyshevSum {
  const strides = stridesOf(counts);
  const places = Array.from(coefficients, (_, place) => place).sort(
    (a, b) => Math.abs(coefficients[b]!) - Math.abs(coefficients[a]!),
  );
  for (let left = 0; places.length > 1; places.pop()) {
    left += Math.abs(coefficients[places.at(-1)!]!);
    if (!(left <= negligible)) break;
  }
  const kept = places
    .sort((a, b) => a - b)
    .map((place) => strides.map((stride, variable) => Math.floor(place / stride) % counts[variable]!));
  return {
    orders: Int32Array.from(kept.flatMap((orders) => [...orders, 0, 0].slice(0, 3))),
    coefficients: Float64Array.from(places, (place) => coefficients[place]!),
    degrees: counts.map((_, variable) => Math.max(...kept.map((orders) => orders[variable]!))),
  };
}

/**
 * A sum at one point after another, without making anything on the way: terms that share the orders of all variables but
 * one, that of the highest order, are added up first.
 */
export class ChebyshevEvaluator {
  /** T₀, T₁, … of each of three variables; those that there are not stay at T₀ = 1. */
  readonly #basis: readonly Float64Array[];
  readonly #degrees: readonly number[];
  /** The variable of the highest order, and the two others. */
  readonly #inner: number;
  readonly #outer: readonly [number, number];
  /** Of each group of terms: orders of the two outer variables, and the term after its last. */
  readonly #groups: Int32Array;
  readonly #orders: Int32Array;
  readonly #coefficients: Float64Array;

  constructor({ orders, coefficients, degrees }: ChebyshevSum) {
    this.#degrees = degrees;
    this.#basis = [0, 1, 2].map((variable) => {
      const basis = new Float64Array((degrees[variable] ?? 0) + 2);
      basis[0] = 1;
      return basis;
    });
    const inner = degrees.indexOf(Math.max(...degrees));
    const [first, second] = [0, 1, 2].filter((variable) => variable !== inner) as [number, number];
    this.#inner = inner;
    this.#outer = [first, second];
    const order = (term: number, variable: number) => orders[3 * term + variable]!;
    const terms = Array.from(coefficients, (_, term) => term).sort(
      (a, b) =>
        order(a, first) - order(b, first) || order(a, second) - order(b, second) || order(a, inner) - order(b, inner),
    );
    this.#orders = Int32Array.from(terms, (term) => order(term, inner));
    this.#coefficients = Float64Array.from(terms, (term) => coefficients[term]!);
    const groups: number[] = [];
    terms.forEach((term, k) => {
      const [i, j] = [order(term, first), order(term, second)];
      if (groups.length === 0 || groups.at(-3) !== i || groups.at(-2) !== j) groups.push(i, j, k);
      groups[groups.length - 1] = k + 1;
    });
    this.#groups = Int32Array.from(groups);
  }

  /** Sets a variable. @param variable from 0. @param x from −1 to 1. */
  place(variable: number, x: number): void {
    const basis = this.#basis[variable]!;
    const degree = this.#degrees[variable]!;
    basis[1] = x;
    for (let i = 2; i <= degree; i++) basis[i] = 2 * x * basis[i - 1]! - basis[i - 2]!;
  }

  /** The sum at the variables as they were set. */
  value(): number {
    const groups = this.#groups;
    const orders = this.#orders;
    const coefficients = this.#coefficients;
    const inner = this.#basis[this.#inner]!;
    const first = this.#basis[this.#outer[0]]!;
    const second = this.#basis[this.#outer[1]]!;
    let total = 0;
    for (let g = 0, term = 0; g < groups.length; g += 3) {
      const end = groups[g + 2]!;
      let sum = 0;
      for (; term < end; term++) sum += coefficients[term]! * inner[orders[term]!]!;
      total += sum * first[groups[g]!]! * second[groups[g + 1]!]!;
    }
    return total;
  }
}

/** How far apart neighbours along each variable stand, the last one running fastest. */
function stridesOf(counts: readonly number[]): number[] {
  const strides = [1];
  for (let variable = counts.length - 1; variable > 0; variable--) strides.unshift(strides[0]! * counts[variable]!);
  return strides;
}
