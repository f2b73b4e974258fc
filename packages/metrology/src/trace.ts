import { type Formula, formulaOf, references } from "./formula.ts";
import { type MeanSpec, type MeanState, mappedMean } from "./mapped-mean.ts";
import type { Evaluation } from "./model.ts";
import { Operation, partialA, partialB } from "./operations.ts";
import { covarianceBetween, type Propagation, propagate } from "./propagation.ts";
import { Scalar } from "./tape.ts";

/** A reading behind a mean: what was read, and what the formula makes of it. */
export interface TracedReading {
  readonly series: string;
  readonly reading: string;
  readonly included: boolean;
  /** Columns that enter the formula, with their numbers. */
  readonly columns: readonly { readonly symbol: string; readonly unit: string; readonly value: number }[];
  /** The formula's value for this reading alone. */
  readonly value: number;
}

/** One step of a number's origin. */
export interface TraceStep {
  readonly node: number;
  /** Semantic key, where the node has a name. */
  readonly key?: string;
  readonly symbol: string;
  readonly label: string;
  readonly unit: string;
  readonly value: number;
  readonly u: number;
  /** The part of the traced result's variance that comes by this way; the steps beneath share it among them. */
  readonly share: number;
  /** Where the value comes from outside: what kind of input it is. */
  readonly input?: "estimate" | "constant";
  /** Where it is computed: the formula in terms of `inputs`. */
  readonly formula?: Formula;
  readonly inputs: readonly TraceStep[];
  /** Readings of the means that the formula holds, one mean after the other. */
  readonly readings?: readonly TracedReading[];
}

/**
 * The origin of a number: the tree from it down to estimates, constants and readings.
 *
 * A node that several others use stands under each of them with its full tree; a reader that prints may print it once.
 */
export function trace(evaluation: Evaluation, result: Scalar): TraceStep {
  const root = propagate(evaluation, result);
  const variance = root.u * root.u;
  const known = new Map<number, Omit<TraceStep, "share" | "inputs"> & { flow: number; below: [number, number][] }>();
  const look = (node: number) => {
    const seen = known.get(node);
    if (seen) return seen;
    const own = describe(evaluation, node, root);
    known.set(node, own);
    return own;
  };
  const step = (node: number, sensitivity: number): TraceStep => {
    const { flow, below, ...own } = look(node);
    return {
      ...own,
      share: variance > 0 ? (sensitivity * flow) / variance : 0,
      inputs: below.map(([input, partial]) => step(input, sensitivity * partial)),
    };
  };
  return step(result.index, 1);
}

/** One node with the nodes beneath it, its partial derivatives by them, and its covariance with the traced result. */
function describe(evaluation: Evaluation, node: number, root: Propagation) {
  const { model } = evaluation;
  const { tape } = model;
  const name = tape.names.get(node);
  const own = propagate(evaluation, new Scalar(tape, node));
  const isInput = tape.operations[node] === Operation.input;
  const formula = isInput ? undefined : formulaFor(evaluation, node);
  const { partials, outputs } = isInput ? NOTHING : beneath(evaluation, node);
  const order = new Set([...(formula ? references(formula) : []), ...partials.keys()]);
  const readings = outputs.flatMap((output) => readingsBehind(evaluation, output));
  return {
    node,
    ...(name && { key: name.key }),
    symbol: name?.symbol ?? "",
    label: name?.label ?? "",
    unit: tape.units[node]!.symbol,
    value: evaluation.values[node]!,
    u: own.u,
    ...(isInput && { input: model.constants.has(node) ? ("constant" as const) : ("estimate" as const) }),
    ...(formula && { formula }),
    ...(readings.length > 0 && { readings }),
    flow: covarianceBetween(root, own),
    below: [...order].map((input): [number, number] => [input, partials.get(input) ?? 0]),
  };
}

/** The formula of a node in terms of named nodes, kernels written as they describe themselves. */
export function formulaFor({ model }: Evaluation, node: number): Formula {
  const { tape } = model;
  const output = (index: number): Formula => {
    const { kernel, spec, inputs, first } = model.calls[tape.c[index]!]!;
    return kernel.formula(spec, index - first, inputs.map(operand), model.columnValues);
  };
  // a kernel's input that has no name is not a step of its own: what it is made of is written out
  const operand = (input: number): Formula =>
    tape.names.has(input) ? { kind: "reference", node: input } : formulaOf(tape, input, output);
  return formulaOf(tape, node, output);
}

/** What stands directly beneath a node. */
interface Beneath {
  /** Derivatives by the named nodes and inputs. */
  readonly partials: ReadonlyMap<number, number>;
  /** Outputs of kernels that are passed on the way: the node itself, and those without a name. */
  readonly outputs: readonly number[];
}

const NOTHING: Beneath = { partials: new Map(), outputs: [] };

/** Goes down from a node as far as the next names. What has no effect (a factor of zero) is there all the same. */
function beneath({ model, values, states }: Evaluation, node: number): Beneath {
  const { tape } = model;
  const adjoints = new Float64Array(node + 1);
  const reached = new Uint8Array(node + 1);
  const partials: [number, number][] = [];
  const outputs: number[] = [];
  adjoints[node] = 1;
  reached[node] = 1;
  for (let index = node; index >= 0; index--) {
    const operation = tape.operations[index]!;
    if (reached[index] === 0 || operation === Operation.literal) continue;
    const adjoint = adjoints[index]!;
    const passOn = (input: number, partial: number) => {
      reached[input] = 1;
      if (adjoint !== 0) adjoints[input]! += adjoint * partial;
    };
    if (operation === Operation.input || (index !== node && tape.names.has(index))) partials.push([index, adjoint]);
    else if (operation === Operation.output) {
      // outputs of one kernel are looked at one by one: none is an input of another
      const { inputs, first } = model.calls[tape.c[index]!]!;
      const { jacobian } = states[tape.c[index]!]!;
      inputs.forEach((input, i) => {
        const partial = jacobian[(index - first) * inputs.length + i]!;
        if (partial !== 0) passOn(input, partial); // what only the other outputs use has no place here
      });
      outputs.push(index);
    } else {
      const [a, b, v] = [tape.a[index]!, tape.b[index]!, values[index]!];
      const [x, y] = [values[a]!, b < 0 ? 0 : values[b]!];
      passOn(a, partialA(operation, x, y, tape.c[index]!, v));
      if (b >= 0) passOn(b, partialB(operation, x, y, v));
    }
  }
  return { partials: new Map(partials.reverse()), outputs: outputs.reverse() };
}

/** The readings of a mean; none for the output of another kernel. */
function readingsBehind({ model, states }: Evaluation, node: number): TracedReading[] {
  const number = model.tape.c[node]!;
  const call = model.calls[number]!;
  if (call.kernel !== mappedMean) return [];
  const { program, columns, rows, included } = call.spec as MeanSpec;
  const { perRow } = states[number] as MeanState;
  const weights = model.columns[included]!;
  if (weights.points) return []; // points of a quadrature, which nobody read
  return rows.map((row, i) => ({
    series: weights.series,
    reading: weights.readings[row]!,
    included: weights.values[row] !== 0,
    columns: columns.map((column, m) => ({
      symbol: program.columns[m]!.symbol,
      unit: model.columns[column]!.unit.symbol,
      value: model.columns[column]!.values[row]!,
    })),
    value: perRow[(node - call.first) * rows.length + i]!,
  }));
}
