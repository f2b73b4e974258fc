import {
  addBackground,
  addCalibration,
  addOutputFactors,
  addSeparation,
  type Calibration,
  type Chain,
  compareWithSets,
  correctedSignal,
  type NetCondition,
  type OutputFactors,
  residualSlope,
  type Separation,
  type SetComparisons,
  startChain,
  stemLoad,
  type Verification,
  type VerifiedRange,
  verifiedRange,
  verify,
} from "@alcedo-dosimetry/dosimetry";
import { IndeterminateFitError, Model, ONE, type Scalar, sum } from "@alcedo-dosimetry/metrology";
import { resolveAssumptions } from "./assumptions.ts";
import type { Campaign } from "./campaign.ts";
import { chainSeries } from "./chain-series.ts";
import type { Evaluated, PlainSignal } from "./evaluated.ts";
import type { Finding } from "./finding.ts";
import { monitorNotUsable } from "./findings/monitor-not-usable.ts";
import { channelNotPositive, signalNotPositive } from "./findings/not-positive.ts";
import { referenceMissing } from "./findings/reference-missing.ts";
import { separationIndeterminate } from "./findings/separation-indeterminate.ts";
import { separationMissing } from "./findings/separation-missing.ts";
import { stemRatioNotPositive } from "./findings/stem-ratio-not-positive.ts";
import { verificationWithoutDose } from "./findings/verification-without-dose.ts";
import type { Interpretation, SeriesReadings } from "./readings.ts";
import type { StageId } from "./result.ts";

/**
 * Runs the chain on a campaign whose tables hold no error: background, separation, calibration, output factors. A stage
 * that the physics refuses stops there with its finding, and those that need it stop with it.
 */
