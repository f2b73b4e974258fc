import { ColumnGraph, type Varying } from "./column-graph.ts";
import { type Schedule, schedule } from "./column-schedule.ts";
import { condensed, type Wanted } from "./condensed-columns.ts";
import { EstimateDraws } from "./estimate-draws.ts";
import { evaluateAt } from "./evaluation.ts";
import { gradient } from "./gradient.ts";
import { addKernel } from "./kernel-columns.ts";
import type { Call, Evaluation, Model } from "./model.ts";
import { neededNodes } from "./needed-nodes.ts";
import { Operation } from "./operations.ts";
import { propagate } from "./propagation.ts";
import { IndeterminateFitError } from "./structural-fit.ts";
import type { Scalar } from "./tape.ts";

/** A model made ready to be evaluated over blocks of trials. */
export interface ModelColumns {
  /** How many columns a block works on. */
  readonly width: number;
  /**
   * Draws a block of trials and evaluates it.
   * @param block its number: with the seed it decides the draws.
   * @returns for each node its values, trial by trial, or the one value that all trials have. The arrays are those that
   *   the next block will be written into.
   */
  run(seed: number, block: number): readonly (Float64Array | number)[];
}

/**
 * Makes a model ready: of all its nodes those that the asked ones depend on, and of these only what varies at all;
 * everything else keeps its value at the estimates.
 *
 * @param trials how many trials make a block.
 * @throws Error where a node belongs to another model.
 */
export function modelColumns(model: Model, nodes: readonly Scalar[], trials: number): ModelColumns {
  const indices = nodes.map((node) => model.indexOf(node));
  const needed = neededNodes(model, indices);
  const { operations, a, b, c } = model.tape;
  const { values, columnValues } = model;
  const graph = new ColumnGraph();
  const draws = new EstimateDraws(graph, model, trials);
  const blockAt = new Map(model.blocks.map((block) => [block.first, block]));
  // what curvature does to a mean comes out of the trials by itself
  const varying: Varying[] = Array.from(values, (value, node) => (model.meanShifts.has(node) ? 0 : value));
  const done = new Set<Call>();
  for (let node = 0; node < operations.length; node++) {
    const block = blockAt.get(node);
    if (block) {
      const wanted = block.elements.map((_, i) => needed[node + i] === 1);
      draws.add(block, wanted).forEach((element, i) => {
        varying[node + i] = element;
      });
    }
    const operation = operations[node]!;
    if (!needed[node] || operation <= Operation.literal) continue;
    if (operation !== Operation.output) {
      const [left, right] = [varying[a[node]!]!, b[node]! < 0 ? 0 : varying[b[node]!]!];
      if (typeof left !== "number" || typeof right !== "number")
        varying[node] = graph.apply(operation, left, right, c[node]!);
      continue;
    }
    const call = model.calls[c[node]!]!;
    if (done.has(call)) continue; // with an earlier one of its outputs
    done.add(call);
    const inputs = call.inputs.map((input) => varying[input]!);
    const at = Float64Array.from(call.inputs, (input) => values[input]!);
    addKernel(graph, call, inputs, at, model.states[c[node]!]!, columnValues).forEach((output, k) => {
      varying[call.first + k] = output;
    });
  }
  const results = indices.map((index) => varying[index]!);
  const toleranceOf = toleranceFinder(model, varying);
  const wanted = results.flatMap((column, k): Wanted[] =>
    typeof column === "number" ? [] : [{ column, tolerance: toleranceOf(nodes[k]!) }],
  );
  const work: Schedule = schedule(condensed(wanted), trials);
  let next = 0;
  const places = results.map((result) => (typeof result === "number" ? result : work.results[next++]!));
  return {
    width: work.width,
    run(seed, block) {
      for (const stream of draws.streams) stream.start(seed, block);
      work.run(trials);
      return places;
    },
  };
}

/** What a result may lose by any one interpolant, of its own standard uncertainty. */
const LOSS = 5e-4;

/** Where derivatives are looked at beside the estimates, in standard uncertainties: at an extremum alone they mislead. */
const PROBES: readonly number[] = [0.7, -1.1];

/** Says how far the columns behind a result may be off: LOSS·u over the largest derivative with respect to each. */
function toleranceFinder(model: Model, varying: readonly Varying[]): (node: Scalar) => Wanted["tolerance"] {
  const probes = PROBES.flatMap((step) => {
    const evaluation = probe(model, step);
    return evaluation ? [evaluation] : [];
  });
  return (node) => {
    const { u } = propagate(model, node);
    const derivatives = [model, ...probes].map((evaluation) => {
      const own = new Map<Varying, number>();
      gradient(evaluation, node.index).forEach((adjoint, index) => {
        const column = varying[index]!;
        if (typeof column !== "number") own.set(column, (own.get(column) ?? 0) + adjoint);
      });
      return own;
    });
    return (column) => {
      const largest = Math.max(...derivatives.map((own) => Math.abs(own.get(column) ?? 0)));
      return largest > 0 && largest < Number.POSITIVE_INFINITY ? (LOSS * u) / largest : undefined;
    };
  };
}

/** The model with every estimate moved; undefined where it has no value there. */
function probe(model: Model, step: number): Evaluation | undefined {
  const changes = new Map<number, number>();
  model.blocks.forEach(({ first, elements, covariance }, b) => {
    elements.forEach(({ value }, i) => {
      const u = Math.sqrt(covariance[i * elements.length + i]!);
      changes.set(first + i, value + ((b + i) % 2 === 0 ? step : -step) * u);
    });
  });
  try {
    return evaluateAt(model, changes);
  } catch (error) {
    if (error instanceof RangeError || error instanceof IndeterminateFitError) return undefined;
    throw error;
  }
}
