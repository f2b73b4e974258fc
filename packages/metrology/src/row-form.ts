import type { Column, ColumnGraph, Varying } from "./column-graph.ts";
import { forward, Operation, type OperationCode } from "./operations.ts";

/** A sum's term: what varies from trial to trial, times a number for each row. */
interface Term {
  readonly of: Column;
  readonly coefficients: Float64Array;
}

/**
 * A quantity that differs from row to row and from trial to trial, kept apart as
 * factor·(fixed_r + Σ coefficient_r·column): rows have numbers, trials have columns. Most formulas over readings are of
 * that shape (a reading less a background rate times a duration, over a gain), and their mean over the rows is then one
 * short sum, however many rows there are.
 */
export interface RowForm {
  readonly fixed: Float64Array;
  readonly terms: readonly Term[];
  /** The same for all rows; undefined for one. */
  readonly factor?: Column | undefined;
}

/** Writes the operations of a formula over rows down in a graph of columns. */
export class RowForms {
  readonly #graph: ColumnGraph;
  readonly #rows: number;

  constructor(graph: ColumnGraph, rows: number) {
    this.#graph = graph;
    this.#rows = rows;
  }

  /** A number for each row. */
  column(values: Float64Array): RowForm {
    return { fixed: values, terms: [] };
  }