export function evaluateChain(campaign: Campaign, { channels, series: typed }: Interpretation): Evaluated {
  const { detector } = campaign.descriptor.alcedo;
  const assumptions = resolveAssumptions(campaign.descriptor);
  const { values } = assumptions;
  const activeVolume =
    detector.activeVolume && detector.axis ? { ...detector.activeVolume, axis: detector.axis } : undefined;
  const series = chainSeries(typed);
  const model = new Model();
  const stopped = new Map<StageId, Finding>();
  const signals: PlainSignal[] = [];
  const start = startChain(model, {
    channels,
    signalUnit: detector.signalUnit,
    temperatureCoefficient_perK: values.temperatureCoefficient_perK,
    referenceTemperature_C: values.referenceTemperature_C,
    temperature_u_C: values.temperature_u_C,
  });
  const background = series.background && addBackground(start, series.background);
  const chain: Chain = background ? { ...start, background } : start;
  let separation: Separation | undefined;
  let verifications: readonly Verification[] = [];
  let range: VerifiedRange | undefined;
  let slope: Scalar | undefined;
  let calibration: Calibration | undefined;
  let coefficientDifference: Scalar | undefined;
  let outputFactors: OutputFactors | undefined;
  let comparisons: SetComparisons | undefined;
  const fixed = { campaign, channels, typed, series, assumptions, model, ...(background && { background }) };
  const done = (): Evaluated => ({
    ...fixed,
    ...(separation && { separation }),
    verifications,
    ...(range && { range }),
    ...(slope && { slope }),
    ...(calibration && { calibration }),
    ...(coefficientDifference && { coefficientDifference }),
    ...(outputFactors && { outputFactors }),
    ...(comparisons && { comparisons }),
    signals,
    stopped,
  });
  const stop = (stage: StageId, finding: Finding | undefined): finding is Finding => {
    if (finding) stopped.set(stage, finding);
    return finding !== undefined;
  };

  /** Without a separation the stages that need it stop for the same reason, or for one of their own that can be seen. */
  const stopAll = (finding: Finding): Evaluated => {
    if (series.separation) stop("separation", finding);
    if (series.calibration) stop("calibration", finding);
    if (series["output-factors"]) stop("output-factors", outputFactorsUnfit(typed) ?? finding);
    return done();
  };

  if (series.separation) {
    const unfit = verificationWithoutDose(typed) ?? monitorNotUsable("separation", typed);
    if (unfit) return stopAll(unfit);
    try {
      separation = addSeparation(chain, series.separation, values.doseEquality_u_percent / 100);
    } catch (error) {
      if (!(error instanceof IndeterminateFitError)) throw error;
      return stopAll(separationIndeterminate(typed, error.message));
    }
    if (separation.state.reason !== "converged")
      return stopAll(
        separationIndeterminate(typed, `the search for them ended without one: ${separation.state.reason}`),
      );
    const { conditions } = separation;
    const wrong =
      channelNotPositive("separation", conditions, channels) ??
      stemRatioNotPositive(separation) ??
      signalNotPositive("separation", conditions, separation);
    if (wrong) return stopAll(wrong);
    verifications = verify(model, separation, values.separationResidual_percent / 100);
    range = verifiedRange(separation, verifications);
    if (channels.length === 2) slope = residualSlope(model, verifications);
  }
  const weights = separation;
  if (!weights) {
    if (series.calibration) stop("calibration", separationMissing("calibration"));
    if (series["output-factors"]) stop("output-factors", separationMissing("output-factors"));
    return done();
  }
  const plain = (name: PlainSignal["series"], conditions: readonly NetCondition[]) => {
    for (const condition of new Set(conditions.map((visit) => visit.condition))) {
      const visits = conditions.filter((visit) => visit.condition === condition);
      const own = meanOfVisits(model, name, visits, channels);
      const corrected = correctedSignal(weights, own).named(
        `signal.${name}.${condition}`,
        `S_${condition}`,
        `corrected signal of a reading, ${condition}`,
      );
      signals.push({ series: name, condition, signals: own, corrected, load: stemLoad(own, corrected) });
    }
  };
  plain("separation", weights.conditions);
  if (series.calibration) {
    calibration = addCalibration(chain, series.calibration, weights);
    coefficientDifference = weights.coefficient?.over(calibration.coefficient).minus(1);
    plain("calibration", calibration.net.conditions);
    const { conditions } = calibration.net;
    stop(
      "calibration",
      channelNotPositive("calibration", conditions, channels) ??
        signalNotPositive("calibration", [{ name: "calibration", corrected: calibration.response }], weights),
    );
  }
  const outputs = series["output-factors"];
  if (outputs) {
    if (stop("output-factors", outputFactorsUnfit(typed))) return done();
    outputFactors = addOutputFactors(chain, outputs, weights, {
      outputCorrection: values.outputCorrection,
      intermediateLink: values.intermediateLink,
      fieldWidth_u_mm: values.fieldWidth_u_mm,
      positioning_u_mm: values.positioning_u_mm,
      penumbraSigma_mm: values.penumbraSigma_mm,
      ...(activeVolume && { activeVolume }),
    });
    plain("output-factors", outputFactors.net.conditions);
    const { conditions } = outputFactors.net;
    stop(
      "output-factors",
      channelNotPositive("output-factors", conditions, channels) ??
        signalNotPositive(
          "output-factors",
          signals
            .filter(({ series: own }) => own === "output-factors")
            .map(({ condition, corrected }) => ({ name: condition, corrected })),
          weights,
        ),
    );
    const set = typed["reference-set"];
    if (set && !stopped.has("output-factors"))
      comparisons = compareWithSets(
        chain,
        set.values,
        outputFactors.fields.map(({ name, outputFactor, size }) => ({
          condition: name,
          outputFactor,
          equivalentSquare: size.equivalentSquare,
        })),
      );
  }
  return done();
}

/** What can be seen to stand in the way of output factors before anything is computed. */
function outputFactorsUnfit(typed: SeriesReadings): Finding | undefined {
  return referenceMissing(typed) ?? monitorNotUsable("output-factors", typed);
}

/** The mean of all readings of a condition, by channel, from its visits. */
function meanOfVisits(
  model: Model,
  series: string,
  visits: readonly NetCondition[],
  channels: readonly string[],
): readonly Scalar[] {
  if (visits.length === 1) return visits[0]!.plain;
  const total = visits.reduce((count, visit) => count + visit.count, 0);
  const shares = visits.map(({ name, count }) =>
    model.constant({
      key: `${series}/${name}/share of readings`,
      symbol: `n_${name}`,
      label: `share of ${name}`,
      unit: ONE,
      value: count / total,
      derivedFrom: series,
    }),
  );
  return channels.map((_, c) => sum(visits.map(({ plain }, i) => plain[c]!.times(shares[i]!))));
}
