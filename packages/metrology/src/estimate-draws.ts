import { ChebyshevEvaluator } from "./chebyshev.ts";
import { type Column, type ColumnGraph, NORMAL_REACH, type Range, type Varying, type Work } from "./column-graph.ts";
import { spread } from "./column-loops.ts";
import { combineColumns } from "./column-operations.ts";
import { type DeviateSurface, SURFACE_REACH } from "./deviate-surface.ts";
import type { Distribution, Model, PlacedBlock } from "./model.ts";
import { RandomStream } from "./random-stream.ts";
import { choleskyFactor } from "./second-order.ts";
import { standardDraws } from "./standard-draws.ts";
import { standardNormal, studentT } from "./symmetric-draws.ts";
import { TScale } from "./t-scale-draws.ts";

/** Standard deviations within which all draws lie (√3, √6, √2), or, of normal ones, nearly all. */
const REACH: Record<Distribution, number> = {
  normal: NORMAL_REACH,
  rectangular: 1.74,
  triangular: 2.45,
  "u-shaped": 1.42,
};

/**
 * Draws of a model's estimates, as tasks of a graph.
 *
 * A block's elements are x = x̂ + s·L·z: z independent draws of mean 0 and standard deviation 1 of the block's
 * distribution, L the Cholesky factor of its covariance, s one or, with finite degrees of freedom ν, √(ν/χ²_ν), one for
 * each trial and group: all blocks that share a variance estimate share its error (a multivariate t). Every z has a
 * stream of random numbers of its own, named after its element. A block with a surface is that function of normal draws.
 */
export class EstimateDraws {
  /** Every stream in use: each block of trials starts them afresh. */
  readonly streams: RandomStream[] = [];
  readonly #graph: ColumnGraph;
  readonly #words: Int32Array;
  readonly #scales = new Map<string, Column>();
  /** How many blocks of estimates share a group. */
  readonly #shared = new Map<string, number>();

  /** @param trials the most that are ever drawn at once. */
  constructor(graph: ColumnGraph, model: Model, trials: number) {
    this.#graph = graph;
    this.#words = new Int32Array(2 * trials);
    for (const { group } of model.blocks) this.#shared.set(group, (this.#shared.get(group) ?? 0) + 1);
  }

