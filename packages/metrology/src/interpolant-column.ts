import { type ChebyshevSum, chebyshevCoefficients, chebyshevNodes, chebyshevSum } from "./chebyshev.ts";
import type { Column, Range, Task, Work } from "./column-graph.ts";
import { schedule } from "./column-schedule.ts";
import { RandomStream } from "./random-stream.ts";

/** A column that an interpolant depends on, with the range that its trials, but for a few, lie in. */
export interface Variable {
  readonly column: Column;
  readonly range: Range;
}

/** How far an interpolant may be off, of the range that the quantity runs through: a hundred-thousandth of its u or so. */
const FINE = 1e-6;

/** What it may be at most, whatever is asked for: a hundredth of its u. */
const COARSE = 1e-3;

/** What rounding alone may do, of the quantity's size. */
const ROUNDING = 1e-14;

/** Nodes along a variable that are tried one after the other. */
const NODES: readonly number[] = [7, 11, 17, 25, 37];

/** The most nodes altogether. */
const POINTS = 4000;

/** Parts of the range that are tried one after the other; of a normal draw they leave 2e-9, 6e-5 and 3e-3 outside. */
const PARTS: readonly number[] = [1, 2 / 3, 1 / 2];

/** Points apart from the nodes at which an interpolant is compared with what it stands in for. */
const CHECKS = 24;

/** Trials that are worked out the long way at once. */
const STRIP = 64;

/**
 * An interpolant of a column: a sum of products of Chebyshev polynomials over the ranges of its variables, compared with
 * the column itself at points between the nodes. A trial that is beyond a range is worked out the long way.
 *
 * @param variables one to three; nothing else that varies is behind the column.
 * @param tolerance what it may be off, in the column's unit, where that is known; it never counts for more than a
 *   thousandth of the range that the column runs through, nor for less than a millionth.
 * @returns undefined where no interpolant is good enough.
 */
export function interpolantOf(column: Column, variables: readonly Variable[], tolerance: number): Column | undefined {
  const exact = new LongWay(
    column,
    variables.map((variable) => variable.column),
  );
  for (const part of PARTS) {
    const ranges = variables.map(({ range: { centre, reach } }): Range => ({ centre, reach: part * reach }));
    const sum = fitted(exact, ranges, tolerance);
    if (sum)
      return interpolating(
        column,
        variables.map((variable) => variable.column),
        ranges,
        sum,
      );
  }
  return undefined;
}

/** The quantity as it is, at any values of its draws. */
class LongWay {
  readonly #work;

  constructor(column: Column, variables: readonly Column[]) {
    this.#work = schedule([column], STRIP, variables);
  }

  /** @param count at most a strip. @param at fills in the variables of point i, in their own units. */
  run(count: number, at: (i: number, given: readonly Float64Array[]) => void): Float64Array {
    const { given, results } = this.#work;
    for (let i = 0; i < count; i++) at(i, given);
    this.#work.run(count);
    return results[0]!;
  }
}

/** The interpolant, with as many nodes along each variable as it takes; undefined where there is none that is good. */
function fitted(exact: LongWay, ranges: readonly Range[], tolerance: number): ChebyshevSum | undefined {
  const levels = ranges.map(() => 0);
  for (;;) {
    const counts = levels.map((level) => NODES[level] ?? Number.POSITIVE_INFINITY);
    if (counts.reduce((product, n) => product * n) > POINTS) return undefined;
    const values = valuesAt(exact, ranges, gridOf(counts));
    let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
    for (const value of values) {
      if (!Number.isFinite(value)) return undefined;
      low = Math.min(low, value);
      high = Math.max(high, value);
    }
    const wanted = Math.min(COARSE * (high - low), Math.max(FINE * (high - low), tolerance));
    const allowed = Math.max(wanted, ROUNDING * Math.max(Math.abs(low), Math.abs(high)));
    const sum = chebyshevSum(chebyshevCoefficients(values, counts), counts, 0.5 * allowed);
    // where one of the two highest orders matters there may be more beyond (two: even functions lack every other one)
    const short = counts.map((n, variable) => sum.degrees[variable]! >= n - 2);
    if (!short.includes(true)) {
      if (isGood(sum, exact, ranges, allowed)) return sum;
      short.fill(true);
    }
    short.forEach((wanting, variable) => {
      if (wanting) levels[variable]!++;
    });
  }
}

