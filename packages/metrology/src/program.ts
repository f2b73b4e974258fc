import { forward, Operation, partialA, partialB } from "./operations.ts";
import { type Scalar, Tape } from "./tape.ts";
import type { Unit } from "./unit.ts";

/** Rows worked on at a time: a strip of every node stays in the first-level cache. */
const STRIP = 256;

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
    const values = new Float64Array(this.tape.length * strip);
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
    const values = new Float64Array(this.tape.length * strip);
    const adjoints = new Float64Array(this.tape.length * strip);
    for (let start = 0; start < count; start += STRIP) {
      const length = Math.min(STRIP, count - start);
      this.#forward(values, strip, columns, rows, start, length, scalars);
      this.outputs.forEach((node, k) => {
        adjoints.fill(0);
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
    const values = new Float64Array(nodes * strip);
    const adjoints = new Float64Array(nodes * strip);
    for (let start = 0; start < count; start += STRIP) {
      const length = Math.min(STRIP, count - start);
      this.#forward(values, strip, columns, rows, start, length, scalars);
      adjoints.fill(0);
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
      const left = a[node]! * strip;
      const right = b[node]! * strip;
      const here = node * strip;
      for (let i = 0; i < length; i++) {
        const adjoint = adjoints[here + i]!;
        if (adjoint === 0) continue;
        const x = values[left + i]!;
        const y = right < 0 ? 0 : values[right + i]!;
        const v = values[here + i]!;
        adjoints[left + i]! += adjoint * partialA(operation, x, y, c[node]!, v);
        if (right >= 0) adjoints[right + i]! += adjoint * partialB(operation, x, y, v);
      }
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
      const left = a[node]! * strip;
      const right = b[node]! * strip;
      const here = node * strip;
      if (operation === Operation.literal) values.fill(c[node]!, here, here + length);
      else
        for (let i = 0; i < length; i++)
          values[here + i] = forward(operation, values[left + i]!, right < 0 ? 0 : values[right + i]!, c[node]!);
    }
  }
}
