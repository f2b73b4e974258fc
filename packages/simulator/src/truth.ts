import { type Exposure, volumeCorrection } from "./exposure.ts";
import { coefficientOf, stemRatioOf } from "./fibre.ts";
import { trueAverage, trueOutputFactor, trueWidths } from "./field-truth.ts";
import type { Laboratory } from "./laboratory.ts";
import { darkRateAt } from "./reader.ts";
import type { SeriesName } from "./shot.ts";
import { SERIES } from "./shot.ts";
import type { TypeBErrors } from "./type-b-errors.ts";

/** Where a mistake was made. */
export interface Place {
  readonly series: SeriesName;
  readonly condition?: string;
  readonly reading?: string;
  readonly column?: string;
}

/** A mistake that was made. */
export interface MadeMistake {
  readonly kind: string;
  readonly size: number;
  readonly places: readonly Place[];
}

/** By condition. */
export type ByCondition<T = number> = Readonly<Record<string, T>>;

/**
 * What an evaluation without any error returns, each under the id that it is reported by.
 *
 * It is the truth of the laboratory as it is meant to be: a mistake spoils readings, not the truth. Only doses and stem
 * loads are those of the readings that were taken, whatever befell them. Where light is lost differently in the two
 * channels (attenuation, yellowing), or fluorescence mixes with Cherenkov light at several angles, no one stem ratio holds
 * for a whole campaign; the one given is that at the tip, at right angles, when the campaign began.
 */
export interface Truth {
  readonly seed: number;
  /** `separation.stem-ratio`: stem light of the first channel over that of the second, gains included. */
  readonly stemRatio: number;
  /** `separation.coefficient`, `calibration.coefficient`: dose to the active volume per corrected signal at T_ref, Gy/nC. */
  readonly coefficient_GyPerNC: number;
  /**
   * `output-factor.<condition>`: dose per MU at the field's centre at a point over that in the reference field, times the
   * true Ω_int. The signals differ from it by averaging, by misplacement, and by the true k_other.
   */
  readonly outputFactors: ByCondition;
  /** `volume-averaging.<condition>`: dose at the centre over the mean over the active volume at the centre; that field alone. */
  readonly volumeAveraging: ByCondition;
  /**
   * By condition, one per time that it was set up: the mean dose over the volume at the centre over that where the detector
   * stood. `positioning.<condition>` is its estimate from all places where it might have stood.
   */
  readonly positioning: ByCondition<readonly number[]>;
  /** `equivalent-square.<condition>`: side of the square of the area that the true widths at half maximum enclose, mm. */
  readonly equivalentSquares: ByCondition;
  /** True k_other of every field but the reference. */
  readonly outputCorrection: number;
  readonly intermediateLink: number;
  readonly temperatureCoefficient_perK: number;
  /** `background.<channel>`, by channel: mean over the readings of the background, nC/s; absent without one. */
  readonly backgroundRates_perS?: ByCondition;
  /**
   * `dose.<series>.<condition>`: dose to the active volume to be expected of a reading of the condition, mean over its
   * readings, Gy: with drift and walk of the output, without the pulses' fluctuation. In the fields of the output factors the
   * coefficient times the signal is this over the true k_other.
   */
  readonly doses_Gy: Readonly<Partial<Record<SeriesName, ByCondition>>>;
  /** The same with the fluctuation: what those very readings delivered. */
  readonly deliveredDoses_Gy: Readonly<Partial<Record<SeriesName, ByCondition>>>;
  /** `stem-load.<series>.<condition>`: mean light of the second channel over mean corrected light. */
  readonly stemLoads: Readonly<Partial<Record<SeriesName, ByCondition>>>;
  readonly mistakes: readonly MadeMistake[];
}

