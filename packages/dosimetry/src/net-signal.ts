import { mean, ONE, Program, type Scalar, type Slot, sum, Unit } from "@alcedo-dosimetry/metrology";
import { backgroundWeights } from "./background-groups.ts";
import { addColumn, addIncluded, addTimes, type Chain } from "./chain.ts";
import { type ConditionRows, counting, lastDigit, meanTime, type Reading, type Series } from "./readings.ts";
import { addRepeats, type RepeatedCondition, type WildCondition } from "./repeats.ts";
import { addResolution } from "./resolution.ts";

/** What a reading is divided by before it is compared with others. */
export type Divisor = "monitor" | "mu" | "dose" | "none";

/** The net signals of one condition. */
export interface NetCondition {
  /** Name of the condition, or of the visit where one condition has several. */
  readonly name: string;
  readonly condition: string;
  readonly rows: readonly number[];
  /** Readings that count. */
  readonly count: number;
  /** Mean time of those readings, in s since 1970. */
  readonly time: number | undefined;
  readonly divisor: Divisor;
  /** The readings that count: row of the series, and normalised signals by channel. */
  readonly perReading: readonly { readonly row: number; readonly normalised: readonly number[] }[];
  /** The readings that are left out, likewise, as far as their cells hold what is needed: to be shown, never used. */
  readonly leftOut: readonly { readonly row: number; readonly normalised: readonly number[] }[];
  /** Mean of the normalised signals, by channel, in signal units (per Gy where divided by dose). */
  readonly normalised: readonly Scalar[];
  /** Mean of the signals of a reading as it stands, by channel. */
  readonly plain: readonly Scalar[];
  /** Pooled covariance of `normalised` with the display's resolution, for weights; channels × channels. */
  readonly weightCovariance: Float64Array;
}

/** The net signals of a series. */
export interface NetSeries {
  readonly name: string;
  readonly conditions: readonly NetCondition[];
  /** Degrees of freedom of the pooled type A; undefined where no condition has repeats. */
  readonly dof: number | undefined;
  readonly wild: readonly WildCondition[];
}

/** How the readings of a series become comparable. */
export interface Normalisation {
  readonly divisor: (condition: ConditionRows) => Divisor;
  /** The dose of a reading in Gy, where some condition is divided by it. */
  readonly dose_Gy?: (reading: Reading, row: number) => number | undefined;
  /** One input of value one that all doses of the table share, and how far a reading leans on it (1 fully). */
  readonly sharedDose?: {
    readonly scale: Scalar;
    readonly lean: (reading: Reading, row: number) => number | undefined;
  };
}

const SECOND = Unit.parse("s");
const CELSIUS = Unit.parse("°C");
const GRAY = Unit.parse("Gy");
const DIVISOR = {
  monitor: { column: "monitor", symbol: "M_mon", unit: Unit.parse("monitor") },
  mu: { column: "mu", symbol: "MU", unit: Unit.parse("MU") },
} as const;

/**
 * Net signals q_c = (M_c − b_c·t)·g_T with g_T = 1/(1 + α·(T − T_ref)), and beside them the same divided, reading by
 * reading, by what makes readings comparable: the monitor or the monitor units over their own mean in the series, or
 * the reading's dose.
 */
