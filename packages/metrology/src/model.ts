import type { DeviateSurface } from "./deviate-surface.ts";
import type { Kernel, KernelState } from "./kernel.ts";
import { Operation } from "./operations.ts";
import { isPositiveSemidefinite } from "./positive-semidefinite.ts";
import { type Scalar, Tape } from "./tape.ts";
import type { Unit } from "./unit.ts";

/** How an input was evaluated, in the words of the GUM: A from repeats, B by any other means. */
export type EvaluationType = "A" | "B";

/** The shape that a distribution is drawn with; `t` follows from finite degrees of freedom by itself. */
export type Distribution = "normal" | "rectangular" | "triangular" | "u-shaped";

/** One quantity of a block of estimates. */
export interface Element {
  /** Its name within the block; left out where the block has one element. */
  readonly name?: string;
  readonly symbol: string;
  readonly label: string;
  readonly unit: Unit;
  readonly value: number;
}

/** Estimates that may be correlated with each other, and are independent of everything outside the block. */
export interface Block {
  /** Semantic and stable, such as `output-factors/10x10/repeats`. */
  readonly key: string;
  readonly type: EvaluationType;
  readonly elements: readonly Element[];
  /** Elements × elements, row by row, in the elements' units. */
  readonly covariance: ArrayLike<number>;
  /** Degrees of freedom of the variance estimate; Infinity where it is taken as known. Default Infinity. */
  readonly dof?: number;
  /** The variance estimate behind it: blocks that share one share its degrees of freedom. Default the key. */
  readonly group?: string;
  /** True where a variance exists and nobody knows it (no repeats): then whatever depends on it has no U. */
  readonly unknown?: boolean;
  readonly distribution?: Distribution;
  /**
   * Where its one element is a known function of normal deviates (what displacements of a detector cost): that function,
   * asked for under Monte Carlo alone. The covariance is then its variance, and stands for it in the law of propagation.
   */
  readonly surface?: () => DeviateSurface;
}

/** A block with its place on the tape: element i is node `first + i`. */
export interface PlacedBlock extends Required<Omit<Block, "covariance" | "surface">> {
  readonly surface?: () => DeviateSurface;
  readonly covariance: Float64Array;
  readonly first: number;
}

/** A column of data: differentiable, without uncertainty of its own. */
export interface Column {
  readonly series: string;
  readonly name: string;
  readonly symbol: string;
  readonly unit: Unit;
  /** The readings' ids, row by row. */
  readonly readings: readonly string[];
  readonly values: ArrayLike<number>;
  /** True where the rows are points of a quadrature, and nobody read them. */
  readonly points?: boolean;
  /**
   * The series that the values were worked out from, where they were not read but follow from other readings (how much
   * each background counts): their changes are then the doing of that series' readings.
   */
  readonly derivedFrom?: string;
}

/** How far a correlation may be beyond one: covariances are handed on as decimals, which somebody has rounded. */
const ROUNDING = 1e-6;

/** A kernel at work in a model: its outputs are the nodes from `first` on. */
export interface Call {
  readonly kernel: Kernel<unknown>;
  /** Of that kernel's own kind: the pair is made in `call`. */
  readonly spec: unknown;
  readonly inputs: readonly number[];
  readonly first: number;
  readonly count: number;
}

/** The values of all nodes for one set of inputs. */
export interface Evaluation {
  readonly model: Model;
  readonly values: ArrayLike<number>;
  /** What each kernel found, in the order of the model's calls. */
  readonly states: readonly KernelState[];
}

/**
 * The measurement model: leaves (estimates, readings, constants), operations and kernels on one tape. It is evaluated
 * as it is written, so a value can be looked at while the physics is still being put down.
 */
export class Model implements Evaluation {
  readonly tape = new Tape();
  readonly blocks: PlacedBlock[] = [];
  readonly columns: Column[] = [];
  readonly calls: Call[] = [];
  readonly states: KernelState[] = [];
  /** Keyed constants: node, and the series that it was estimated from where it is not exact but held fixed. */
  readonly constants = new Map<number, string | undefined>();
  /** Constants that stand for what curvature does to a mean: Monte Carlo sees to that itself, and leaves them out. */
  readonly meanShifts = new Set<number>();
  readonly #groups = new Map<string, number>();
  readonly #columnValues: ArrayLike<number>[] = [];

  /** The model is its own evaluation: at the estimates. */
  get model(): this {
    return this;
  }

  get values(): readonly number[] {
    return this.tape.values;
  }

