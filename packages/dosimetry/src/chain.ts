import { type Model, ONE, type Scalar, Unit } from "@alcedo-dosimetry/metrology";
import type { Background } from "./background-groups.ts";
import type { Reading, Series } from "./readings.ts";

/** A value with its standard uncertainty. */
export interface Measured {
  readonly value: number;
  readonly u: number;
}

/** What all stages of the chain share. */
export interface Chain {
  readonly model: Model;
  /** Names of the channels, the one rich in scintillation first. */
  readonly channels: readonly string[];
  readonly signalUnit: Unit;
  /** α: relative change of the scintillation per kelvin. */
  readonly temperatureCoefficient: Scalar;
  /** T_ref in °C. */
  readonly referenceTemperature: Scalar;
  /** Standard uncertainty of a temperature that nobody read, in K. */
  readonly roomTemperature_u: number;
  /** Absent where the readings are net signals already. */
  readonly background?: Background;
}

const CELSIUS = Unit.parse("°C");

/** Starts a chain: the inputs that every stage leans on. */
export function startChain(
  model: Model,
  given: {
    readonly channels: readonly string[];
    readonly signalUnit: string;
    readonly temperatureCoefficient_perK: Measured;
    readonly referenceTemperature_C: number;
    readonly temperature_u_C: number;
  },
): Chain {
  const { value, u } = given.temperatureCoefficient_perK;
  return {
    model,
    channels: given.channels,
    signalUnit: Unit.parse(given.signalUnit),
    temperatureCoefficient: model.estimate({
      key: "temperature-coefficient",
      symbol: "α",
      label: "temperature coefficient of the scintillation",
      type: "B",
      unit: ONE.over(CELSIUS),
      value,
      u,
    }),
    referenceTemperature: model.constant({
      key: "reference-temperature",
      symbol: "T_ref",
      label: "reference temperature",
      unit: CELSIUS,
      value: given.referenceTemperature_C,
    }),
    roomTemperature_u: given.temperature_u_C,
  };
}

/**
 * Adds one column of a series to the model; a cell without a number is NaN, which no formula may touch.
 * @param derivedFrom the series that the cells were worked out from, where they were not read.
 */
export function addColumn(
  chain: Chain,
  series: Series,
  name: string,
  symbol: string,
  unit: Unit,
  cell: (reading: Reading, row: number) => number | undefined,
  derivedFrom?: string,
): number {
  const { readings } = series;
  const values = new Float64Array(readings.length);
  for (let row = 0; row < readings.length; row++) values[row] = cell(readings[row]!, row) ?? Number.NaN;
  return chain.model.column({
    ...(derivedFrom !== undefined && { derivedFrom }),
    series: series.name,
    name,
    symbol,
    unit,
    readings: readings.map(({ id }) => id),
    values,
  });
}

/**
 * Adds the times of a series, where it has any. No formula takes them in, but what does follow from them (a place between
 * two visits) changes with them, and a comparison must see whose time it was.
 */
export function addTimes(chain: Chain, series: Series): void {
  if (series.readings.some(({ time }) => time !== undefined))
    addColumn(chain, series, "time", "time", Unit.parse("s"), ({ time }) => time);
}

/** A number that follows from a series' readings and is held fixed: a comparison lays its changes at their door. */
export function addDerived(
  model: Model,
  series: string,
  key: string,
  symbol: string,
  label: string,
  value: number,
): Scalar {
  return model.constant({ key: `${series}/${key}`, symbol, label, unit: ONE, value, derivedFrom: series });
}

/** Adds the column of weights: 1 for a reading that counts, 0 for one that is left out. */
export function addIncluded(chain: Chain, series: Series): number {
  return addColumn(chain, series, "included", "included", ONE, ({ exclude }) => (exclude === undefined ? 1 : 0));
}
