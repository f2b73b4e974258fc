import { ONE, type Scalar, sum } from "@alcedo-dosimetry/metrology";
import { addDerived, type Chain } from "./chain.ts";
import { correctedSignal, type SeparationWeights } from "./corrected-signal.ts";
import { addNetSignals, type NetSeries } from "./net-signal.ts";
import { conditionsOf, type Reading, type Series } from "./readings.ts";

/** A reading under reference conditions. */
export interface CalibrationReading extends Reading {
  readonly dose_Gy: number;
  /** Standard uncertainty of the dose in percent, shared by the whole table. */
  readonly dose_u_percent: number;
}

/** The dose calibration. */
export interface Calibration {
  readonly net: NetSeries;
  /** Mean net signal per dose, by channel. */
  readonly perDose: readonly Scalar[];
  /** 1/N_D: corrected signal per dose. */
  readonly response: Scalar;
  /** N_D in Gy per signal unit, named `calibration.coefficient`. */
  readonly coefficient: Scalar;
}

/**
 * N_D = 1/Σ a_c·x̄_c with x_c = q_c/D reading by reading. The dose's uncertainty is one input that the whole table
 * shares: independent rows would shrink it by √n. Where rows state different uncertainties, each leans on the shared
 * input in proportion.
 */
export function addCalibration(
  chain: Chain,
  series: Series<CalibrationReading>,
  separation: SeparationWeights,
): Calibration {
  const { model, channels } = chain;
  const live = series.readings.filter(({ exclude }) => exclude === undefined);
  const largest = Math.max(...live.map(({ dose_u_percent }) => dose_u_percent));
  const scale = model.estimate({
    key: "calibration/dose",
    symbol: "d",
    label: "dose of the calibration over its stated value",
    type: "B",
    unit: ONE,
    value: 1,
    u: largest / 100,
  });
  const net = addNetSignals(chain, series, conditionsOf(series), {
    divisor: () => "dose",
    dose_Gy: (_, row) => series.readings[row]!.dose_Gy,
    sharedDose: {
      scale,
      lean: (_, row) => (largest > 0 ? series.readings[row]!.dose_u_percent / largest : 1),
    },
  });
  const total = net.conditions.reduce((count, condition) => count + condition.count, 0);
  const shares = net.conditions.map(({ name, count }) =>
    net.conditions.length > 1
      ? addDerived(model, series.name, `${name}/share of readings`, `n_${name}`, `share of ${name}`, count / total)
      : 1,
  );
  const perDose = channels.map((channel, c) =>
    sum(net.conditions.map(({ normalised }, i) => normalised[c]!.times(shares[i]!))).named(
      `calibration/signal per dose/${channel}`,
      `x_${channel}`,
      `net signal per dose, ${channel}`,
    ),
  );
  const response = correctedSignal(separation, perDose).named(
    "calibration/response",
    "S_cal",
    "corrected signal per dose",
  );
  const coefficient = model.tape
    .literal(1)
    .over(response)
    .named("calibration.coefficient", "N_D", "dose per corrected signal");
  return { net, perDose, response, coefficient };
}
