import {
  largestContribution,
  mainResult,
  type Quantity,
  quantitiesById,
  STAGES,
  type StageId,
} from "@alcedo-dosimetry/campaign";
import type { Provisional } from "./as-far-as-complete.ts";
import { conditionRows } from "./condition-rows.ts";
import type { Outcome, ShownQuantity } from "./orders.ts";

/** What the page shows of an evaluation without being asked. */
export function outcomeOf(
  { campaign, evaluation, findings, complete }: Provisional,
  number: number,
  took_ms: number,
): Outcome {
  const { result } = evaluation;
  const quantities = quantitiesById(result);
  const channels = evaluation.evaluated?.channels ?? campaign.descriptor.alcedo.detector.channels;
  return {
    number,
    input: result.input,
    standing: result.standing,
    evaluated: evaluation.model !== undefined,
    stages: result.stages,
    mains: Object.fromEntries(STAGES.map((id) => [id, mainResult(id, quantities, channels)])) as Record<
      StageId,
      string
    >,
    quantities: result.quantities.map(shownQuantity),
    complete,
    findings,
    rows: conditionRows(evaluation),
    took_ms,
  };
}

/** A quantity without its budget, but with what contributes most to it. */
export function shownQuantity(quantity: Quantity): ShownQuantity {
  const { budget: _, ...own } = quantity;
  const most = largestContribution(quantity);
  return most ? { ...own, most } : own;
}