  /**
   * Adds a block of estimates.
   * @returns its elements as nodes.
   * @throws RangeError where there are no elements, where the covariance does not fit, is asymmetric, has a negative or
   *   infinite variance, a correlation beyond one or is not positive semidefinite, where the degrees of freedom are not positive, or where the group
   *   is known with others.
   */
  estimates(block: Block): Scalar[] {
    const { key, elements } = block;
    const n = elements.length;
    const covariance = new Float64Array(block.covariance);
    if (n === 0) throw new RangeError(`${key}: a block needs at least one element`);
    if (covariance.length !== n * n) throw new RangeError(`${key}: ${n} elements need a covariance of ${n} × ${n}`);
    for (let i = 0; i < n; i++) {
      const variance = covariance[i * n + i]!;
      if (!(variance >= 0 && variance < Number.POSITIVE_INFINITY))
        throw new RangeError(`${key}: the variance of element ${i + 1} is ${variance}: it is finite and zero or above`);
      for (let j = 0; j < i; j++) {
        const both = covariance[i * n + j]!;
        if (both !== covariance[j * n + i]) throw new RangeError(`${key}: asymmetric covariance`);
        if (Math.abs(both) > (1 + ROUNDING) * Math.sqrt(variance) * Math.sqrt(covariance[j * n + j]!))
          throw new RangeError(`${key}: elements ${j + 1} and ${i + 1} have a correlation beyond one`);
      }
    }
    if (n > 2 && !isPositiveSemidefinite(covariance, n))
      throw new RangeError(
        `${key}: no data have this covariance: some combination of the elements has a negative variance`,
      );
    const dof = block.dof ?? Number.POSITIVE_INFINITY;
    if (!(dof > 0) && !(dof === 0 && block.unknown))
      throw new RangeError(`${key}: ${dof} degrees of freedom: they are above zero, or the variance is unknown`);
    const group = block.group ?? key;
    const known = this.#groups.get(group);
    if (known !== undefined && known !== dof)
      throw new RangeError(`${key}: the group "${group}" has ${known} degrees of freedom, not ${dof}`);
    if (block.surface && n !== 1) throw new RangeError(`${key}: a block with a surface has one element, not ${n}`);
    this.#groups.set(group, dof);
    const first = this.tape.length;
    this.blocks.push({
      key,
      type: block.type,
      elements,
      covariance,
      dof,
      group,
      unknown: block.unknown ?? false,
      distribution: block.distribution ?? "normal",
      ...(block.surface && { surface: block.surface }),
      first,
    });
    return elements.map(({ name, symbol, label, unit, value }) =>
      this.tape.input(value, unit).named(name === undefined ? key : `${key}/${name}`, symbol, label),
    );
  }

  /** Adds one estimate that is independent of all others, with standard uncertainty u. */
  estimate(one: Omit<Block, "elements" | "covariance"> & Omit<Element, "name"> & { readonly u: number }): Scalar {
    const { symbol, label, unit, value, u, ...block } = one;
    return this.estimates({ ...block, elements: [{ symbol, label, unit, value }], covariance: [u * u] })[0]!;
  }

  /**
   * Adds a number that is exact, or taken to be.
   * @param derivedFrom the series that it was estimated from, where it is held fixed for the derivatives' sake (the
   *   weights of a fit): its changes are then the doing of that series' readings.
   */
  constant(constant: Omit<Element, "name"> & { readonly key: string; readonly derivedFrom?: string }): Scalar {
    const { key, symbol, label, value, unit } = constant;
    const node = this.tape.input(value, unit).named(key, symbol, label);
    this.constants.set(node.index, constant.derivedFrom);
    return node;
  }

  /**
   * Adds what curvature does to the mean of a result, E[f(X)] − f(x̂): a number worked out at the estimates and held fixed.
   * Under Monte Carlo, where the mean comes out by itself, it is zero.
   */
  meanShift(constant: Omit<Element, "name"> & { readonly key: string; readonly derivedFrom?: string }): Scalar {
    const node = this.constant(constant);
    this.meanShifts.add(node.index);
    return node;
  }

  /**
   * Adds a column of readings.
   * @returns its number.
   */
  column(column: Column): number {
    if (column.readings.length !== column.values.length)
      throw new RangeError(`${column.series}/${column.name}: as many values as readings are needed`);
    this.#columnValues.push(column.values);
    return this.columns.push(column) - 1;
  }

  /**
   * Sets a kernel to work.
   * @param units one unit per output.
   * @returns its outputs as nodes, and what it found.
   * @throws Error where an input belongs to another model, RangeError where there are more or fewer units than outputs.
   */
  call<Spec, State extends KernelState>(
    kernel: Kernel<Spec, State>,
    spec: Spec,
    inputs: readonly Scalar[],
    units: readonly Unit[],
  ): { outputs: Scalar[]; state: State } {
    const nodes = inputs.map((input) => this.indexOf(input));
    const state = kernel.evaluate(spec, this.#valuesOf(nodes), this.columnValues);
    if (state.outputs.length !== units.length)
      throw new RangeError(`${kernel.kind}: ${state.outputs.length} outputs, but ${units.length} units`);
    const first = this.tape.length;
    this.calls.push({ kernel, spec, inputs: nodes, first, count: units.length });
    this.states.push(state);
    const outputs = units.map((unit, k) =>
      this.tape.push(Operation.output, -1, -1, this.calls.length - 1, unit, state.outputs[k]),
    );
    return { outputs, state };
  }

  /** Values of nodes; in a plain loop, since a campaign calls some fifty kernels. */
  #valuesOf(nodes: readonly number[]): Float64Array {
    const values = new Float64Array(nodes.length);
    for (let i = 0; i < nodes.length; i++) values[i] = this.tape.values[nodes[i]!]!;
    return values;
  }

  /**
   * The number of a node.
   * @throws Error where it belongs to another model: its number would mean something else here.
   */
  indexOf(node: Scalar): number {
    if (node.tape !== this.tape) throw new Error("the node belongs to another model");
    return node.index;
  }

  /** The columns' numbers, by column. */
  get columnValues(): readonly ArrayLike<number>[] {
    return this.#columnValues;
  }
}