/** Gathers the truth of a campaign. */
export function truthOf(
  laboratory: Laboratory,
  exposures: readonly Exposure[],
  errors: TypeBErrors,
  seed: number,
  mistakes: readonly MadeMistake[],
): Truth {
  const { beam, fibre, reader, physicist, effects } = laboratory;
  const { reference, fields } = physicist.plan.outputFactors;
  const stemRatio = stemRatioOf(fibre, reader.gain);
  const all = [reference, ...fields];
  const by = <T>(own: readonly (typeof all)[number][], value: (field: (typeof all)[number]) => T): ByCondition<T> =>
    Object.fromEntries(own.map((field) => [field.name, value(field)]));
  const output = ({ aperture }: (typeof all)[number]) => trueOutputFactor(beam, aperture);
  const correction = ({ name, aperture }: (typeof all)[number]) =>
    effects.volumeAveraging ? volumeCorrection(trueAverage(beam, fibre, aperture, [0, 0]), errors.averaging(name)) : 1;
  const rates = backgroundRates(laboratory, exposures);
  return {
    seed,
    stemRatio,
    coefficient_GyPerNC: coefficientOf(fibre, reader.gain),
    outputFactors: by(fields, (field) => (output(field) / output(reference)) * errors.intermediateLink),
    volumeAveraging: by(all, correction),
    positioning: by(all, (field) => {
      const own = exposures.filter((exposure) => of(exposure, "output-factors", field.name));
      const losses = own.map(
        ({ shot, centreDose_Gy, volumeDose_Gy }) => [shot.setup, volumeDose_Gy / centreDose_Gy] as const,
      );
      return [...new Map(losses).values()].map((seen) => 1 / (seen * correction(field)));
    }),
    equivalentSquares: by(all, ({ aperture }) => {
      const [x, y] = trueWidths(beam, aperture);
      return aperture.shape === "rectangle" ? Math.sqrt(x * y) : Math.sqrt((Math.PI * x * y) / 4);
    }),
    outputCorrection: errors.outputCorrection,
    intermediateLink: errors.intermediateLink,
    temperatureCoefficient_perK: errors.temperatureCoefficient_perK,
    ...(rates && { backgroundRates_perS: rates }),
    doses_Gy: byCondition(exposures, (own) => mean(own, ({ expectedDose_Gy }) => expectedDose_Gy)),
    deliveredDoses_Gy: byCondition(exposures, (own) => mean(own, ({ volumeDose_Gy }) => volumeDose_Gy)),
    stemLoads: byCondition(exposures, (own) => {
      const [first, second] = [mean(own, ({ light_nC }) => light_nC[0]), mean(own, ({ light_nC }) => light_nC[1])];
      return second / (first - stemRatio * second);
    }),
    mistakes,
  };
}

const of = ({ shot }: Exposure, series: SeriesName, condition: string) =>
  shot.series === series && shot.condition === condition;

function mean(exposures: readonly Exposure[], value: (exposure: Exposure) => number): number {
  return exposures.reduce((total, exposure) => total + value(exposure), 0) / exposures.length;
}

function byCondition(exposures: readonly Exposure[], value: (own: readonly Exposure[]) => number) {
  const beamOn = SERIES.filter((series) => series !== "background");
  return Object.fromEntries(
    beamOn.map((series) => {
      const conditions = [
        ...new Set(exposures.filter(({ shot }) => shot.series === series).map((e) => e.shot.condition)),
      ];
      return [
        series,
        Object.fromEntries(conditions.map((name) => [name, value(exposures.filter((e) => of(e, series, name)))])),
      ];
    }),
  );
}

function backgroundRates({ fibre, reader }: Laboratory, exposures: readonly Exposure[]): ByCondition | undefined {
  const dark = exposures.filter(({ shot }) => shot.series === "background");
  if (dark.length === 0) return undefined;
  const rate = (channel: 0 | 1) => mean(dark, ({ shot }) => darkRateAt(reader, channel, shot.time_s));
  return { [fibre.channels[0]]: rate(0), [fibre.channels[1]]: rate(1) };
}

/** The truth under the ids of quantities, for those that a campaign may report; what `positioning` estimates has no one truth. */
export function trueQuantities(truth: Truth): ReadonlyMap<string, number> {
  const series = (prefix: string, values: Readonly<Record<string, ByCondition | undefined>>) =>
    Object.entries(values).flatMap(([name, own]) => entries(`${prefix}.${name}`, own));
  const entries = (prefix: string, values: ByCondition | undefined) =>
    Object.entries(values ?? {}).map(([name, value]) => [`${prefix}.${name}`, value] as const);
  return new Map<string, number>([
    ["separation.stem-ratio", truth.stemRatio],
    ["separation.coefficient", truth.coefficient_GyPerNC],
    ["calibration.coefficient", truth.coefficient_GyPerNC],
    ...entries("background", truth.backgroundRates_perS),
    ...series("dose", truth.doses_Gy),
    ...series("stem-load", truth.stemLoads),
    ...entries("output-factor", truth.outputFactors),
    ...entries("volume-averaging", truth.volumeAveraging),
    ...entries("equivalent-square", truth.equivalentSquares),
  ]);
}
