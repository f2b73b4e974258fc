import type { Assumptions, Interpretation } from "@alcedo-dosimetry/campaign";
import { type InputBlock, type Shift, single } from "./elementary-input.ts";
import { widthKeys } from "./equivalent-square.ts";
import { Corrections } from "./field-corrections.ts";
import { evaluatePlainly } from "./plain-evaluation.ts";
import { type Prepared, prepare } from "./prepared.ts";
import { sensitivities, uncertainty } from "./propagation-by-differences.ts";
import { largestMove, wanderInputs, wanderSteps } from "./reference-wander.ts";
import type { ActiveVolume } from "./volume-averaging.ts";

/** One number of the recheck. */
export interface RecheckedQuantity {
  /** As in a result, such as `separation.stem-ratio`. */
  readonly id: string;
  readonly value: number;
  /** Standard uncertainty; null where the quantity has none (a χ²). */
  readonly u: number | null;
}

/** Everything that the second route arrives at, in the order of the chain. */
export type Recheck = readonly RecheckedQuantity[];

/** What a recheck may take along beside readings and assumptions. */
export interface RecheckOptions {
  /** Given where volume averaging and positioning are to be computed; else only a stated `k_volume` counts. */
  readonly activeVolume?: ActiveVolume;
}

/**
 * Goes from the typed readings to the results by plain arithmetic, and to their uncertainties by moving every elementary
 * input in turn. Shares no code with the evaluation that it is to check.
 *
 * @throws Error where the readings do not determine the results; the findings of the evaluation say why.
 */
export function recheck(
  interpretation: Interpretation,
  assumptions: Assumptions,
  { activeVolume }: RecheckOptions = {},
): Recheck {
  const prepared = prepare(interpretation, assumptions);
  const corrections = new Corrections(assumptions, activeVolume);
  const evaluate = (shift: Shift) => evaluatePlainly(prepared, corrections, shift);
  const blocks = [...prepared.inputs, ...fieldInputs(prepared, corrections)];
  const sensitivity = sensitivities(evaluate, blocks, wanderSteps(prepared));
  const all = [...blocks, ...wanderInputs(prepared, sensitivity, blocks)];
  const drift = largestMove(prepared, sensitivity.values);
  return [...sensitivity.values].flatMap(([key, value]) => {
    const id = key === drift ? "output-factors.drift" : key;
    if (id.startsWith("(")) return [];
    return [{ id, value, u: id === "separation.chi2" ? null : uncertainty(key, sensitivity, all) }];
  });
}

/** The errors of each field's widths, and of its corrections. */
function fieldInputs({ fields, assumptions }: Prepared, corrections: Corrections): InputBlock[] {
  const described = [...new Map(fields.map(({ condition, field }) => [condition, field])).values()];
  const widths = described.flatMap(({ condition }) =>
    widthKeys(condition).map((key) => single(key, assumptions.fieldWidth_u_mm)),
  );
  return [...widths, ...corrections.inputs(described)];
}
