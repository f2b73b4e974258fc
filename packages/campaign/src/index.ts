export { characterisationOf, NoCharacterisationError } from "./characterisation-of.ts";
export {
  compareEvaluations,
  type EvaluationComparison,
  type QuantityComparison,
} from "./compare-evaluations.ts";
export * from "./document.ts";
export { type EvaluateOptions, type Evaluation, evaluate, exitStatus } from "./evaluate.ts";
export type { Rule, Threshold } from "./findings/rule.ts";
export { RULES } from "./findings/rules.ts";
export { type Quantity, type Result, STAGES, type Stage, type StageId } from "./result.ts";
export { type Standing, worst } from "./standing.ts";
export { traceQuantity } from "./trace-quantity.ts";
export { VERSION } from "./version.ts";