/** Points on −1…1 in each variable, point after point. */
type Points = readonly (readonly number[])[];

/** All combinations of the nodes, the last variable running fastest. */
function gridOf(counts: readonly number[]): Points {
  let points: number[][] = [[]];
  for (const n of counts) {
    const nodes = [...chebyshevNodes(n)];
    points = points.flatMap((point) => nodes.map((node) => [...point, node]));
  }
  return points;
}

function isGood(sum: ChebyshevSum, exact: LongWay, ranges: readonly Range[], allowed: number): boolean {
  const stream = new RandomStream("checks of an interpolant");
  const points = Array.from({ length: CHECKS }, () => ranges.map(() => 2 * stream.nextFraction() - 1));
  const evaluator = new SumEvaluator(sum);
  return valuesAt(exact, ranges, points).every((value, i) => {
    points[i]!.forEach((x, variable) => {
      evaluator.place(variable, x);
    });
    return Math.abs(evaluator.value() - value) <= allowed;
  });
}

/** The quantity at some points. */
function valuesAt(exact: LongWay, ranges: readonly Range[], points: Points): Float64Array {
  const values = new Float64Array(points.length);
  for (let start = 0; start < points.length; start += STRIP) {
    const length = Math.min(STRIP, points.length - start);
    const found = exact.run(length, (i, given) => {
      ranges.forEach(({ centre, reach }, variable) => {
        given[variable]![i] = centre + reach * points[start + i]![variable]!;
      });
    });
    values.set(found.subarray(0, length), start);
  }
  return values;
}

/** A sum at one point after another, without making anything on the way. */
class SumEvaluator {
  readonly #sum: ChebyshevSum;
  /** T₀, T₁, … of each of three variables; those that there are not stay at T₀ = 1. */
  readonly #basis: readonly [Float64Array, Float64Array, Float64Array];

  constructor(sum: ChebyshevSum) {
    this.#sum = sum;
    const one = (variable: number) => {
      const basis = new Float64Array((sum.degrees[variable] ?? 0) + 2);
      basis[0] = 1;
      return basis;
    };
    this.#basis = [one(0), one(1), one(2)];
  }

  /** @param variable from 0. @param x from −1 to 1. */
  place(variable: number, x: number): void {
    const basis = this.#basis[variable]!;
    const degree = this.#sum.degrees[variable]!;
    basis[1] = x;
    for (let i = 2; i <= degree; i++) basis[i] = 2 * x * basis[i - 1]! - basis[i - 2]!;
  }

  value(): number {
    const { orders, coefficients } = this.#sum;
    const [first, second, third] = this.#basis;
    let total = 0;
    for (let t = 0; t < coefficients.length; t++)
      total += coefficients[t]! * first[orders[3 * t]!]! * second[orders[3 * t + 1]!]! * third[orders[3 * t + 2]!]!;
    return total;
  }
}

/** The interpolant as a task. */
function interpolating(
  column: Column,
  variables: readonly Column[],
  ranges: readonly Range[],
  sum: ChebyshevSum,
): Column {
  const centres = Float64Array.from(ranges, ({ centre }) => centre);
  const reaches = Float64Array.from(ranges, ({ reach }) => reach);
  const task: Task = {
    inputs: variables,
    outputs: 1,
    scratch: 0,
    cost: 3 * sum.coefficients.length,
    bind(inputs, [out]): Work {
      const evaluator = new SumEvaluator(sum);
      const exact = new LongWay(column, variables);
      const beyond = new Int32Array(STRIP);
      let waiting = 0;
      const settle = () => {
        const found = exact.run(waiting, (i, given) => {
          for (let v = 0; v < inputs.length; v++) given[v]![i] = inputs[v]![beyond[i]!]!;
        });
        for (let i = 0; i < waiting; i++) out![beyond[i]!] = found[i]!;
        waiting = 0;
      };
      return (count) => {
        for (let i = 0; i < count; i++) {
          let inside = true;
          for (let v = 0; v < inputs.length; v++) {
            const x = (inputs[v]![i]! - centres[v]!) / reaches[v]!;
            if (!(x >= -1 && x <= 1)) inside = false;
            evaluator.place(v, x);
          }
          if (inside) out![i] = evaluator.value();
          else {
            beyond[waiting++] = i;
            if (waiting === STRIP) settle();
          }
        }
        settle();
      };
    },
  };
  return { task, output: 0 };
}
