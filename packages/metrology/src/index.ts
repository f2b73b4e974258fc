export {
  type BatchStatistics,
  BLOCKS_PER_BATCH,
  batchStatistics,
  isSettled,
  type Tolerance,
} from "./adaptive-stopping.ts";
export { bracketedRoot } from "./bracketed-root.ts";
export { chebyshevCoefficients, chebyshevNodes, chebyshevSeries } from "./chebyshev.ts";
export { type Attribution, type Comparison, compare } from "./comparison.ts";
export { type CoverageIntervals, coverageIntervals, type Interval, symmetricInterval } from "./coverage-interval.ts";
export { type DeviateSurface, deviateSurface } from "./deviate-surface.ts";
export {
  chiSquareUpper,
  coverageFactor,
  fUpper,
  normalCdf,
  normalQuantile,
  tCdf,
  tQuantile,
} from "./distributions.ts";
export { dofFromRelativeUncertainty, effectiveDof, type UncertaintyGroup } from "./effective-dof.ts";
export { evaluateAt } from "./evaluation.ts";
export { type Formula, formulaOf, formulaText, references } from "./formula.ts";
export { gaussLegendre, type QuadratureRule } from "./gauss-legendre.ts";
export {
  type GeneralisedFit,
  generalisedLeastSquares,
  linearCombination,
  type OrdinaryFit,
  ordinaryLeastSquares,
  RankDeficientError,
} from "./generalised-least-squares.ts";
export { gradient, readingGradient } from "./gradient.ts";
export { type Tails, tailsOf } from "./heavy-tails.ts";
export type { HomogeneityOptions } from "./homogeneity.ts";
export { type ConditionHomogeneity, type Homogeneity, testHomogeneity } from "./homogeneity.ts";
export { type RootSpec, rootOf } from "./implicit-root.ts";
export type { Kernel, KernelState } from "./kernel.ts";
export { type MeanSpec, type MeanState, mean } from "./mapped-mean.ts";
export {
  type Block,
  type Column,
  type Distribution,
  type Element,
  type Evaluation,
  type EvaluationType,
  Model,
  type PlacedBlock,
} from "./model.ts";
export {
  type Adaptive,
  type MonteCarloOptions,
  type MonteCarloResult,
  type MonteCarloRun,
  monteCarlo,
  summarise,
} from "./monte-carlo.ts";
export {
  type BlockRunner,
  blockRunner,
  mergeBlocks,
  TRIALS_PER_BLOCK,
  type TrialBlocks,
} from "./monte-carlo-blocks.ts";
export {
  type NonlinearFit,
  type NonlinearProblem,
  type NonlinearStop,
  nonlinearLeastSquares,
} from "./nonlinear-least-squares.ts";
export { type NormalisedError, normalisedError } from "./normalised-error.ts";
export { numericalTolerance } from "./numerical-tolerance.ts";
export type { CovarianceScale } from "./pooled-covariance.ts";
export {
  type ConditionScatter,
  type PooledCovariance,
  pooledCovariance,
  poolScatters,
  type RepeatedReadings,
} from "./pooled-covariance.ts";
export { positivePart } from "./positive-part.ts";
export { isPositiveSemidefinite } from "./positive-semidefinite.ts";
export { Program, type Slot } from "./program.ts";
export {
  budget,
  COVERAGE,
  type Contribution,
  covarianceOf,
  type Propagation,
  propagate,
  type Uncertainty,
} from "./propagation.ts";
export { type Validation, validatePropagation } from "./propagation-validation.ts";
export { madSigma, median, SIGMA_PER_MAD } from "./robust-scale.ts";
export { type SavitzkyGolayFilter, type SavitzkyGolayShape, savitzkyGolay } from "./savitzky-golay.ts";
export { type SecondOrder, secondOrder } from "./second-order.ts";
export { restore, type StoredModel, store } from "./serialisation.ts";
export { sidakFamily, sidakPerTest } from "./sidak.ts";
export { acos, cos, erf, erfc, ln, sin } from "./special.ts";
export {
  fitStructure,
  IndeterminateFitError,
  type StructuralPoint,
  type StructuralReason,
  type StructuralState,
} from "./structural-fit.ts";
export { type Name, Scalar, sum, Tape } from "./tape.ts";
export { formulaFor, type TracedReading, type TraceStep, trace } from "./trace.ts";
export { ONE, Unit } from "./unit.ts";
export {
  dersimonianLaird,
  mandelPaule,
  type RandomEffectsMean,
  type WeightedMean,
  weightedMean,
} from "./weighted-mean.ts";
export { type YorkLine, type YorkPoints, type YorkStop, yorkLine } from "./york-line.ts";
