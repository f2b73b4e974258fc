import { backwardStrip, forwardStrip } from "./operation-strips.ts";
import { Operation } from "./operations.ts";
import { type Scalar, Tape } from "./tape.ts";
import type { Unit } from "./unit.ts";

/** Rows worked on at a time: a strip of every node stays in the first-level cache. */
const STRIP = 256;

/** Working memory for a strip of every node, kept from call to call: most means are of a handful of rows. */
const working = { values: new Float64Array(0), adjoints: new Float64Array(0) };

/** The first `length` numbers of it, whatever they hold. */
function workingMemory(length: number): typeof working {
  if (working.values.length < length) {
    working.values = new Float64Array(length);
    working.adjoints = new Float64Array(length);
  }
  return working;
}

/** What a slot of a program stands for: the symbol is for formulas. */
export interface Slot {
  readonly symbol: string;
  readonly unit: Unit;
}

/**
 * A formula over a row of columns and some scalars, written once and mapped over as many rows as there are: a short
 * tape of its own. Readings and samples never become nodes of the model.
 */
export class Program {
  readonly tape = new Tape();
  /** The slots filled from columns, row by row; nodes 0 to columns − 1 of the tape. */
  readonly columns: readonly Slot[];
  /** The slots that are the same for all rows; the nodes that follow. */
  readonly scalars: readonly Slot[];
  /** The nodes of the tape that are the results. */
  readonly outputs: readonly number[];

  /**
   * @param write puts the formula down in terms of the slots, and returns its results.
   * @throws Error where it uses a node from outside.
   */
  constructor(
    columns: readonly Slot[],
    scalars: readonly Slot[],
    write: (columns: readonly Scalar[], scalars: readonly Scalar[]) => readonly Scalar[],
  ) {
    this.columns = columns;
    this.scalars = scalars;
    const slot = ({ symbol, unit }: Slot, index: number) =>
      this.tape.input(Number.NaN, unit).named(`${index}`, symbol, symbol);
    const slots = [...columns, ...scalars].map(slot);
    this.outputs = write(slots.slice(0, columns.length), slots.slice(columns.length)).map(({ tape, index }) => {
      if (tape !== this.tape) throw new Error("a result of the program belongs to a tape outside it");
      return index;
    });
  }

  /** Units of the results. */
  get units(): readonly Unit[] {
    return this.outputs.map((index) => this.tape.units[index]!);
  }

  /**
   * Evaluates the formula.
   * @param columns one array per column slot.
   * @param rows which rows of the columns, in order.
   * @param scalars one value per scalar slot.
   * @returns outputs × rows, output by output.
   */
  evaluate(columns: readonly ArrayLike<number>[], rows: ArrayLike<number>, scalars: ArrayLike<number>): Float64Array {
    const count = rows.length;
    const result = new Float64Array(this.outputs.length * count);
    const strip = Math.min(STRIP, count);
    const { values } = workingMemory(this.tape.length * strip);
    for (let start = 0; start < count; start += STRIP) {
      const length = Math.min(STRIP, count - start);
      this.#forward(values, strip, columns, rows, start, length, scalars);
      this.outputs.forEach((node, k) => {
        for (let i = 0; i < length; i++) result[k * count + start + i] = values[node * strip + i]!;
      });
    }
    return result;
  }

  /**
   * Evaluates the formula, and the derivatives of each result's weighted sum over the rows.
   * @param weights one per row; a row of weight zero does not touch the derivatives, whatever it holds.
   * @returns `perRow`, outputs × rows, and `jacobian`, outputs × scalars.
   */
  linearise(
    columns: readonly ArrayLike<number>[],
    rows: ArrayLike<number>,
    scalars: ArrayLike<number>,
    weights: ArrayLike<number>,
  ): { perRow: Float64Array; jacobian: Float64Array } {
    const count = rows.length;
    const perRow = new Float64Array(this.outputs.length * count);
    const jacobian = new Float64Array(this.outputs.length * this.scalars.length);
    const strip = Math.min(STRIP, count);
    const used = this.tape.length * strip;
    const { values, adjoints } = workingMemory(used);
    for (let start = 0; start < count; start += STRIP) {
      const length = Math.min(STRIP, count - start);
      this.#forward(values, strip, columns, rows, start, length, scalars);
      this.outputs.forEach((node, k) => {
        adjoints.fill(0, 0, used);
        for (let i = 0; i < length; i++) {
          perRow[k * count + start + i] = values[node * strip + i]!;
          adjoints[node * strip + i] = weights[start + i]!;
        }
        this.#backward(values, adjoints, strip, length, node);
        this.#intoScalars(adjoints, strip, length, jacobian, k * this.scalars.length);
      });
    }
    return { perRow, jacobian };
  }