  /** What is the same for all rows. */
  scalar(value: Varying): RowForm {
    const ones = new Float64Array(this.#rows).fill(1);
    if (typeof value === "number") return this.column(ones.fill(value));
    return { fixed: new Float64Array(this.#rows), terms: [{ of: value, coefficients: ones }] };
  }

  /** An operation of a tape; b is undefined for operations of one operand, c the exponent of `power`. */
  apply(operation: OperationCode, a: RowForm, b: RowForm | undefined, c: number): RowForm {
    if (isFixed(a) && (!b || isFixed(b)))
      return this.column(a.fixed.map((x, r) => forward(operation, x, b ? b.fixed[r]! : 0, c)));
    switch (operation) {
      case Operation.add:
        return this.#sum(a, b!, 1);
      case Operation.subtract:
        return this.#sum(a, b!, -1);
      case Operation.negate:
        return scaled(a, new Float64Array(this.#rows).fill(-1));
      case Operation.multiply:
        return this.#product(a, b!) ?? this.#rowByRow(operation, a, b, c);
      case Operation.divide:
        return this.#quotient(a, b!) ?? this.#rowByRow(operation, a, b, c);
      default:
        return this.#rowByRow(operation, a, b, c);
    }
  }

  /** Σ weight_r·form_r. */
  mean(form: RowForm, weights: Float64Array): Varying {
    const over = (values: Float64Array) => values.reduce((total, value, r) => total + weights[r]! * value, 0);
    const sum = this.#graph.combine(
      over(form.fixed),
      form.terms.map(({ of, coefficients }) => ({ coefficient: over(coefficients), of })),
    );
    return form.factor ? this.#graph.apply(Operation.multiply, sum, form.factor, 0) : sum;
  }

  #sum(a: RowForm, b: RowForm, sign: number): RowForm {
    if (isFixed(b) && b.fixed.every((x) => x === 0)) return a;
    const [left, right] = a.factor === b.factor ? [a, b] : [this.#expanded(a), this.#expanded(b)];
    const terms = new Map(left.terms.map(({ of, coefficients }) => [of, coefficients]));
    for (const { of, coefficients } of right.terms) {
      const there = terms.get(of);
      terms.set(
        of,
        coefficients.map((x, r) => (there?.[r] ?? 0) + sign * x),
      );
    }
    return {
      fixed: left.fixed.map((x, r) => x + sign * right.fixed[r]!),
      terms: [...terms]
        .filter(([, coefficients]) => coefficients.some((x) => x !== 0))
        .map(([of, coefficients]) => ({ of, coefficients })),
      factor: left.factor,
    };
  }

  /** undefined where the product of two sums would have more terms than rows are worth. */
  #product(a: RowForm, b: RowForm): RowForm | undefined {
    const [left, right] = [this.#compact(a), this.#compact(b)];
    const [one, other] = isSingle(left) ? [left, right] : [right, left];
    if (!isSingle(one)) return undefined;
    const { of, coefficients } = singleOf(one);
    return { ...scaled(other, coefficients), factor: this.#productOf(one.factor, of, other.factor) };
  }

  #quotient(a: RowForm, b: RowForm): RowForm | undefined {
    const divisor = this.#compact(b);
    if (!isSingle(divisor)) return undefined;
    const { of, coefficients } = singleOf(divisor);
    const by = this.#productOf(divisor.factor, of);
    return {
      fixed: a.fixed.map((x, r) => x / coefficients[r]!),
      terms: a.terms.map((term) => ({ ...term, coefficients: term.coefficients.map((x, r) => x / coefficients[r]!) })),
      factor: by ? (this.#graph.apply(Operation.divide, a.factor ?? 1, by, 0) as Column) : a.factor,
    };
  }

  /** Any operation: once for each group of rows that do not differ in it. */
  #rowByRow(operation: OperationCode, a: RowForm, b: RowForm | undefined, c: number): RowForm {
    const groups = new Map<string, number[]>();
    for (let r = 0; r < this.#rows; r++) {
      const name = `${coefficientsAt(a, r)} ${b ? coefficientsAt(b, r) : ""}`;
      const group = groups.get(name);
      if (group) group.push(r);
      else groups.set(name, [r]);
    }
    const fixed = new Float64Array(this.#rows);
    const terms: Term[] = [];
    for (const rows of groups.values()) {
      const value = this.#graph.apply(operation, this.#at(a, rows[0]!), b ? this.#at(b, rows[0]!) : 0, c);
      const coefficients = new Float64Array(this.#rows);
      for (const r of rows)
        if (typeof value === "number") fixed[r] = value;
        else coefficients[r] = 1;
      if (typeof value !== "number") terms.push({ of: value, coefficients });
    }
    return { fixed, terms };
  }

  /** A sum that is the same for all rows becomes one column. */
  #compact(form: RowForm): RowForm {
    const same = (values: Float64Array) => values.every((x) => x === values[0]);
    if (isSingle(form) || !same(form.fixed) || !form.terms.every(({ coefficients }) => same(coefficients))) return form;
    return this.scalar(this.#at(form, 0));
  }

  /** The form without its factor: every term multiplied out. */
  #expanded(form: RowForm): RowForm {
    const { factor } = form;
    if (!factor) return form;
    const own = form.fixed.some((x) => x !== 0) ? [{ of: factor, coefficients: form.fixed }] : [];
    const terms = form.terms.map(({ of, coefficients }) => ({ of: this.#productOf(of, factor)!, coefficients }));
    return { fixed: new Float64Array(this.#rows), terms: [...own, ...terms] };
  }

  /** The value of one row. */
  #at({ fixed, terms, factor }: RowForm, row: number): Varying {
    const sum = this.#graph.combine(
      fixed[row]!,
      terms
        .filter(({ coefficients }) => coefficients[row] !== 0)
        .map(({ of, coefficients }) => ({ coefficient: coefficients[row]!, of })),
    );
    return factor ? this.#graph.apply(Operation.multiply, sum, factor, 0) : sum;
  }

  /** The product of those columns that there are. */
  #productOf(...columns: (Column | undefined)[]): Column | undefined {
    return columns.reduce(
      (a, b) => (a && b ? (this.#graph.apply(Operation.multiply, a, b, 0) as Column) : (a ?? b)),
      undefined,
    );
  }
}

/** The same in every trial. */
function isFixed({ terms, factor }: RowForm): boolean {
  return terms.length === 0 && !factor;
}

/** A single term, or numbers alone. */
function isSingle({ fixed, terms }: RowForm): boolean {
  return terms.length === 0 || (terms.length === 1 && fixed.every((x) => x === 0));
}

function singleOf({ fixed, terms }: RowForm): { of: Column | undefined; coefficients: Float64Array } {
  return terms[0] ?? { of: undefined, coefficients: fixed };
}

function scaled({ fixed, terms, factor }: RowForm, by: Float64Array): RowForm {
  return {
    fixed: fixed.map((x, r) => x * by[r]!),
    terms: terms.map(({ of, coefficients }) => ({ of, coefficients: coefficients.map((x, r) => x * by[r]!) })),
    factor,
  };
}

function coefficientsAt({ fixed, terms }: RowForm, row: number): string {
  return `${fixed[row]} ${terms.map(({ coefficients }) => coefficients[row]).join(" ")}`;
}
