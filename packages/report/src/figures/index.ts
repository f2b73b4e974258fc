import type { Campaign, Evaluation } from "@alcedo-dosimetry/campaign";
import type { Figure } from "@alcedo-dosimetry/figures";
import { budgetFigures } from "./budget-figures.ts";
import type { Drawable } from "./drawable.ts";
import { outputFactorGeometry, separationGeometry } from "./geometry-figures.ts";
import { outputFactorFigure } from "./output-factor-figure.ts";
import { readingsFigures } from "./readings-figures.ts";
import { referenceDriftFigure } from "./reference-drift-figure.ts";
import { separationFigure } from "./separation-figure.ts";
import { stemLoadFigure } from "./stem-load-figure.ts";

type Drawn = Figure | readonly Figure[] | undefined;

export { conditionFigure } from "./geometry-figures.ts";

/** What may be drawn, in the order of the chain, by what the ids begin with; what belongs to many results comes after it. */
const DRAWN: readonly (readonly [ids: RegExp, draw: (drawable: Drawable) => Drawn])[] = [
  [/^geometry\.separation$/, separationGeometry],
  [/^separation$/, separationFigure],
  [/^stem-load$/, stemLoadFigure],
  [/^geometry\.output-factors$/, outputFactorGeometry],
  [/^output-factors$/, outputFactorFigure],
  [/^reference-drift$/, referenceDriftFigure],
  [/^budget\./, budgetFigures],
  [/^readings\./, readingsFigures],
];

/** The figures of an evaluation, in the order of the chain: those that can be drawn. */
export function figuresOf(campaign: Campaign, evaluation: Evaluation): readonly Figure[] {
  return drawn(campaign, evaluation, () => true);
}

/** One figure by its id; undefined where the evaluation has none of that name. No other kind of figure is drawn for it. */
export function figureOf(campaign: Campaign, evaluation: Evaluation, id: string): Figure | undefined {
  return drawn(campaign, evaluation, (ids) => ids.test(id)).find((figure) => figure.id === id);
}

function drawn(campaign: Campaign, evaluation: Evaluation, wanted: (ids: RegExp) => boolean): readonly Figure[] {
  const { evaluated } = evaluation;
  if (!evaluated) return [];
  return DRAWN.flatMap(([ids, draw]) => (wanted(ids) ? (draw({ campaign, evaluation, evaluated }) ?? []) : []));
}
