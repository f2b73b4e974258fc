export type { ActiveVolume } from "./active-volume.ts";
export { aged } from "./aged.ts";
export type { Aperture } from "./aperture.ts";
export type { Beam } from "./beam.ts";
export type { Fibre, PerChannel } from "./fibre.ts";
export {
  type Effects,
  type Laboratory,
  noiseless,
  type PlannedMistake,
  pointDetector,
  withRepeats,
} from "./laboratory.ts";
export { type LightSources, lightSources } from "./light-sources.ts";
export { MISTAKES, type MistakeKind, withMistake } from "./mistakes/catalogue.ts";
export type { Mistake } from "./mistakes/mistake.ts";
export type { Monitor } from "./monitor.ts";
export type { Physicist, Plan, PlannedArrangement, PlannedField, StatedUncertainties } from "./physicist.ts";
export type { Reader, Saturation } from "./reader.ts";
export { REGIMES, type RegimeName } from "./regimes.ts";
export type { SeriesName } from "./shot.ts";
export { type Simulation, simulate } from "./simulate.ts";
export { standardLaboratory } from "./standard-laboratory.ts";
export { type ByCondition, type MadeMistake, type Place, type Truth, trueQuantities } from "./truth.ts";