export function addNetSignals(
  chain: Chain,
  series: Series,
  conditions: readonly ConditionRows[],
  normalisation: Normalisation,
): NetSeries {
  const { channels, model } = chain;
  const noise = chain.background?.noise;
  const n = channels.length;
  const divisors = conditions.map((condition) => normalisation.divisor(condition));
  const compared = divisors.some((divisor) => divisor !== "none");
  const formulas = new NetFormulas(chain, series, normalisation, compared);
  const digits = channels.map((_, c) => lastDigit(series, c));
  const kinds = compared ? (["normalised", "plain"] as const) : (["plain"] as const);
  const leftOut: NetCondition["leftOut"][] = [];
  const measured = conditions.map(({ name, rows }, i): RepeatedCondition => {
    const { program, columns, scalars } = formulas.of(divisors[i]!);
    const display = addResolution(chain, series, name, counting(series, rows).length, digits);
    const inputs = [...display, ...scalars];
    const { means, state } = mean(model, { program, columns, rows, included: formulas.included }, inputs);
    const places = rows.map((row, k) => ({ row, k }));
    const live = places.filter(({ row }) => series.readings[row]!.exclude === undefined);
    const signals = (k: number) => means.map((_, output) => state.perRow[output * rows.length + k]!);
    const out = places.filter(({ row }) => series.readings[row]!.exclude !== undefined);
    leftOut.push(
      out
        .map(({ row, k }) => ({ row, normalised: signals(k).slice(0, n) }))
        .filter(({ normalised }) => normalised.every(Number.isFinite)),
    );
    // ∂output/∂(what the display hides) is the gain from the raw reading to the output
    const gains = means.map((_, output) => state.jacobian[output * inputs.length + (output % n)]!);
    return {
      name,
      means,
      columns: kinds.flatMap((kind) => channels.map((channel) => column(kind, channel, name))),
      readings: live.map(({ k }) => signals(k)),
      displayVariance: gains.map((gain, output) => (digits[output % n]! * digits[output % n]! * gain * gain) / 12),
      ...(noise && {
        constant: Float64Array.from({ length: gains.length * gains.length }, (_, k) => {
          const [a, b] = [Math.floor(k / gains.length), k % gains.length];
          return noise.covariance[(a % n) * n + (b % n)]! * gains[a]! * gains[b]!;
        }),
      }),
    };
  });
  const repeats = addRepeats(model, series.name, measured, "relative", n, noise?.dof);
  const named = (i: number, kind: "normalised" | "plain") => {
    const offset = kind === "plain" && compared ? n : 0;
    return channels.map((channel, c) => {
      const { name, symbol, label } = column(kind, channel, conditions[i]!.name);
      return repeats.means[i]![offset + c]!.named(`${series.name}/${conditions[i]!.name}/net/${name}`, symbol, label);
    });
  };
  return {
    name: series.name,
    dof: repeats.dof,
    wild: repeats.wild,
    conditions: conditions.map(({ name, condition, rows }, i): NetCondition => {
      const plain = named(i, "plain");
      const columns = measured[i]!.means.length;
      return {
        name,
        condition,
        rows,
        perReading: counting(series, rows).map((row, k) => ({
          row,
          normalised: measured[i]!.readings[k]!.slice(0, n),
        })),
        leftOut: leftOut[i]!,
        count: measured[i]!.readings.length,
        time: meanTime(series, rows),
        divisor: divisors[i]!,
        plain,
        normalised: compared ? named(i, "normalised") : plain,
        weightCovariance: Float64Array.from({ length: n * n }, (_, k) => {
          const [c, d] = [Math.floor(k / n), k % n];
          const display = c === d ? measured[i]!.displayVariance[c]! / measured[i]!.readings.length : 0;
          return repeats.weightCovariance[i]![c * columns + d]! + display;
        }),
      };
    }),
  };
}

function column(kind: "normalised" | "plain", channel: string, condition: string) {
  return kind === "plain"
    ? { name: channel, symbol: `q_${channel}`, label: `net signal, ${channel}, ${condition}` }
    : {
        name: `${channel}-normalised`,
        symbol: `q̂_${channel}`,
        label: `net signal, normalised, ${channel}, ${condition}`,
      };
}

/** The formulas of a series, one per divisor, and the columns and inputs that they need. */
class NetFormulas {
  readonly included: number;
  readonly #chain: Chain;
  readonly #series: Series;
  readonly #normalisation: Normalisation;
  readonly #compared: boolean;
  /** Slots of the columns that every formula needs, with the numbers of the columns. */
  readonly #columns: readonly { slot: Slot; number: number }[];
  readonly #scalars: readonly { slot: Slot; node: Scalar }[];
  readonly #temperature: "read" | "room" | "mixed";
  readonly #made = new Map<Divisor, { program: Program; columns: number[]; scalars: Scalar[] }>();

