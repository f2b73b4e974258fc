import {
  type Campaign,
  type Evaluation,
  type Interpretation,
  interpret,
  type Quantities,
  type Quantity,
  quantitiesById,
  type Stage,
  type StageId,
} from "@alcedo-dosimetry/campaign";
import type { Figure } from "@alcedo-dosimetry/figures";
import { figuresOf } from "../figures/index.ts";
import type { SignedBy } from "../signed-by.ts";

/** What every section is made from; looked up once. */
export interface Material {
  readonly campaign: Campaign;
  readonly evaluation: Evaluation;
  readonly interpretation: Interpretation;
  readonly quantities: Quantities;
  readonly figures: readonly Figure[];
  /** Signatures under this evaluation. */
  readonly signed: readonly SignedBy[];
  /** `YYYY-MM-DD`, as it was handed in. */
  readonly date?: string;
}

/** Gathers what sections need. */
export function materialOf(
  campaign: Campaign,
  evaluation: Evaluation,
  given: Pick<Material, "signed" | "date">,
): Material {
  return {
    campaign,
    evaluation,
    interpretation: interpret(campaign),
    quantities: quantitiesById(evaluation.result),
    figures: figuresOf(campaign, evaluation),
    ...given,
  };
}

/** A stage, where the campaign has it. */
export function stageOf({ evaluation }: Material, id: StageId): Stage | undefined {
  return evaluation.result.stages.find((stage) => stage.id === id);
}

/** The quantities whose ids begin so, in the order of the result. */
export function quantitiesUnder({ evaluation }: Material, prefix: string): readonly Quantity[] {
  return evaluation.result.quantities.filter(({ id }) => id.startsWith(prefix));
}
