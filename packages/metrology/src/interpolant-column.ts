import { ChebyshevEvaluator } from "./chebyshev.ts";
import { type Column, NORMAL_REACH, type Range, type Task, type Work } from "./column-graph.ts";
import { schedule } from "./column-schedule.ts";
import { normalCdf } from "./distributions.ts";
import { type Piece, piecewiseInterpolant, type Side, shareWithout } from "./piecewise-interpolant.ts";

/** A column that an interpolant depends on, with the range that its trials, but for a few, lie in. */
export interface Variable {
  readonly column: Column;
  readonly range: Range;
}

/** How far an interpolant may be off, of what the column runs through within a standard deviation: 1e-5 of its u. */
const FINE = 5e-6;

/** What rounding alone may do, of the column's size. */
const ROUNDING = 1e-14;

/** Nanoseconds a trial that are not worth a piece of their own. */
const LITTLE = 20;

/** Nanoseconds that an interpolant may cost to make. */
const BUDGET = 1e8;

/** Trials that are worked out the long way at once. */
const STRIP = 64;

/**
 * An interpolant of a column over the ranges of what it depends on. A trial beyond them, or where there is no
 * interpolant that is good, is worked out the long way.
 *
 * @param variables one to three; nothing else that varies is behind the column.
 * @param tolerance what it may be off, in the column's unit, where that is known; else zero.
 * @param cost nanoseconds that a trial takes the long way.
 * @returns undefined where most trials would have to go the long way.
 */
export function interpolantOf(
  column: Column,
  variables: readonly Variable[],
  tolerance: number,
  cost: number,
): Column | undefined {
  const inputs = variables.map((variable) => variable.column);
  const exact = new LongWay(column, inputs);
  const box = variables.map(({ range: { centre, reach } }): Side => ({ low: centre - reach, high: centre + reach }));
  const piece = piecewiseInterpolant(
    {
      values: (points) => exact.at(points),
      share: (own) => own.reduce((product, side, variable) => product * shareOf(side, variables[variable]!.range), 1),
      tolerance: Math.max(tolerance, leastTolerance(exact, variables)),
      spare: LITTLE / cost,
      budget: BUDGET / cost,
    },
    box,
  );
  return shareWithout(piece) > 0.5 ? undefined : interpolating(column, inputs, box, piece);
}

/** What is certainly good enough, from the values in the middle of the ranges. */
function leastTolerance(exact: LongWay, variables: readonly Variable[]): number {
  const points = variables.reduce<number[][]>(
    (all, { range: { centre, reach } }) =>
      all.flatMap((point) => [-1, 0, 1].map((step) => [...point, centre + (step * reach) / NORMAL_REACH])),
    [[]],
  );
  const values = exact.at(points).filter((value) => Number.isFinite(value));
  if (values.length === 0) return 0;
  const [low, high] = [Math.min(...values), Math.max(...values)];
  return Math.max(FINE * (high - low), ROUNDING * Math.max(Math.abs(low), Math.abs(high)));
}

/** The part of the trials of a variable that lies in a side. */
function shareOf({ low, high }: Side, { centre, reach, flat }: Range): number {
  if (flat) return (high - low) / (2 * reach);
  return normalCdf((NORMAL_REACH * (high - centre)) / reach) - normalCdf((NORMAL_REACH * (low - centre)) / reach);
}

/** A column as it is, at any values of what it depends on. */
class LongWay {
  readonly #work;

  constructor(column: Column, variables: readonly Column[]) {
    this.#work = schedule([column], STRIP, variables);
  }

  at(points: readonly (readonly number[])[]): Float64Array {
    const values = new Float64Array(points.length);
    for (let start = 0; start < points.length; start += STRIP) {
      const count = Math.min(STRIP, points.length - start);
      this.#work.given.forEach((column, variable) => {
        for (let i = 0; i < count; i++) column[i] = points[start + i]![variable]!;
      });
      values.set(this.#run(count), start);
    }
    return values;
  }

  /** Fills in some trials of a block. @param which their numbers, a strip at most. */
  fill(out: Float64Array, inputs: readonly Float64Array[], which: Int32Array, count: number): void {
    this.#work.given.forEach((column, variable) => {
      for (let i = 0; i < count; i++) column[i] = inputs[variable]![which[i]!]!;
    });
    const values = this.#run(count);
    for (let i = 0; i < count; i++) out[which[i]!] = values[i]!;
  }

  #run(count: number): Float64Array {
    this.#work.run(count);
    return this.#work.results[0]!.subarray(0, count);
  }
}

/** The interpolant as a task. */
function interpolating(column: Column, variables: readonly Column[], box: readonly Side[], piece: Piece): Column {
  const task: Task = {
    inputs: variables,
    outputs: 1,
    scratch: 0,
    cost: 100,
    bind(inputs, [out]): Work {
      const pieces = new Pieces(box, piece);
      const exact = new LongWay(column, variables);
      const waiting = new Int32Array(STRIP);
      return (count) => {
        let left = 0;
        for (let i = 0; i < count; i++) {
          for (let variable = 0; variable < inputs.length; variable++) pieces.point[variable] = inputs[variable]![i]!;
          const value = pieces.value();
          out![i] = value;
          if (!Number.isNaN(value)) continue;
          waiting[left++] = i;
          if (left < STRIP) continue;
          exact.fill(out!, inputs, waiting, left);
          left = 0;
        }
        exact.fill(out!, inputs, waiting, left);
      };
    },
  };
  return { task, output: 0 };
}

/** A piece ready to be evaluated. */
type Ready =
  | { readonly middles: Float64Array; readonly scales: Float64Array; readonly sum: ChebyshevEvaluator }
  | { readonly variable: number; readonly at: number; readonly below: Ready; readonly above: Ready }
  | undefined;

/** A tree of pieces at one point after another. */
class Pieces {
  readonly point = new Float64Array(3);
  readonly #box: readonly Side[];
  readonly #root: Ready;

  constructor(box: readonly Side[], piece: Piece) {
    this.#box = box;
    this.#root = readied(piece);
  }

  /** NaN where there is no interpolant. */
  value(): number {
    const point = this.point;
    for (let variable = 0; variable < this.#box.length; variable++) {
      const { low, high } = this.#box[variable]!;
      if (!(point[variable]! >= low && point[variable]! <= high)) return Number.NaN;
    }
    let piece = this.#root;
    while (piece && "at" in piece) piece = point[piece.variable]! <= piece.at ? piece.below : piece.above;
    if (!piece) return Number.NaN;
    const { middles, scales, sum } = piece;
    for (let variable = 0; variable < middles.length; variable++)
      sum.place(variable, (point[variable]! - middles[variable]!) * scales[variable]!);
    return sum.value();
  }
}

function readied(piece: Piece): Ready {
  if (piece.kind === "none") return undefined;
  if (piece.kind === "cut") {
    const { variable, at, below, above } = piece;
    return { variable, at, below: readied(below), above: readied(above) };
  }
  return {
    middles: Float64Array.from(piece.box, ({ low, high }) => 0.5 * (low + high)),
    scales: Float64Array.from(piece.box, ({ low, high }) => 2 / (high - low)),
    sum: new ChebyshevEvaluator(piece.sum),
  };
}