  constructor(chain: Chain, series: Series, normalisation: Normalisation, compared: boolean) {
    const { channels, signalUnit, background, model } = chain;
    this.#chain = chain;
    this.#series = series;
    this.#normalisation = normalisation;
    this.#compared = compared;
    this.included = addIncluded(chain, series);
    addTimes(chain, series);
    const columns: { slot: Slot; number: number }[] = [];
    const scalars: { slot: Slot; node: Scalar }[] = [];
    const take = (
      name: string,
      symbol: string,
      unit: Unit,
      cell: (reading: Reading, row: number) => number | undefined,
      derivedFrom?: string,
    ) =>
      columns.push({ slot: { symbol, unit }, number: addColumn(chain, series, name, symbol, unit, cell, derivedFrom) });
    const lean = (node: Scalar, symbol: string) => scalars.push({ slot: { symbol, unit: node.unit }, node });
    channels.forEach((channel, c) => {
      take(`signal_${channel}`, `M_${channel}`, signalUnit, ({ signals }) => signals[c]);
    });
    if (background) {
      take("duration_s", "t", SECOND, ({ duration_s }) => duration_s);
      const { groups } = background;
      const weights = series.readings.map(({ time }) => backgroundWeights(background, time));
      groups.forEach((group, k) => {
        const weight = (_: Reading, row: number) => weights[row]![k];
        if (groups.length > 1) take(`weight of ${group.name}`, `w_${group.name}`, ONE, weight, background.series);
        channels.forEach((channel, c) => {
          lean(group.rates[c]!, `b_${channel}${groups.length > 1 ? `,${group.name}` : ""}`);
        });
      });
    }
    const live = series.readings.filter(({ exclude }) => exclude === undefined);
    const read = live.filter(({ temperature_C }) => temperature_C !== undefined).length;
    this.#temperature = read === live.length ? "read" : read === 0 ? "room" : "mixed";
    if (this.#temperature !== "room") {
      const reference = chain.referenceTemperature.value;
      take("temperature_C", "T", CELSIUS, ({ temperature_C }) => temperature_C ?? reference);
      lean(chain.referenceTemperature, "T_ref");
    }
    if (this.#temperature === "mixed")
      take("temperature not read", "n_T", ONE, ({ temperature_C }) => (temperature_C === undefined ? 1 : 0));
    lean(chain.temperatureCoefficient, "α");
    if (this.#temperature !== "read") {
      const room = model.estimate({
        key: `${series.name}/temperature`,
        symbol: "δT",
        label: `temperature of ${series.name}, not read`,
        type: "B",
        unit: CELSIUS,
        value: 0,
        u: chain.roomTemperature_u,
      });
      lean(room, "δT");
    }
    this.#columns = columns;
    this.#scalars = scalars;
  }

  of(divisor: Divisor) {
    const known = this.#made.get(divisor);
    if (known) return known;
    const made = this.#make(divisor);
    this.#made.set(divisor, made);
    return made;
  }

  #make(divisor: Divisor) {
    const { channels, signalUnit } = this.#chain;
    const display = channels.map((channel): Slot => ({ symbol: `δM_${channel}`, unit: signalUnit }));
    const { columns: divisorColumns, scalars: divisorScalars, factor } = this.#divisor(divisor);
    const ownColumns = [...this.#columns, ...divisorColumns];
    const ownScalars = [...this.#scalars, ...divisorScalars];
    const program = new Program(
      ownColumns.map(({ slot }) => slot),
      [...display, ...ownScalars.map(({ slot }) => slot)],
      (columns, scalars) => {
        const plain = this.#net(columns, scalars.slice(channels.length), scalars.slice(0, channels.length));
        if (!this.#compared) return plain;
        if (!factor) return [...plain, ...plain];
        const divide = factor(
          columns.slice(this.#columns.length),
          scalars.slice(channels.length + this.#scalars.length),
        );
        return [...plain.map(divide), ...plain];
      },
    );
    return {
      program,
      columns: ownColumns.map(({ number }) => number),
      scalars: ownScalars.map(({ node }) => node),
    };
  }

  /** (M_c + δM_c − b_c·t)·g_T, by channel. */
  #net(columns: readonly Scalar[], scalars: readonly Scalar[], display: readonly Scalar[]): Scalar[] {
    const { channels, background } = this.#chain;
    const nextColumn = columns[Symbol.iterator]();
    const nextScalar = scalars[Symbol.iterator]();
    const take = (from: Iterator<Scalar>) => from.next().value as Scalar;
    let net = channels.map((_, c) => take(nextColumn).plus(display[c]!));
    if (background) {
      const duration = take(nextColumn);
      const { groups } = background;
      const rates = groups.map(() => {
        const weight = groups.length > 1 ? take(nextColumn) : undefined;
        return channels.map(() => (weight ? take(nextScalar).times(weight) : take(nextScalar)));
      });
      net = net.map((reading, c) => reading.minus(sum(rates.map((own) => own[c]!)).times(duration)));
    }
    const read = this.#temperature !== "room" ? take(nextColumn).minus(take(nextScalar)) : undefined;
    const notRead = this.#temperature === "mixed" ? take(nextColumn) : undefined;
    const alpha = take(nextScalar);
    const room = this.#temperature !== "read" ? take(nextScalar) : undefined;
    const excess = read && room ? read.plus(room.times(notRead!)) : (read ?? room!);
    const gain = alpha.times(excess).plus(1);
    return net.map((reading) => reading.over(gain));
  }

  /** What the net signal is divided by, and the slots that this needs. */
  #divisor(divisor: Divisor): {
    columns: { slot: Slot; number: number }[];
    scalars: { slot: Slot; node: Scalar }[];
    factor?: (columns: readonly Scalar[], scalars: readonly Scalar[]) => (net: Scalar) => Scalar;
  } {
    const [chain, series] = [this.#chain, this.#series];
    if (divisor === "none") return { columns: [], scalars: [] };
    if (divisor === "dose") {
      const { dose_Gy, sharedDose } = this.#normalisation;
      if (!dose_Gy) throw new Error("a condition is to be divided by dose, and there is no dose");
      const dose = addColumn(chain, series, "dose_Gy", "D", GRAY, dose_Gy);
      const columns = [{ slot: { symbol: "D", unit: GRAY }, number: dose }];
      if (!sharedDose)
        return {
          columns,
          scalars: [],
          factor:
            ([own]) =>
            (net) =>
              net.over(own!),
        };
      const leaning = addColumn(chain, series, "share of the dose uncertainty", "s", ONE, sharedDose.lean, series.name);
      return {
        columns: [...columns, { slot: { symbol: "s", unit: ONE }, number: leaning }],
        scalars: [{ slot: { symbol: "d", unit: ONE }, node: sharedDose.scale }],
        factor:
          ([own, lean], [scale]) =>
          (net) =>
            net.over(own!.times(scale!.minus(1).times(lean!).plus(1))),
      };
    }
    const { column: name, symbol, unit } = DIVISOR[divisor];
    const number = addColumn(chain, series, name, symbol, unit, (reading) => reading[divisor]);
    const slot = { symbol, unit };
    const identity = new Program([slot], [], (columns) => [columns[0]!]);
    const rows = series.readings.map((_, row) => row);
    const { means } = mean(chain.model, { program: identity, columns: [number], rows, included: this.included }, []);
    const typical = means[0]!.named(`${series.name}/mean-${name}`, `${symbol}_mean`, `mean ${name} of ${series.name}`);
    return {
      columns: [{ slot, number }],
      scalars: [{ slot: { symbol: `${symbol}_mean`, unit }, node: typical }],
      factor:
        ([own], [mean]) =>
        (net) =>
          net.times(mean!).over(own!),
    };
  }
}
