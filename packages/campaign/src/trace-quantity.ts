import { type TraceStep, trace } from "@alcedo-dosimetry/metrology";
import type { Evaluation } from "./evaluate.ts";

export type { TraceStep };

/** The origin of a reported quantity, or undefined where it has no model behind it (a χ²) or does not exist. */
export function traceQuantity({ model, nodes }: Evaluation, id: string): TraceStep | undefined {
  const node = nodes.get(id);
  return model && node && trace(model, node);
}
