import {
  addCalibration,
  type CalibrationReading,
  type SeparationWeights,
  type Series,
} from "@alcedo-dosimetry/dosimetry";
import { addPlainSignals, type ChainRun, stop } from "./chain-run.ts";
import { channelNotPositive, signalNotPositive } from "./findings/not-positive.ts";

/** Ties the corrected signal to dose; where another coefficient is known already, both are set against each other. */
export function runCalibration(run: ChainRun, series: Series<CalibrationReading>, weights: SeparationWeights): void {
  const calibration = addCalibration(run.chain, series, weights);
  const { conditions } = calibration.net;
  run.calibration = calibration;
  if (run.coefficient) run.coefficientDifference = run.coefficient.over(calibration.coefficient).minus(1);
  run.coefficient = calibration.coefficient;
  addPlainSignals(run, "calibration", weights, conditions);
  stop(
    run,
    "calibration",
    channelNotPositive("calibration", conditions, run.channels) ??
      signalNotPositive("calibration", [{ name: "calibration", corrected: calibration.response }], weights),
  );
}