  /**
   * The gradient of Σ seeds·outputs: reverse mode, strip by strip.
   * @param seeds outputs × rows, as {@link evaluate} returns them.
   * @param intoScalars one sum per scalar slot, added to.
   * @param intoColumns columns × rows, column by column, added to; left out where nobody asks.
   */
  pullBack(
    columns: readonly ArrayLike<number>[],
    rows: ArrayLike<number>,
    scalars: ArrayLike<number>,
    seeds: ArrayLike<number>,
    intoScalars: Float64Array,
    intoColumns?: Float64Array,
  ): void {
    const count = rows.length;
    const { length: nodes } = this.tape;
    const strip = Math.min(STRIP, count);
    const { values, adjoints } = workingMemory(nodes * strip);
    for (let start = 0; start < count; start += STRIP) {
      const length = Math.min(STRIP, count - start);
      this.#forward(values, strip, columns, rows, start, length, scalars);
      adjoints.fill(0, 0, nodes * strip);
      this.outputs.forEach((node, k) => {
        for (let i = 0; i < length; i++) adjoints[node * strip + i]! += seeds[k * count + start + i]!;
      });
      this.#backward(values, adjoints, strip, length, nodes - 1);
      this.#intoScalars(adjoints, strip, length, intoScalars, 0);
      if (intoColumns)
        for (let m = 0; m < this.columns.length; m++)
          for (let i = 0; i < length; i++) intoColumns[m * count + start + i]! += adjoints[m * strip + i]!;
    }
  }

  /** Carries the adjoints of nodes up to `last` down to the slots. */
  #backward(values: Float64Array, adjoints: Float64Array, strip: number, length: number, last: number): void {
    const { operations, a, b, c } = this.tape;
    for (let node = last; node >= this.columns.length + this.scalars.length; node--) {
      const operation = operations[node]!;
      if (operation === Operation.literal) continue;
      backwardStrip(operation, values, adjoints, a[node]! * strip, b[node]! * strip, node * strip, length, c[node]!);
    }
  }

  #intoScalars(adjoints: Float64Array, strip: number, length: number, into: Float64Array, offset: number): void {
    for (let s = 0; s < this.scalars.length; s++) {
      const node = (this.columns.length + s) * strip;
      for (let i = 0; i < length; i++) into[offset + s]! += adjoints[node + i]!;
    }
  }

  #forward(
    values: Float64Array,
    strip: number,
    columns: readonly ArrayLike<number>[],
    rows: ArrayLike<number>,
    start: number,
    length: number,
    scalars: ArrayLike<number>,
  ): void {
    const { operations, a, b, c, length: nodes } = this.tape;
    const slots = this.columns.length;
    for (let m = 0; m < slots; m++) {
      const column = columns[m]!;
      for (let i = 0; i < length; i++) values[m * strip + i] = column[rows[start + i]!]!;
    }
    for (let s = 0; s < this.scalars.length; s++)
      values.fill(scalars[s]!, (slots + s) * strip, (slots + s) * strip + length);
    for (let node = slots + this.scalars.length; node < nodes; node++) {
      const operation = operations[node]!;
      const here = node * strip;
      if (operation === Operation.literal) values.fill(c[node]!, here, here + length);
      else forwardStrip(operation, values, a[node]! * strip, b[node]! * strip, here, length, c[node]!);
    }
  }
}
