import { backgroundMoved } from "./background-moved.ts";
import { channelDark } from "./channel-dark.ts";
import {
  characterisationAgeDoubtful,
  characterisationIdentityOpen,
  characterisationStale,
} from "./characterisation-from-another-day.ts";
import { contrastLow } from "./contrast-low.ts";
import {
  correctionAtTableEnd,
  correctionTableTooShort,
  outputCorrectionReplaced,
  volumeAveragingInTable,
} from "./correction-table.ts";
import { digitsFewer } from "./digits-fewer.ts";
import {
  doseDoesNotFit,
  durationDoesNotFit,
  monitorUnitsDoNotFit,
  temperatureDoesNotFit,
  timeDoesNotFit,
} from "./does-not-fit.ts";
import { fieldNarrowerThanBlur, fieldTooOblong, fieldWidthNominal } from "./field-size-doubtful.ts";
import { loneCondition } from "./lone-condition.ts";
import { monitorSeesField } from "./monitor-sees-field.ts";
import { notNormalised } from "./not-normalised.ts";
import {
  coefficientsDisagree,
  fibreOutOfOrder,
  outputFactorFallsSteeply,
  outputFactorOutOfLine,
} from "./out-of-line.ts";
import { outputFactorFlattens } from "./output-factor-flattens.ts";
import { readingAlone } from "./reading-alone.ts";
import { referenceDrift } from "./reference-drift.ts";
import { referenceNotAsSeparated } from "./reference-not-as-separated.ts";
import { rowsRepeated } from "./rows-repeated.ts";
import type { Rule } from "./rule.ts";
import { scatterUneven } from "./scatter-uneven.ts";
import { separationInconsistent } from "./separation-inconsistent.ts";
import { separationUntested } from "./separation-untested.ts";
import { setDisagrees, setTooShort } from "./set-comparison.ts";
import { singleReading } from "./single-reading.ts";
import {
  assumptionDefault,
  backgroundAbsent,
  calibrationAbsent,
  correctionsNotComputed,
} from "./state-of-the-evaluation.ts";
import { stemLoadBeyondVerified } from "./stem-load-beyond-verified.ts";
import { typeAUnknown } from "./type-a-unknown.ts";
import {
  doseUncertaintySmall,
  fieldWidthUnlikely,
  temperatureUnlikely,
  volumeCorrectionUnlikely,
} from "./unlikely-entry.ts";
import { verificationFailed, verificationInconclusive } from "./verification-outcome.ts";

/** The rules that look at a finished evaluation, in the order in which their findings are listed. */
export const RULES: readonly Rule[] = [
  verificationFailed,
  separationInconsistent,
  characterisationStale,
  characterisationIdentityOpen,
  separationUntested,
  verificationInconclusive,
  contrastLow,
  loneCondition,
  typeAUnknown,
  singleReading,
  readingAlone,
  scatterUneven,
  channelDark,
  rowsRepeated,
  digitsFewer,
  backgroundMoved,
  coefficientsDisagree,
  fibreOutOfOrder,
  doseUncertaintySmall,
  temperatureUnlikely,
  temperatureDoesNotFit,
  doseDoesNotFit,
  durationDoesNotFit,
  timeDoesNotFit,
  monitorUnitsDoNotFit,
  stemLoadBeyondVerified,
  monitorSeesField,
  referenceDrift,
  referenceNotAsSeparated,
  notNormalised,
  fieldWidthNominal,
  fieldWidthUnlikely,
  fieldTooOblong,
  fieldNarrowerThanBlur,
  outputFactorOutOfLine,
  outputFactorFlattens,
  outputFactorFallsSteeply,
  volumeCorrectionUnlikely,
  correctionTableTooShort,
  volumeAveragingInTable,
  setDisagrees,
  backgroundAbsent,
  calibrationAbsent,
  correctionsNotComputed,
  setTooShort,
  correctionAtTableEnd,
  outputCorrectionReplaced,
  characterisationAgeDoubtful,
  assumptionDefault,
];
