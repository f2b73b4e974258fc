import { addBackground, startChain } from "@alcedo-dosimetry/dosimetry";
import { Model } from "@alcedo-dosimetry/metrology";
import { resolveAssumptions } from "./assumptions.ts";
import { runCalibration } from "./calibration-stage.ts";
import type { Campaign } from "./campaign.ts";
import { type ChainRun, stop } from "./chain-run.ts";
import { chainSeries } from "./chain-series.ts";
import { runCharacterisation } from "./characterisation-stage.ts";
import type { Evaluated } from "./evaluated.ts";
import { separationMissing } from "./findings/separation-missing.ts";
import { runOutputFactors } from "./output-factor-stage.ts";
import type { Interpretation } from "./readings.ts";
import { runSeparation } from "./separation-stage.ts";

/**
 * Runs the chain on a campaign whose tables hold no error: background, separation, calibration, output factors. A stage
 * that the physics refuses stops there with its finding, and those that need it stop with it.
 */
export function evaluateChain(
  campaign: Campaign,
  { channels, series: typed, characterisation }: Interpretation,
  asOf?: string,
): Evaluated {
  const run = startRun(campaign, channels, typed);
  const { separation, calibration, "output-factors": outputs } = run.series;
  if (separation) runSeparation(run, separation);
  else if (characterisation) runCharacterisation(run, characterisation, asOf);
  else {
    if (calibration) stop(run, "calibration", separationMissing("calibration"));
    if (outputs) stop(run, "output-factors", separationMissing("output-factors"));
  }
  if (run.weights) {
    if (calibration) runCalibration(run, calibration, run.weights);
    if (outputs) runOutputFactors(run, outputs, run.weights);
  }
  return run;
}

function startRun(campaign: Campaign, channels: readonly string[], typed: Interpretation["series"]): ChainRun {
  const assumptions = resolveAssumptions(campaign.descriptor);
  const { temperatureCoefficient_perK, referenceTemperature_C, temperature_u_C } = assumptions.values;
  const series = chainSeries(typed);
  const model = new Model();
  const start = startChain(model, {
    channels,
    signalUnit: campaign.descriptor.alcedo.detector.signalUnit,
    temperatureCoefficient_perK,
    referenceTemperature_C,
    temperature_u_C,
  });
  const background = series.background && addBackground(start, series.background);
  return {
    campaign,
    channels,
    typed,
    series,
    assumptions,
    model,
    chain: background ? { ...start, background } : start,
    ...(background && { background }),
    verifications: [],
    signals: [],
    stopped: new Map(),
  };
}
