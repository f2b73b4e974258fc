import { forward, Operation, type OperationCode } from "./operations.ts";
import { ONE, type Unit } from "./unit.ts";

/** How a node is called: the key is semantic and stable, the symbol is for formulas, the label for people. */
export interface Name {
  /** Such as `output-factor.10x10`; unique on its tape. */
  readonly key: string;
  /** Such as `S_10x10`: what follows the first underscore is the subscript. */
  readonly symbol: string;
  /** Such as `corrected signal of 10x10`. */
  readonly label: string;
}

/**
 * A flat list of scalar operations in the order in which they were written. Every node knows its unit, and a formula
 * that adds unlike units is refused when it is written, not when it is evaluated.
 */
export class Tape {
  readonly operations: OperationCode[] = [];
  readonly a: number[] = [];
  readonly b: number[] = [];
  readonly c: number[] = [];
  readonly units: Unit[] = [];
  /** The values as written; slots of a program have none yet, and hold NaN. */
  readonly values: number[] = [];
  readonly names = new Map<number, Name>();
  readonly #byKey = new Map<string, number>();

  get length(): number {
    return this.operations.length;
  }

  /** Writes a node whose value comes from outside. */
  input(value: number, unit: Unit): Scalar {
    return this.push(Operation.input, -1, -1, 0, unit, value);
  }

  /** Writes a number of a formula, dimensionless unless said otherwise. */
  literal(value: number, unit: Unit = ONE): Scalar {
    return this.push(Operation.literal, -1, -1, value, unit, value);
  }

  push(operation: OperationCode, a: number, b: number, c: number, unit: Unit, value?: number): Scalar {
    const index = this.operations.length;
    this.operations.push(operation);
    this.a.push(a);
    this.b.push(b);
    this.c.push(c);
    this.units.push(unit);
    this.values.push(value ?? forward(operation, this.values[a]!, b < 0 ? 0 : this.values[b]!, c));
    return new Scalar(this, index);
  }

  /** @throws Error where the key is taken, or the node has a name already: a second key would hide the first. */
  name(index: number, name: Name): void {
    if (this.#byKey.has(name.key)) throw new Error(`two nodes are called "${name.key}"`);
    const given = this.names.get(index);
    if (given) throw new Error(`"${name.key}" is to be the name of a node that is called "${given.key}" already`);
    this.#byKey.set(name.key, index);
    this.names.set(index, name);
  }

  /** The node of that key, if there is one. */
  find(key: string): Scalar | undefined {
    const index = this.#byKey.get(key);
    return index === undefined ? undefined : new Scalar(this, index);
  }
}

/** A node of a tape, with the operations that write further nodes. */
export class Scalar {
  readonly tape: Tape;
  readonly index: number;

  constructor(tape: Tape, index: number) {
    this.tape = tape;
    this.index = index;
  }

  get unit(): Unit {
    return this.tape.units[this.index]!;
  }

  /** The value as written: at the estimates. */
  get value(): number {
    return this.tape.values[this.index]!;
  }

  plus(other: Scalar | number): Scalar {
    const { index } = this.#like(other, "add to");
    return this.tape.push(Operation.add, this.index, index, 0, this.unit);
  }

  minus(other: Scalar | number): Scalar {
    const { index } = this.#like(other, "subtract from");
    return this.tape.push(Operation.subtract, this.index, index, 0, this.unit);
  }

  times(other: Scalar | number): Scalar {
    const factor = this.#operand(other);
    return this.tape.push(Operation.multiply, this.index, factor.index, 0, this.unit.times(factor.unit));
  }

  over(other: Scalar | number): Scalar {
    const divisor = this.#operand(other);
    return this.tape.push(Operation.divide, this.index, divisor.index, 0, this.unit.over(divisor.unit));
  }

  negative(): Scalar {
    return this.tape.push(Operation.negate, this.index, -1, 0, this.unit);
  }

  squareRoot(): Scalar {
    return this.tape.push(Operation.squareRoot, this.index, -1, 0, this.unit.power(0.5));
  }

  /** This to a fixed real power. */
  power(exponent: number): Scalar {
    return this.tape.push(Operation.power, this.index, -1, exponent, this.unit.power(exponent));
  }

  exponential(): Scalar {
    return this.#pure(Operation.exponential, "exponential");
  }

  logarithm(): Scalar {
    return this.#pure(Operation.logarithm, "logarithm");
  }

  /** The sine of this, in radians. */
  sine(): Scalar {
    return this.#pure(Operation.sine, "sine");
  }

  /** The cosine of this, in radians. */
  cosine(): Scalar {
    return this.#pure(Operation.cosine, "cosine");
  }

  errorFunction(): Scalar {
    return this.#pure(Operation.errorFunction, "error function");
  }

  /** A disc of that radius blurred by a Gaussian of unit width, at this distance from its centre: 1 − Q₁(this, radius). */
  blurredDisc(radius: Scalar): Scalar {
    if (this.unit !== ONE || radius.unit !== ONE) throw new TypeError("distance and radius are in units of the blur");
    return this.tape.push(Operation.blurredDisc, this.index, this.#operand(radius).index, 0, ONE);
  }

  /** The smaller of this and another of its unit. */
  atMost(other: Scalar | number): Scalar {
    const { index } = this.#like(other, "compare with");
    return this.tape.push(Operation.minimum, this.index, index, 0, this.unit);
  }

  /** Gives this node its name, and returns it. */
  named(key: string, symbol: string, label: string): this {
    this.tape.name(this.index, { key, symbol, label });
    return this;
  }

  #operand(other: Scalar | number): Scalar {
    if (typeof other === "number") return this.tape.literal(other);
    if (other.tape !== this.tape) throw new Error("the two operands belong to different tapes");
    return other;
  }

  #like(other: Scalar | number, what: string): Scalar {
    const operand = this.#operand(other);
    if (operand.unit !== this.unit)
      throw new TypeError(`cannot ${what} a quantity in ${this.unit.symbol} one in ${operand.unit.symbol}`);
    return operand;
  }

  #pure(operation: OperationCode, what: string): Scalar {
    if (this.unit !== ONE) throw new TypeError(`the ${what} of a quantity in ${this.unit.symbol} has no meaning`);
    return this.tape.push(operation, this.index, -1, 0, ONE);
  }
}

/**
 * The sum of one or more nodes, written from left to right.
 * @throws RangeError where there are none: a sum of nothing has no unit.
 */
export function sum(terms: readonly Scalar[]): Scalar {
  if (terms.length === 0) throw new RangeError("a sum of no terms has no unit");
  return terms.reduce((total, term) => total.plus(term));
}
