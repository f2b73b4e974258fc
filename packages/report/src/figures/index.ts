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

/** What may be drawn, in the order of the chain; what belongs to many results comes after it. */
const DRAWN: readonly ((drawable: Drawable) => Figure | readonly Figure[] | undefined)[] = [
  separationGeometry,
  separationFigure,
  stemLoadFigure,
  outputFactorGeometry,
  outputFactorFigure,
  referenceDriftFigure,
  budgetFigures,
  readingsFigures,
];

/** The figures of an evaluation, in the order of the chain: those that can be drawn. */
export function figuresOf(campaign: Campaign, evaluation: Evaluation): readonly Figure[] {
  const { evaluated } = evaluation;
  if (!evaluated) return [];
  return DRAWN.flatMap((draw) => draw({ campaign, evaluation, evaluated }) ?? []);
}

/** One figure by its id; undefined where the evaluation has none of that name. */
export function figureOf(campaign: Campaign, evaluation: Evaluation, id: string): Figure | undefined {
  return figuresOf(campaign, evaluation).find((figure) => figure.id === id);
}
