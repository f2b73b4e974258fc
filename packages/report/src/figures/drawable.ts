import type { Campaign, Evaluated, Evaluation } from "@alcedo-dosimetry/campaign";

/** An evaluation of which figures can be drawn: one with a model. */
export interface Drawable {
  readonly campaign: Campaign;
  readonly evaluation: Evaluation;
  readonly evaluated: Evaluated;
}
