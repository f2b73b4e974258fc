import { applyToColumns, combineColumns } from "./column-operations.ts";
import { forward, Operation, type OperationCode } from "./operations.ts";

/** What varies from trial to trial: one output of a task. */
export interface Column {
  readonly task: Task;
  /** Which of the task's outputs. */
  readonly output: number;
}

/** A number that is the same in every trial, or a column. */
export type Varying = number | Column;

/** From centre − reach to centre + reach. */
export interface Range {
  readonly centre: number;
  readonly reach: number;
  /** True where trials fill all of it, false where they grow rare towards the ends, {@link NORMAL_REACH} out. */
  readonly flat: boolean;
}

/** Standard deviations to either end of a range that is not flat: one normal draw in 16 000 is beyond it. */
export const NORMAL_REACH = 4;

/** Does its work for the first `count` trials of a block. */
export type Work = (count: number) => void;

/** A piece of work on columns: it fills its outputs from its inputs. */
export interface Task {
  readonly inputs: readonly Column[];
  readonly outputs: number;
  /** How many columns it needs to itself while it works. */
  readonly scratch: number;
  /** Roughly how many nanoseconds a trial takes. */
  readonly cost: number;
  /** Where its outputs come from a draw: the range of each that no draw, or hardly one, is beyond. */
  readonly ranges?: readonly Range[];
  /** True where each trial is to go the whole way, whatever it costs: a fit, which may fail. */
  readonly exact?: boolean;
  /**
   * Binds the work to its columns: outputs and scratch are none of the inputs.
   * @param outputs undefined where nobody reads one.
   */
  bind(
    inputs: readonly Float64Array[],
    outputs: readonly (Float64Array | undefined)[],
    scratch: readonly Float64Array[],
  ): Work;
}

/** Nanoseconds of plain arithmetic, and of what is more than that. */
const PLAIN = 1;
const COSTS: Partial<Record<OperationCode, number>> = {
  [Operation.power]: 100,
  [Operation.exponential]: 20,
  [Operation.logarithm]: 25,
  [Operation.sine]: 15,
  [Operation.cosine]: 15,
  [Operation.errorFunction]: 40,
  [Operation.blurredDisc]: 900,
};

/**
 * A computation on columns while it is put together. What is the same in every trial is computed here and now, and
 * what is asked for twice is there once.
 */
export class ColumnGraph {
  readonly #known = new Map<string, Column>();
  readonly #numbers = new Map<Task, number>();

  /** Adds a task of any kind. @returns its outputs. */
  add(task: Task): Column[] {
    this.#numbers.set(task, this.#numbers.size);
    return Array.from({ length: task.outputs }, (_, output) => ({ task, output }));
  }

  /** An operation of a tape; b is zero for operations of one operand, c the exponent of `power`. */
  apply(operation: OperationCode, a: Varying, b: Varying, c: number): Varying {
    if (typeof a === "number" && typeof b === "number") return forward(operation, a, b, c);
    if (b === 1 && (operation === Operation.multiply || operation === Operation.divide)) return a;
    if (a === 1 && operation === Operation.multiply) return b;
    const name = `${operation} ${this.#nameOf(a)} ${this.#nameOf(b)} ${c}`;
    return this.#once(name, COSTS[operation] ?? PLAIN, [a, b], (columns) => {
      const left = typeof a === "number" ? a : columns[0]!;
      const right = typeof b === "number" ? b : columns.at(-1)!;
      return (out) => (count) => applyToColumns(operation, out, left, right, c, count);
    });
  }

  /** constant + Σ coefficient·term. */
  combine(constant: number, terms: readonly { readonly coefficient: number; readonly of: Varying }[]): Varying {
    let fixed = constant;
    const varying: { coefficient: number; of: Column }[] = [];
    for (const { coefficient, of } of terms)
      if (typeof of === "number") fixed += coefficient * of;
      else varying.push({ coefficient, of });
    if (varying.length === 0) return fixed;
    if (varying.length === 1 && fixed === 0 && varying[0]!.coefficient === 1) return varying[0]!.of;
    const coefficients = varying.map(({ coefficient }) => coefficient);
    const columns = varying.map(({ of }) => of);
    const name = varying.map(({ coefficient, of }) => `${coefficient} ${this.#nameOf(of)}`).join(" ");
    return this.#once(
      `Σ ${fixed} ${name}`,
      PLAIN * varying.length,
      columns,
      (bound) => (out) => (count) => combineColumns(out, fixed, coefficients, bound, count),
    );
  }

  #once(
    name: string,
    cost: number,
    operands: readonly Varying[],
    work: (columns: Float64Array[]) => (out: Float64Array) => Work,
  ): Column {
    const known = this.#known.get(name);
    if (known) return known;
    const [made] = this.add({
      inputs: operands.filter((operand) => typeof operand !== "number"),
      outputs: 1,
      scratch: 0,
      cost,
      bind: (inputs, [out]) => work([...inputs])(out!),
    });
    this.#known.set(name, made!);
    return made!;
  }

  #nameOf(value: Varying): string {
    return typeof value === "number" ? `${value}` : `#${this.#numbers.get(value.task)}.${value.output}`;
  }
}
