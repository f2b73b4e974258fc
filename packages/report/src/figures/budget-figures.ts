import { budgetBars, type Figure } from "@alcedo-dosimetry/figures";
import type { Drawable } from "./drawable.ts";

/** The quantities whose budgets are drawn: what separation, calibration and output factors are for. */
const DRAWN = /^(?:separation\.(?:stem-ratio|weight\..+)|calibration\.coefficient|output-factor\..+)$/;

/** The budget of each result of the chain, in the order in which the results stand. */
export function budgetFigures({ evaluation }: Drawable): Figure[] {
  return evaluation.result.quantities.flatMap((quantity) => {
    const { id, label, unit, value, u, U, budget } = quantity;
    if (!DRAWN.test(id) || u === null || !(u > 0) || budget.length === 0) return [];
    return [
      budgetBars({
        id: `budget.${id}`,
        title: `Uncertainty of the ${label}`,
        result: { value, U },
        unit: unit === "1" ? "" : unit,
        u,
        parts: budget.map(({ label: name, type, share, contribution }) => ({ name, type, share, contribution })),
      }),
    ];
  });
}
