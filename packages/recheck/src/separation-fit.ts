import { dot, quadratic, solve } from "./linear-equations.ts";

/** The mean signals of one condition, as the fit takes them. */
export interface FitPoint {
  /** Mean signal of each channel. */
  readonly q: readonly number[];
  /** Covariance of the means; held constant. */
  readonly covariance: readonly (readonly number[])[];
  /** Points of one group share their intercept. */
  readonly group: string;
}

/** What the fit found. */
export interface SeparationFit {
  /** Weights of the channels, the first of them one. */
  readonly weights: readonly number[];
  /** The scintillation signal common to each group. */
  readonly intercepts: ReadonlyMap<string, number>;
  /** What the tied groups' intercepts are the same as; undefined where there are none. */
  readonly tied: number | undefined;
  /** The sum of squares at the minimum. */
  readonly chi2: number;
  readonly iterations: number;
}

const ITERATIONS = 2000;
const TIED = "(tied)";

/**
 * The weights a (with a₁ = 1) and one intercept I per group that minimise
 *
 *     Σ (aᵀq − I)² / (aᵀVa + (I·u)²)  +  Σ (I/J − 1)² / u_d²,
 *
 * u the relative uncertainty of equal doses, the second sum over the tied groups with a dose uncertainty u_d of their own
 * (those without one have the intercept J itself). The second sum is what generalised least squares makes of an error that
 * the conditions of a group share; with one tied group it vanishes.
 *
 * The derivatives set to zero read, with r = aᵀq − I, d the denominator and q̂ = q − V·a·r/d the adjusted point,
 *
 *     Σ r·q̂_c/d = 0 for every free weight,      Σ r·(aᵀVa + u²·I·aᵀq)/d² = (I − J)/(J·u_d)² for every group,
 *     Σ (I − J)·I/(J³·u_d²) = 0 for J, with the terms r of the groups that have it.
 *
 * With q̂, d and the factors frozen they are linear in a, I and J: solved, and frozen anew, until nothing moves (York 1966;
 * York et al. 2004, for one group of two channels).
 *
 * @param tied the tied groups (known doses, their signals per dose), each with its u_d.
 * @throws Error where the points do not determine the weights, or the iteration does not settle.
 */
export function fitSeparation(
  points: readonly FitPoint[],
  u: number,
  tied: ReadonlyMap<string, number> = new Map(),
): SeparationFit {
  if (points.length === 0) throw new Error("the separation has no condition to fit");
  const problem = new Problem(points, u, tied);
  let unknowns = problem.start();
  let last = Number.POSITIVE_INFINITY;
  for (let iteration = 1; iteration <= ITERATIONS; iteration++) {
    const next = problem.step(unknowns);
    const move = Math.max(
      ...next.map((value, i) => Math.abs(value - unknowns[i]!) / Math.max(Math.abs(value), 1e-300)),
    );
    unknowns = next;
    // Settled: at the last digits, or where rounding keeps the moves from shrinking further.
    if (move < 1e-15 || (move < 1e-12 && move >= last)) return problem.fit(unknowns, iteration);
    last = move;
  }
  throw new Error(`the fit of the separation did not settle in ${ITERATIONS} steps`);
}

/** What is frozen of a point: the adjusted point, and its weights in the equations of the channels and of its group. */
interface Frozen {
  readonly adjusted: readonly number[];
  readonly slope: number;
  readonly level: number;
}

/** Unknowns in the order a₂ … aₙ, then the intercepts, J among them. */
class Problem {
  readonly #points: readonly FitPoint[];
  readonly #u: number;
  readonly #channels: number;
  /** Names of the intercepts. */
  readonly #names: readonly string[];
  /** Number of each point's intercept. */
  readonly #of: readonly number[];
  /** Intercepts that are pulled to J, with the uncertainty of the pull. */
  readonly #pulls: readonly { readonly own: number; readonly u: number }[];

