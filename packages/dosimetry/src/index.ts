export type { ActiveVolume } from "./active-volume.ts";
export { addBackground } from "./background.ts";
export { type Background, type BackgroundGroup, backgroundWeights } from "./background-groups.ts";
export {
  pddFromSquare,
  photonComponentPdd,
  tprFromPddRatio,
  tprFromSquare,
} from "./beam-quality.ts";
export { addCalibration, type Calibration, type CalibrationReading } from "./calibration.ts";
export { type Chain, type Measured, startChain } from "./chain.ts";
export {
  AIR_20_CELSIUS,
  AIR_22_CELSIUS,
  airDensityCorrection,
  linearRecombination,
  PULSED_RECOMBINATION,
  polarityCorrection,
  quadraticRecombination,
  type RecombinationFit,
  type ReferenceAir,
} from "./chamber-corrections.ts";
export {
  type AddedCharacterisation,
  addCharacterisation,
  type KnownCharacterisation,
} from "./characterisation.ts";
export { cherenkovAngle, cherenkovPhotonsPerCentimetre, cherenkovThreshold } from "./cherenkov.ts";
export { correctedSignal, type SeparationWeights, stemLoad, subtractedFraction } from "./corrected-signal.ts";
export { circleEquivalentSquare, rectangleEquivalentSquare, sterlingSquare } from "./equivalent-square.ts";
export type { DescribedField, FieldAssumptions, FieldFactors } from "./field-factors.ts";
export { type FieldModel, fieldModel } from "./field-model.ts";
export { addFieldSize, type FieldDescription, type FieldSize } from "./field-size.ts";
export { lateralEquilibrium, lateralRangeFromPdd, lateralRangeFromTpr } from "./lateral-equilibrium.ts";
export { checkMonitor, type MonitorCheck, type MonitorDifference } from "./monitor-check.ts";
export type { Divisor, NetCondition, NetSeries } from "./net-signal.ts";
export {
  CORRECTION_TABLE_REACH,
  type OutputCorrectionTable,
  type OutputCorrectionValue,
  type TabledCorrection,
} from "./output-correction-table.ts";
export {
  addOutputFactors,
  type FieldOutput,
  type OutputFactorInputs,
  type OutputFactorReading,
  type OutputFactors,
} from "./output-factor.ts";
export { type OutputFactorCurve, outputFactorAt } from "./output-factor-curve.ts";
export {
  type BlurredBox,
  blurredBoxAt,
  blurredBoxFwhm,
  blurredBoxHalfWidth,
  blurredBoxPenumbra,
  edgePenumbra,
} from "./penumbra.ts";
export type { Placement } from "./placement.ts";
export { PUBLISHED_OUTPUT_FACTORS, type PublishedOutputFactors } from "./published-output-factors.ts";
export {
  compareWithSets,
  type MeasuredOutput,
  type SetComparison,
  type SetComparisons,
  type SetValue,
} from "./published-set.ts";
export { type ReadingLight, readingLights } from "./reading-lights.ts";
export { conditionsOf, counting, type Reading, type Series } from "./readings.ts";
export { addReference, type Reference, type ReferenceVisit } from "./reference.ts";
export type { WildCondition } from "./repeats.ts";
export { addSeparation, type Separation, type SeparationCondition, type SeparationReading } from "./separation.ts";
export { DependentSpectraError, separateSources, sourceWeights } from "./spectral-separation.ts";
export { BLUE_FIBRE_TEMPERATURE_COEFFICIENT, GREEN_FIBRE_TEMPERATURE_COEFFICIENT } from "./temperature.ts";
export type { OutOfRange, Qualified } from "./validity.ts";
export {
  type ProvenLoad,
  residualSlope,
  type Verdict,
  type Verification,
  type VerifiedRange,
  verifiedRange,
  verify,
} from "./verification.ts";
export { type TipCorrections, TipGeometry } from "./volume-averaging.ts";
