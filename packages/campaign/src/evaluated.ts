import type {
  AddedCharacterisation,
  Background,
  Calibration,
  CalibrationReading as DoseReading,
  OutputFactorReading as FieldReading,
  OutputFactors,
  Separation,
  SeparationReading,
  SeparationWeights,
  Series,
  SetComparisons,
  Verification,
  VerifiedRange,
} from "@alcedo-dosimetry/dosimetry";
import type { Model, Scalar } from "@alcedo-dosimetry/metrology";
import type { ResolvedAssumptions } from "./assumptions.ts";
import type { Campaign } from "./campaign.ts";
import type { Characterisation } from "./characterisation.ts";
import type { CharacterisationAge } from "./characterisation-age.ts";
import type { Finding } from "./finding.ts";
import type { SeriesReadings } from "./readings.ts";
import type { StageId } from "./result.ts";

/** A corrected signal of one condition of one series, as it stands: what dose and stem load are taken from. */
export interface PlainSignal {
  readonly series: "separation" | "calibration" | "output-factors";
  readonly condition: string;
  readonly signals: readonly Scalar[];
  /** S, named `signal.<series>.<condition>`. */
  readonly corrected: Scalar;
  readonly load: Scalar;
}

/** The series as the physics takes them: every row, those that are left out with their reason. */
export interface ChainSeries {
  readonly background?: Series;
  readonly separation?: Series<SeparationReading>;
  readonly calibration?: Series<DoseReading>;
  readonly "output-factors"?: Series<FieldReading>;
}

/** A characterisation from another day, as it is used. */
interface UsedCharacterisation {
  readonly stored: Characterisation;
  readonly added: AddedCharacterisation;
  /** Parts of the identity that only one side states. */
  readonly unstated: readonly string[];
  readonly age: CharacterisationAge;
}

/**
 * Everything that an evaluation found, before it is judged: each stage, or nothing where it could not be computed. The
 * rules behind findings look at this and at nothing else.
 */
export interface Evaluated {
  readonly campaign: Campaign;
  readonly channels: readonly string[];
  readonly typed: SeriesReadings;
  readonly series: ChainSeries;
  readonly assumptions: ResolvedAssumptions;
  readonly model: Model;
  readonly background?: Background;
  /** The separation by the campaign's own readings; there also where it stopped, as far as it can be shown. */
  readonly separation?: Separation;
  /** What turns channel signals into scintillation light, where it is known. */
  readonly weights?: SeparationWeights;
  /** N_D in force: the calibration's, or else the separation's. */
  readonly coefficient?: Scalar;
  /** Separation and calibration of another day, where they are used. */
  readonly characterisation?: UsedCharacterisation;
  readonly verifications: readonly Verification[];
  readonly range?: VerifiedRange;
  /** Slope of the verifications' residuals on stem load, where there are two and two channels. */
  readonly slope?: Scalar;
  readonly calibration?: Calibration;
  /** The separation's coefficient over the calibration's, less one, where both are. */
  readonly coefficientDifference?: Scalar;
  readonly outputFactors?: OutputFactors;
  /** The output factors against the reference set, where there is one. */
  readonly comparisons?: SetComparisons;
  readonly signals: readonly PlainSignal[];
  /** Why a stage has no result, where it has none. */
  readonly stopped: ReadonlyMap<StageId, Finding>;
}
