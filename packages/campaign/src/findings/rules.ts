import { contrastLow } from "./contrast-low.ts";
import { fieldNarrowerThanBlur, fieldTooOblong, fieldWidthNominal } from "./field-size-doubtful.ts";
import { loneCondition } from "./lone-condition.ts";
import { monitorSeesField } from "./monitor-sees-field.ts";
import { notNormalised } from "./not-normalised.ts";
import { referenceDrift } from "./reference-drift.ts";
import type { Rule } from "./rule.ts";
import { scatterUneven } from "./scatter-uneven.ts";
import { separationInconsistent } from "./separation-inconsistent.ts";
import { separationUntested } from "./separation-untested.ts";
import { setDisagrees, setTooShort } from "./set-comparison.ts";
import {
  assumptionDefault,
  backgroundAbsent,
  calibrationAbsent,
  correctionsNotComputed,
} from "./state-of-the-evaluation.ts";
import { stemLoadBeyondVerified } from "./stem-load-beyond-verified.ts";
import { typeAUnknown } from "./type-a-unknown.ts";
import { verificationFailed, verificationInconclusive } from "./verification-outcome.ts";

/** The rules that look at a finished evaluation, in the order in which their findings are listed. */
export const RULES: readonly Rule[] = [
  verificationFailed,
  separationInconsistent,
  separationUntested,
  verificationInconclusive,
  contrastLow,
  loneCondition,
  typeAUnknown,
  scatterUneven,
  stemLoadBeyondVerified,
  monitorSeesField,
  referenceDrift,
  notNormalised,
  fieldWidthNominal,
  fieldTooOblong,
  fieldNarrowerThanBlur,
  setDisagrees,
  backgroundAbsent,
  calibrationAbsent,
  correctionsNotComputed,
  setTooShort,
  assumptionDefault,
];
