import type { Shift } from "./elementary-input.ts";
import { atEstimates, type InputBlock } from "./elementary-input.ts";
import type { Numbers } from "./plain-evaluation.ts";

/** Part of an input's standard uncertainty by which it is moved: far below what bends a result, far above rounding. */
const STEP = 0.01;

/** Derivatives of every number to every input that has an uncertainty, by key. */
export interface Sensitivities {
  readonly values: ReadonlyMap<string, number>;
  /** ∂number/∂input. */
  of(id: string, key: string): number;
}

/**
 * Moves one input after the other up and down through the whole evaluation.
 *
 * @param steps inputs whose uncertainty is not known yet, with the step to try.
 */
export function sensitivities(
  evaluate: (shift: Shift) => Numbers,
  blocks: readonly InputBlock[],
  steps: ReadonlyMap<string, number>,
): Sensitivities {
  const tried = new Map(steps);
  for (const { keys, covariance } of blocks) {
    keys.forEach((key, i) => {
      const step = STEP * Math.sqrt(covariance[i]![i]!);
      if (step > 0) tried.set(key, step);
    });
  }
  const columns = new Map<string, Numbers>();
  for (const [key, step] of tried) {
    const up = evaluate((asked) => (asked === key ? step : 0));
    const down = evaluate((asked) => (asked === key ? -step : 0));
    const column: Numbers = new Map();
    for (const [id, high] of up) {
      const low = down.get(id);
      if (low !== undefined && high !== low) column.set(id, (high - low) / (2 * step));
    }
    columns.set(key, column);
  }
  return { values: evaluate(atEstimates), of: (id, key) => columns.get(key)?.get(id) ?? 0 };
}

/** `√(J·V·Jᵀ)`, block by block. */
export function uncertainty(id: string, sensitivity: Sensitivities, blocks: readonly InputBlock[]): number {
  let variance = 0;
  for (const { keys, covariance } of blocks) {
    const row = keys.map((key) => sensitivity.of(id, key));
    for (let i = 0; i < row.length; i++) {
      if (row[i] === 0) continue;
      for (let j = 0; j < row.length; j++) variance += row[i]! * row[j]! * covariance[i]![j]!;
    }
  }
  return Math.sqrt(Math.max(0, variance));
}