  constructor(points: readonly FitPoint[], u: number, tied: ReadonlyMap<string, number>) {
    const nameOf = ({ group }: FitPoint) => (tied.get(group) === 0 ? TIED : group);
    const own = new Set(points.map(nameOf));
    const pulled = [...tied].filter(([group, its]) => its > 0 && own.has(group));
    if (pulled.length > 0) own.add(TIED);
    this.#points = points;
    this.#u = u;
    this.#channels = points[0]!.q.length;
    this.#names = [...own];
    this.#of = points.map((point) => this.#names.indexOf(nameOf(point)));
    this.#pulls = pulled.map(([group, its]) => ({ own: this.#names.indexOf(group), u: its }));
    const unknowns = this.#channels - 1 + this.#names.length - this.#pulls.length;
    if (points.length < unknowns) throw new Error(`${points.length} conditions cannot determine ${unknowns} unknowns`);
  }

  /** Ordinary least squares, pulled intercepts free. */
  start(): number[] {
    return this.#solve(
      this.#points.map(({ q }) => ({ adjusted: q, slope: 1, level: 1 })),
      this.#pulls.map(() => ({ toOwn: 1e-6, toTied: 1 })),
    );
  }

  step(unknowns: readonly number[]): number[] {
    const { a, I } = this.#taken(unknowns);
    const points = this.#points.map((point, i): Frozen => {
      const { s, y, d } = this.#at(point, a, I[this.#of[i]!]!);
      const r = y - I[this.#of[i]!]!;
      return {
        adjusted: point.q.map((q, c) => q - (dot(point.covariance[c]!, a) * r) / d),
        slope: 1 / d,
        level: (s + this.#u * this.#u * I[this.#of[i]!]! * y) / (d * d),
      };
    });
    const J = I[this.#names.indexOf(TIED)]!;
    const pulls = this.#pulls.map(({ own, u }) => ({
      toOwn: 1 / (J * u * (J * u)),
      toTied: I[own]! / (J * J * J * u * u),
    }));
    return this.#solve(points, pulls);
  }

  fit(unknowns: readonly number[], iterations: number): SeparationFit {
    const { a, I } = this.#taken(unknowns);
    const tied = I[this.#names.indexOf(TIED)];
    let chi2 = 0;
    this.#points.forEach((point, i) => {
      const { y, d } = this.#at(point, a, I[this.#of[i]!]!);
      chi2 += ((y - I[this.#of[i]!]!) * (y - I[this.#of[i]!]!)) / d;
    });
    for (const { own, u } of this.#pulls) {
      const pull = (I[own]! / tied! - 1) / u;
      chi2 += pull * pull;
    }
    const intercepts = new Map(this.#points.map(({ group }, i) => [group, I[this.#of[i]!]!]));
    return { weights: a, intercepts, tied, chi2, iterations };
  }

  #taken(unknowns: readonly number[]): { a: number[]; I: number[] } {
    return { a: [1, ...unknowns.slice(0, this.#channels - 1)], I: unknowns.slice(this.#channels - 1) };
  }

  #at(point: FitPoint, a: readonly number[], I: number): { s: number; y: number; d: number } {
    const s = quadratic(point.covariance, a);
    const d = s + I * this.#u * (I * this.#u);
    if (!(d > 0)) throw new Error("the fit of the separation needs an uncertainty at every condition");
    return { s, y: dot(a, point.q), d };
  }

  #solve(points: readonly Frozen[], pulls: readonly { readonly toOwn: number; readonly toTied: number }[]): number[] {
    const first = this.#channels - 1;
    const size = first + this.#names.length;
    const matrix = Array.from({ length: size }, () => new Array<number>(size).fill(0));
    const right = new Array<number>(size).fill(0);
    const add = (row: number, column: number, value: number) => {
      matrix[row]![column] = matrix[row]![column]! + value;
    };
    points.forEach(({ adjusted, slope, level }, i) => {
      const { q } = this.#points[i]!;
      const intercept = first + this.#of[i]!;
      const rows: [number, number][] = adjusted.slice(1).map((value, c) => [c, slope * value]);
      rows.push([intercept, level]);
      for (const [row, factor] of rows) {
        for (let c = 0; c < first; c++) add(row, c, factor * q[c + 1]!);
        add(row, intercept, -factor);
        right[row] = right[row]! - factor * q[0]!;
      }
    });
    const tied = first + this.#names.indexOf(TIED);
    pulls.forEach(({ toOwn, toTied }, p) => {
      const own = first + this.#pulls[p]!.own;
      add(own, own, -toOwn);
      add(own, tied, toOwn);
      add(tied, own, toTied);
      add(tied, tied, -toTied);
    });
    return solve(matrix, right);
  }
}
