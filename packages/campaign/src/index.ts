// what a picture or a document needs to ask the model itself, in place of a formula of its own
export { readingLights } from "@alcedo-dosimetry/dosimetry";
export { covarianceOf, propagate } from "@alcedo-dosimetry/metrology";
export { MISFIT, type Misfit, readingMisfit } from "./at-the-console/reading-fit.ts";
export {
  ENOUGH,
  type Enough,
  enough,
  type RunningStatistics,
  runningStatistics,
} from "./at-the-console/running-statistics.ts";
export { type Visit, type VisitReading, visitsOf } from "./at-the-console/visits.ts";
export { CAUTIONS, isInvented } from "./cautions.ts";
export { characterisationOf, NoCharacterisationError } from "./characterisation-of.ts";
export {
  compareEvaluations,
  type EvaluationComparison,
  type QuantityComparison,
} from "./compare-evaluations.ts";
export { ABSENT, concise, concisePercent, inLine, percent, plain, share, significant } from "./concise.ts";
export * from "./document.ts";
export { type EvaluateOptions, type Evaluation, evaluate, exitStatus } from "./evaluate.ts";
export type { ChainSeries, Evaluated, PlainSignal } from "./evaluated.ts";
export { countInWords, placeBehind } from "./finding-words.ts";
export { list } from "./findings/in-words.ts";
export type { Rule, Threshold } from "./findings/rule.ts";
export { RULES } from "./findings/rules.ts";
export { firstChannelAlone } from "./first-channel-alone.ts";
export { columnSymbols, type FormulaTexts, formulaTexts } from "./formula-texts.ts";
export { type Improvement, improvement } from "./improvement.ts";
export { largestContribution } from "./largest-contribution.ts";
export { mainResult } from "./main-result.ts";
export {
  type BlockOrder,
  blockMaker,
  type MonteCarloRequest,
  monteCarloOf,
  monteCarloSteps,
} from "./monte-carlo.ts";
export { netSignals } from "./net-signals.ts";
export { notGiven } from "./not-given.ts";
export { quantityCovariance } from "./quantity-covariance.ts";
export { numberText, type Quantities, quantitiesById, quantityText } from "./quantity-text.ts";
export {
  type LinearVerdict,
  type MonteCarloRecord,
  type Quantity,
  type Result,
  STAGES,
  type Stage,
  type StageId,
} from "./result.ts";
export { beamInWords, detectorInWords } from "./set-up-in-words.ts";
export { STAGE_NAMES } from "./stage-names.ts";
export { type Standing, worst } from "./standing.ts";
export { restoreEvaluation, type StoredEvaluation, storeEvaluation } from "./stored-evaluation.ts";
export { type TraceStep, traceQuantity } from "./trace-quantity.ts";
export { type VerificationVerdict, verificationVerdict } from "./verification-verdict.ts";
export { VERSION } from "./version.ts";
