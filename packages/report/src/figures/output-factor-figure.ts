import { type Figure, type OutputSet, outputFactorCurve } from "@alcedo-dosimetry/figures";
import type { Drawable } from "./drawable.ts";
import { nodeInterval } from "./node-interval.ts";

/** Coverage factor for 95 % of a normal distribution: a set states its standard uncertainty without degrees of freedom. */
const NORMAL_95 = 1.959963984540054;

/** The output factors against the equivalent square, with the reference sets where the campaign has some. */
export function outputFactorFigure(drawable: Drawable): Figure | undefined {
  const { evaluated } = drawable;
  const { outputFactors, series, stopped } = evaluated;
  if (!outputFactors || outputFactors.fields.length === 0 || stopped.has("output-factors")) return undefined;
  return outputFactorCurve({
    id: "output-factors",
    title: "Field output factors",
    points: outputFactors.fields.map(({ name, net, size, outputFactor }) => ({
      name,
      shape: series["output-factors"]!.readings[net.rows[0]!]!.shape,
      equivalentSquare_mm: nodeInterval(evaluated, size.equivalentSquare),
      outputFactor: nodeInterval(evaluated, outputFactor),
    })),
    sets: setsOf(drawable),
  });
}

function setsOf({ evaluated, evaluation }: Drawable): OutputSet[] {
  const { comparisons, typed, outputFactors } = evaluated;
  const values = typed["reference-set"]?.values ?? [];
  const squareOf = (condition: string | undefined) =>
    outputFactors!.fields.find(({ name }) => name === condition)?.size.equivalentSquare.value;
  const en = new Map(evaluation.result.quantities.map((quantity) => [quantity.id, quantity.en]));
  return [...new Set(values.map(({ source }) => source))].map((source) => ({
    source,
    values: values
      .filter((value) => value.source === source)
      .flatMap(({ condition, equivalent_square_mm, output_factor, u_percent }) => {
        const at = equivalent_square_mm ?? squareOf(condition);
        if (at === undefined) return [];
        return [
          {
            name: condition ?? `${at} mm`,
            equivalentSquare_mm: at,
            value: { value: output_factor, U: (NORMAL_95 * output_factor * u_percent) / 100 },
          },
        ];
      }),
    differences: (comparisons?.compared ?? [])
      .filter((compared) => compared.source === source)
      .map(({ condition, difference }) => ({
        name: condition,
        equivalentSquare_mm: squareOf(condition)!,
        difference: nodeInterval(evaluated, difference),
        agrees: Math.abs(en.get(`comparison.${source}.${condition}`) ?? 0) <= 1,
      })),
  }));
}
