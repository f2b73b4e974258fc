import {
  addSeparation,
  residualSlope,
  type Separation,
  type SeparationReading,
  type Series,
  verifiedRange,
  verify,
} from "@alcedo-dosimetry/dosimetry";
import { IndeterminateFitError } from "@alcedo-dosimetry/metrology";
import { addPlainSignals, type ChainRun, stopAll } from "./chain-run.ts";
import type { Finding } from "./finding.ts";
import { monitorNotUsable } from "./findings/monitor-not-usable.ts";
import { channelNotPositive, signalNotPositive } from "./findings/not-positive.ts";
import { separationIndeterminate } from "./findings/separation-indeterminate.ts";
import { stemRatioNotPositive } from "./findings/stem-ratio-not-positive.ts";
import { verificationWithoutDose } from "./findings/verification-without-dose.ts";

/** Separates by the campaign's own readings, and tests the weights on those kept aside. */
export function runSeparation(run: ChainRun, series: Series<SeparationReading>): void {
  const { model, channels, typed, assumptions } = run;
  const unfit = verificationWithoutDose(typed) ?? monitorNotUsable("separation", typed);
  const fitted = unfit ? { finding: unfit } : fit(run, series);
  if ("separation" in fitted) run.separation = fitted.separation;
  if ("finding" in fitted) {
    stopAll(run, fitted.finding);
    return;
  }
  const { separation } = fitted;
  run.weights = separation;
  if (separation.coefficient) run.coefficient = separation.coefficient;
  run.verifications = verify(model, separation, assumptions.values.separationResidual_percent / 100);
  run.range = verifiedRange(separation, run.verifications);
  const slope = channels.length === 2 ? residualSlope(model, run.verifications) : undefined;
  if (slope) run.slope = slope;
  addPlainSignals(run, "separation", separation, separation.conditions);
}

/** The fit, or what stands in its way; both where the fit can at least be shown. */
function fit(
  { chain, channels, typed, assumptions }: ChainRun,
  series: Series<SeparationReading>,
): { separation: Separation } | { separation?: Separation; finding: Finding } {
  let separation: Separation;
  try {
    separation = addSeparation(chain, series, assumptions.values.doseEquality_u_percent / 100);
  } catch (error) {
    if (!(error instanceof IndeterminateFitError)) throw error;
    return { finding: separationIndeterminate(typed, error.message) };
  }
  const { conditions, state } = separation;
  const finding =
    state.reason === "converged"
      ? (channelNotPositive("separation", conditions, channels) ??
        stemRatioNotPositive(separation) ??
        signalNotPositive("separation", conditions, separation))
      : separationIndeterminate(typed, `the search for them ended without one: ${state.reason}`);
  return finding ? { separation, finding } : { separation };
}
