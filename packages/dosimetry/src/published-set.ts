import { ONE, type Scalar, sum } from "@alcedo-dosimetry/metrology";
import type { Chain } from "./chain.ts";
import { MILLIMETRE } from "./length-unit.ts";

/** An output factor from elsewhere: a plan's table, another detector, published data. */
export interface SetValue {
  /** The condition that it belongs to, where the set names conditions. */
  readonly condition?: string;
  readonly equivalent_square_mm?: number;
  readonly output_factor: number;
  /** Standard uncertainty in percent. */
  readonly u_percent: number;
  readonly source: string;
}

/** What is compared: an output factor and the equivalent square at which it was measured. */
export interface MeasuredOutput {
  readonly condition: string;
  readonly outputFactor: Scalar;
  readonly equivalentSquare: Scalar;
}

/** A measured output factor against one source. */
export interface SetComparison {
  readonly source: string;
  readonly condition: string;
  /** Ω over the set's value at the measured equivalent square, less one; named `comparison.<source>.<condition>`. */
  readonly difference: Scalar;
  /** How the set's value was found. */
  readonly from: "condition" | "equivalent square";
}

/** Comparisons, and what could not be compared. */
export interface SetComparisons {
  readonly compared: readonly SetComparison[];
  /** Measured conditions outside a source's range of equivalent squares, by source. */
  readonly outside: readonly { readonly source: string; readonly condition: string }[];
}

/** Points that an interpolation leans on: a cubic in ln S where there are four, fewer where there are not. */
const NEIGHBOURS = 4;

/**
 * Compares measured output factors with the sets of others, source by source, at the measured equivalent square. A value
 * that names its condition is taken as it is, and the measured one leans on its equivalent square with the slope of the
 * measured curve; values by equivalent square are interpolated in ln S. Either way dΩ/dS·u(S) is in the budget. Nothing
 * is extrapolated.
 */
export function compareWithSets(
  chain: Chain,
  values: readonly SetValue[],
  measured: readonly MeasuredOutput[],
): SetComparisons {
  const compared: SetComparison[] = [];
  const outside: { source: string; condition: string }[] = [];
  for (const source of new Set(values.map((value) => value.source))) {
    const own = values.filter((value) => value.source === source);
    const nodes = own.map((value, i) => setValue(chain, source, value, i));
    for (const field of measured) {
      const named = own.findIndex(({ condition }) => condition === field.condition);
      const reference =
        named >= 0 ? displaced(nodes[named]!, field, measured) : interpolated(own, nodes, field.equivalentSquare);
      if (reference === undefined) {
        if (own.some(({ equivalent_square_mm }) => equivalent_square_mm !== undefined))
          outside.push({ source, condition: field.condition });
        continue;
      }
      const difference = field.outputFactor
        .over(reference)
        .minus(1)
        .named(
          `comparison.${source}.${field.condition}`,
          `Δ_${field.condition}`,
          `output factor of ${field.condition} over that of ${source}, less one`,
        );
      compared.push({
        source,
        condition: field.condition,
        difference,
        from: named >= 0 ? "condition" : "equivalent square",
      });
    }
  }
  return { compared, outside };
}

function setValue({ model }: Chain, source: string, value: SetValue, index: number): Scalar {
  const place = value.condition ?? `${value.equivalent_square_mm} mm`;
  return model.estimate({
    key: `reference-set/${source}/${value.condition ?? index + 1}`,
    symbol: `Ω_${source},${place}`,
    label: `output factor of ${source}, ${place}`,
    type: "B",
    unit: ONE,
    value: value.output_factor,
    u: (value.u_percent / 100) * value.output_factor,
  });
}

/** The set's value moved along the measured curve by as much as the measured equivalent square may be off: by nothing, ± u. */
function displaced(value: Scalar, field: MeasuredOutput, measured: readonly MeasuredOutput[]): Scalar {
  const slope = slopeAt(field, measured);
  if (slope === 0) return value;
  const { tape, value: at } = field.equivalentSquare;
  const off = field.equivalentSquare.minus(tape.literal(at, MILLIMETRE));
  return value.plus(off.times(tape.literal(slope, ONE.over(MILLIMETRE))));
}

/** dΩ/dS of the measured curve in 1/mm, from the neighbours in size; zero where there are none. */
function slopeAt(field: MeasuredOutput, measured: readonly MeasuredOutput[]): number {
  const S = field.equivalentSquare.value;
  const smaller = measured.filter((other) => other.equivalentSquare.value < S);
  const larger = measured.filter((other) => other.equivalentSquare.value > S);
  const nearest = (side: readonly MeasuredOutput[]) =>
    side.reduce<MeasuredOutput>(
      (best, other) =>
        Math.abs(other.equivalentSquare.value - S) < Math.abs(best.equivalentSquare.value - S) ? other : best,
      side[0] ?? field,
    );
  const [low, high] = [nearest(smaller), nearest(larger)];
  const width = high.equivalentSquare.value - low.equivalentSquare.value;
  return width === 0 ? 0 : (high.outputFactor.value - low.outputFactor.value) / width;
}

/** Lagrange's polynomial in ln S through the points nearest to the measured size; undefined outside the set's range. */
function interpolated(values: readonly SetValue[], nodes: readonly Scalar[], square: Scalar): Scalar | undefined {
  const S = square.value;
  const points = values
    .flatMap(({ equivalent_square_mm: size }, i) => (size === undefined ? [] : [{ size, node: nodes[i]! }]))
    .sort((a, b) => a.size - b.size);
  if (points.length < 2 || S < points[0]!.size || S > points.at(-1)!.size) return undefined;
  const above = points.findIndex(({ size }) => size >= S);
  const first = Math.max(0, Math.min(above - NEIGHBOURS / 2, points.length - NEIGHBOURS));
  const near = points.slice(first, first + NEIGHBOURS);
  const unit = square.tape.literal(1, MILLIMETRE);
  const x = square.over(unit).logarithm();
  const at = near.map(({ size }) => square.tape.literal(size).logarithm());
  return sum(
    near.map(({ node }, i) =>
      at.reduce((product, xj, j) => (j === i ? product : product.times(x.minus(xj).over(at[i]!.minus(xj)))), node),
    ),
  );
}