  /**
   * The elements of a block; one without variance, and a block whose variance is unknown, stays at its estimate.
   * @param wanted which elements somebody reads.
   * @throws RangeError, when the work is bound, where the covariance is not positive semidefinite.
   */
  add(block: PlacedBlock, wanted: readonly boolean[]): Varying[] {
    const { elements, covariance, dof, group } = block;
    const n = elements.length;
    const drawn = elements.map((_, i) => wanted[i]! && !block.unknown && covariance[i * n + i]! > 0);
    if (!drawn.some(Boolean)) return elements.map(({ value }) => value);
    if (block.surface) return [this.#surface(block, block.surface())];
    const finite = dof !== Number.POSITIVE_INFINITY;
    // one normal element that shares its variance with nobody: t as it stands
    const alone = finite && dof >= 1 && n === 1 && block.distribution === "normal" && this.#shared.get(group) === 1;
    const scale = finite && !alone ? this.#scaleOf(group, dof) : undefined;
    const columns = this.#graph.add({
      inputs: scale ? [scale] : [],
      outputs: n,
      scratch: n,
      cost: 5 * n,
      ranges: elements.map(({ value }, i) =>
        rangeOf(value, Math.sqrt(covariance[i * n + i]!), n === 1 && !finite, block),
      ),
      bind: (inputs, outputs, scratch) => this.#work(block, alone, inputs[0], outputs, scratch),
    });
    return elements.map(({ value }, i) => (drawn[i] ? columns[i]! : value));
  }

  #work(
    { key, elements, covariance, distribution, dof }: PlacedBlock,
    alone: boolean,
    scale: Float64Array | undefined,
    outputs: readonly (Float64Array | undefined)[],
    scratch: readonly Float64Array[],
  ): Work {
    const n = elements.length;
    const words = this.#words;
    const factor = factorOf(key, covariance, n);
    const drawn = outputs.map((output) => output !== undefined);
    const columns = outputs.map((output, i) => output ?? scratch[i]!);
    const last = drawn.lastIndexOf(true);
    const draws = alone ? studentT(dof) : standardDraws(distribution);
    // an independent element is scaled as it is drawn
    const independent = !scale && isDiagonal(factor, n);
    const sources = elements.slice(0, last + 1).flatMap(({ name, value }, j) => {
      const used = drawn.some((own, i) => own && factor[i * n + j] !== 0);
      if (!used) return [];
      const stream = new RandomStream(name === undefined ? key : `${key}/${name}`);
      this.streams.push(stream);
      const [size, offset] = independent ? [factor[j * n + j]!, value] : [1, 0];
      return [{ column: columns[j]!, stream, size, offset }];
    });
    // from the last element up, so that each takes the place of its own z, which no earlier one needs
    const correlations = elements
      .map((_, i) => i)
      .filter((i) => drawn[i] && !independent)
      .reverse()
      .map((i) => correlate(columns, factor.subarray(i * n, i * n + i + 1), elements[i]!.value, scale));
    return (count) => {
      for (const { column, stream, size, offset } of sources) draws.fill(column, count, stream, words, size, offset);
      for (const work of correlations) work(count);
    };
  }

  #surface({ key, covariance }: PlacedBlock, surface: DeviateSurface): Column {
    const u = Math.sqrt(covariance[0]!);
    const [made] = this.#graph.add({
      inputs: [],
      outputs: 1,
      scratch: 1,
      cost: 100,
      // squares of normal deviates reach further than these themselves
      ranges: [{ centre: 0, reach: 3 * NORMAL_REACH * u, flat: false }],
      bind: (_, [out], [second]): Work => {
        const streams = surface.degrees.map((_degree, variable) => new RandomStream(`${key}/${variable + 1}`));
        this.streams.push(...streams);
        const sum = new ChebyshevEvaluator(surface);
        const columns = [out!, second!];
        return (count) => {
          streams.forEach((stream, variable) => {
            standardNormal().fill(columns[variable]!, count, stream, this.#words, 1 / SURFACE_REACH, 0);
          });
          for (let i = 0; i < count; i++) {
            for (let variable = 0; variable < streams.length; variable++)
              sum.place(variable, Math.max(-1, Math.min(1, columns[variable]![i]!)));
            out![i] = sum.value();
          }
        };
      },
    });
    return made!;
  }

  #scaleOf(group: string, dof: number): Column {
    const known = this.#scales.get(group);
    if (known) return known;
    const source = new TScale(dof);
    const [made] = this.#graph.add({
      inputs: [],
      outputs: 1,
      scratch: 0,
      cost: 15,
      bind: (_, [out]): Work => {
        const stream = new RandomStream(`group ${group}`);
        this.streams.push(stream);
        return (count) => source.fill(out!, count, stream, this.#words);
      },
    });
    this.#scales.set(group, made!);
    return made!;
  }
}

/** @param pure whether an element is drawn from the block's distribution as it stands, and not from a sum or a t. */
function rangeOf(centre: number, u: number, pure: boolean, { distribution }: PlacedBlock): Range {
  const flat = pure && distribution !== "normal";
  return { centre, reach: u * REACH[flat ? distribution : "normal"], flat };
}

/** How far a covariance may be from L·Lᵀ, as a correlation: what is handed on as decimals is rounded. */
const ROUNDING = 1e-5;

/** @throws RangeError where the covariance is that of nothing: some combination would have a negative variance. */
function factorOf(key: string, covariance: Float64Array, n: number): Float64Array {
  const factor = choleskyFactor(covariance, n);
  for (let i = 0; i < n; i++)
    for (let j = 0; j <= i; j++) {
      let product = 0;
      for (let k = 0; k <= j; k++) product += factor[i * n + k]! * factor[j * n + k]!;
      const size = Math.sqrt(covariance[i * n + i]! * covariance[j * n + j]!);
      if (Math.abs(product - covariance[i * n + j]!) > ROUNDING * size)
        throw new RangeError(
          `${key}: no quantities have this covariance: a combination of elements up to ${i + 1} would have a negative variance`,
        );
    }
  return factor;
}

/** The last of the columns that the row of the factor reaches becomes value + s·Σ L_j·z_j. */
function correlate(
  columns: readonly Float64Array[],
  row: Float64Array,
  value: number,
  scale: Float64Array | undefined,
): Work {
  const own = row.length - 1;
  const out = columns[own]!;
  // its own z first, since the sum is written over it; a direction without variance of its own has none
  const used = [own, ...row.subarray(0, own).keys()].filter((j) => row[j] !== 0);
  const coefficients = used.map((j) => row[j]!);
  const terms = used.map((j) => columns[j]!);
  return (count) => {
    combineColumns(out, scale ? 0 : value, coefficients, terms, count);
    if (scale) spread(out, scale, value, count);
  };
}

function isDiagonal(factor: Float64Array, n: number): boolean {
  return factor.every((entry, k) => entry === 0 || Math.floor(k / n) === k % n);
}
