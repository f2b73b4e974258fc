import {
  addOutputFactors,
  compareWithSets,
  type OutputFactorReading,
  type SeparationWeights,
  type Series,
} from "@alcedo-dosimetry/dosimetry";
import { addPlainSignals, type ChainRun, outputFactorsUnfit, stop } from "./chain-run.ts";
import { correctionTableWithoutReference } from "./findings/correction-table.ts";
import { channelNotPositive, signalNotPositive } from "./findings/not-positive.ts";

/** Field output factors, and their comparison with a reference set where there is one. */
export function runOutputFactors(run: ChainRun, series: Series<OutputFactorReading>, weights: SeparationWeights): void {
  const { chain, channels, typed, assumptions, campaign } = run;
  if (stop(run, "output-factors", outputFactorsUnfit(typed))) return;
  const { detector } = campaign.descriptor.alcedo;
  const activeVolume =
    detector.activeVolume && detector.axis ? { ...detector.activeVolume, axis: detector.axis } : undefined;
  const { outputCorrection, intermediateLink, fieldWidth_u_mm, positioning_u_mm, penumbraSigma_mm } =
    assumptions.values;
  const table = typed["output-corrections"];
  const outputFactors = addOutputFactors(chain, series, weights, {
    outputCorrection,
    intermediateLink,
    fieldWidth_u_mm,
    positioning_u_mm,
    penumbraSigma_mm,
    ...(activeVolume && { activeVolume }),
    // a factor that is a dose over a reading holds volume averaging, by the definition of IAEA TRS-483
    ...(table && { correctionTable: { values: table.values, volumeAveraging: table.volumeAveraging ?? "included" } }),
  });
  run.outputFactors = outputFactors;
  const { conditions } = outputFactors.net;
  addPlainSignals(run, "output-factors", weights, conditions);
  const signals = run.signals
    .filter(({ series: own }) => own === "output-factors")
    .map(({ condition, corrected }) => ({ name: condition, corrected }));
  const stopped = stop(
    run,
    "output-factors",
    channelNotPositive("output-factors", conditions, channels) ??
      signalNotPositive("output-factors", signals, weights) ??
      correctionTableWithoutReference(table, outputFactors),
  );
  const set = typed["reference-set"];
  if (!set || stopped) return;
  const fields = outputFactors.fields.map(({ name, outputFactor, size }) => ({
    condition: name,
    outputFactor,
    equivalentSquare: size.equivalentSquare,
  }));
  run.comparisons = compareWithSets(chain, set.values, fields);
}
