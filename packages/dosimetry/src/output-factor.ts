import { ONE, type Scalar } from "@alcedo-dosimetry/metrology";
import type { Chain, Measured } from "./chain.ts";
import { correctedSignal, type SeparationWeights } from "./corrected-signal.ts";
import { type DescribedField, type FieldAssumptions, FieldCorrections, type FieldFactors } from "./field-factors.ts";
import { checkMonitor, type MonitorCheck } from "./monitor-check.ts";
import { addNetSignals, type Divisor, type NetCondition, type NetSeries } from "./net-signal.ts";
import { OutputCorrections, type OutputCorrectionTable, type TabledCorrection } from "./output-correction-table.ts";
import { type ConditionRows, conditionsOf, counting, type Reading, type Series } from "./readings.ts";
import { addReference, type Reference } from "./reference.ts";
import { fluctuationDivisor } from "./separation.ts";

/** A reading in a field; the field's description is the same in all rows of its condition. */
export interface OutputFactorReading extends Reading, DescribedField {
  readonly role: "reference" | "field";
}

/** One field with its output factor. */
export interface FieldOutput extends FieldFactors {
  readonly net: NetCondition;
  /** S_f, normalised. */
  readonly corrected: Scalar;
  /** S_ref at the time of the field. */
  readonly reference: Scalar;
  /** k_other of that field over the reference's, named `output-correction.<condition>`, where a table gives it. */
  readonly outputCorrection?: Scalar;
  /** How k was read off the table. */
  readonly tabled?: TabledCorrection;
  /** Ω, named `output-factor.<condition>`. */
  readonly outputFactor: Scalar;
}

/** The field output factors of a series. */
export interface OutputFactors {
  readonly net: NetSeries;
  /** What fluctuation was divided by, after the check of the monitor. */
  readonly divisor: Divisor;
  readonly monitor: MonitorCheck | undefined;
  readonly fields: readonly FieldOutput[];
  /** Fields without an output factor, because the table of output corrections does not reach to them. */
  readonly uncorrected: readonly FieldFactors[];
  /** Where there is a table of output corrections: k of the reference, or nothing where the table does not reach to it. */
  readonly correctionTable?: {
    readonly volumeAveraging: OutputCorrectionTable["volumeAveraging"];
    readonly reference?: TabledCorrection;
  };
  readonly referenceFactors: FieldFactors;
  readonly reference: Reference;
  /** The visits to the reference field, in order. */
  readonly visits: readonly NetCondition[];
}

/** What the output factors take from outside the series. */
export interface OutputFactorInputs extends FieldAssumptions {
  /** k_other, common to all fields; where a table is given, that stands in its place. */
  readonly outputCorrection: Measured;
  readonly correctionTable?: OutputCorrectionTable;
  /** Ω_int, from the intermediate reference field to the machine-specific one. */
  readonly intermediateLink: Measured;
}

/**
 * Ω = S_f/S_ref(t_f) · k_vol(f)/k_vol(ref) · k_pos(f)/k_pos(ref) · k_other · Ω_int (IAEA TRS-483; Alfonso et al.,
 * Med. Phys. 35, 5179 (2008)). With a table of output corrections k_other is k(S_f)/k(S_ref); k_vol stays out where the
 * table's factors hold it already. A field that the table does not reach to has no Ω, and where that is the reference, none has.
 */
export function addOutputFactors(
  chain: Chain,
  series: Series<OutputFactorReading>,
  separation: SeparationWeights,
  { outputCorrection, correctionTable, intermediateLink, ...assumptions }: OutputFactorInputs,
): OutputFactors {
  const { model } = chain;
  const conditions = visitsOf(series);
  const first = ({ rows }: ConditionRows) => firstOf(series, rows);
  const monitor = checkMonitor(
    series,
    conditions.map((condition) => ({ ...condition, role: first(condition).role })),
  );
  const divisor: Divisor = monitor?.seesField ? "mu" : fluctuationDivisor(series);
  const net = addNetSignals(chain, series, conditions, { divisor: () => divisor });
  const corrected = net.conditions.map(({ name, normalised }) =>
    correctedSignal(separation, normalised).named(
      `output-factors/${name}/corrected`,
      `S_${name}`,
      `corrected signal, normalised, ${name}`,
    ),
  );
  const isReference = conditions.map((condition) => first(condition).role === "reference");
  const own = net.conditions.map((condition, i) => ({
    condition,
    corrected: corrected[i]!,
    first: first(conditions[i]!),
  }));
  const visits = own.filter((_, i) => isReference[i]);
  const fields = own.filter((_, i) => !isReference[i]);
  const inOrder = [...visits].sort((a, b) => (a.condition.time ?? 0) - (b.condition.time ?? 0));
  const reference = addReference(
    model,
    inOrder.map(({ condition: { time, count }, corrected: signal }) => ({ corrected: signal, time, count })),
    fields.map(({ condition: { name, time } }) => ({ name, time })),
  );
  const other = correctionTable
    ? undefined
    : model.estimate({
        key: "output-correction",
        symbol: "k",
        label: "other output corrections",
        type: "B",
        unit: ONE,
        ...outputCorrection,
      });
  const link = model.estimate({
    key: "intermediate-link",
    symbol: "Ω_int",
    label: "link through the intermediate field",
    type: "B",
    unit: ONE,
    ...intermediateLink,
  });
  const corrections = new FieldCorrections(chain, assumptions);
  const referenceFactors = corrections.of(visits[0]!.first.condition, visits[0]!.first);
  const table = correctionTable && new OutputCorrections(model, correctionTable.values);
  const ofReference = table?.at(referenceFactors.name, referenceFactors.size.equivalentSquare, "reference");
  const found: FieldOutput[] = [];
  const uncorrected: FieldFactors[] = [];
  for (const [f, { condition, corrected: signal, first: reading }] of fields.entries()) {
    const { name } = condition;
    const at = reference.at[f]!;
    const own = corrections.of(name, reading);
    const tabled = ofReference && table?.at(name, own.size.equivalentSquare, "field");
    if (table && !tabled) {
      uncorrected.push(own);
      continue;
    }
    const ownOther =
      tabled?.factor
        .over(ofReference!.factor)
        .named(`output-correction.${name}`, `k_other,${name}`, `output correction of ${name}, over the reference's`) ??
      other!;
    const ratio = signal.over(at);
    const averaged =
      correctionTable?.volumeAveraging === "included"
        ? ratio
        : ratio.times(own.volumeAveraging.over(referenceFactors.volumeAveraging));
    const outputFactor = averaged
      .times(own.positioning.over(referenceFactors.positioning))
      .times(ownOther)
      .times(link)
      .named(`output-factor.${name}`, `Ω_${name}`, `field output factor of ${name}`);
    const read = tabled && { outputCorrection: ownOther, tabled };
    found.push({ ...own, net: condition, corrected: signal, reference: at, outputFactor, ...read });
  }
  return {
    net,
    divisor,
    monitor,
    reference,
    referenceFactors,
    visits: inOrder.map(({ condition }) => condition),
    fields: found,
    uncorrected,
    ...(correctionTable && {
      correctionTable: {
        volumeAveraging: correctionTable.volumeAveraging,
        ...(ofReference && { reference: ofReference }),
      },
    }),
  };
}

/** What describes a condition: its first reading that counts (of one that is left out a cell may be anything). */
function firstOf(series: Series<OutputFactorReading>, rows: readonly number[]): OutputFactorReading {
  return series.readings[counting(series, rows)[0]!]!;
}

/**
 * The conditions, the reference split into visits: measured again later, with other readings between, it counts as a
 * group of its own. Order is that of time where every reading has one, else that of the table.
 */
function visitsOf(series: Series<OutputFactorReading>): ConditionRows[] {
  const live = (row: number) => series.readings[row]!.exclude === undefined;
  const rows = series.readings.map((_, row) => row);
  const timed = rows.filter(live).every((row) => series.readings[row]!.time !== undefined);
  if (timed) rows.sort((a, b) => (series.readings[a]!.time ?? 0) - (series.readings[b]!.time ?? 0) || a - b);
  const visits: { name: string; rows: number[] }[] = [];
  let current: string | undefined;
  for (const row of rows.filter(live)) {
    const { condition, role } = series.readings[row]!;
    if (role === "reference" && condition !== current) visits.push({ name: condition, rows: [] });
    if (role === "reference") visits.at(-1)!.rows.push(row);
    current = condition;
  }
  // a reading that is left out belongs to the visit whose readings stand nearest to it in the table
  for (const row of rows.filter((r) => !live(r))) {
    const distance = (visit: { rows: number[] }) => Math.min(...visit.rows.map((other) => Math.abs(other - row)));
    const own = visits.filter(({ name }) => name === series.readings[row]!.condition);
    if (own.length > 0) own.reduce((a, b) => (distance(b) < distance(a) ? b : a)).rows.push(row);
  }
  const named = visits.map(({ name, rows: own }) => {
    const same = visits.filter((visit) => visit.name === name);
    const number = same.findIndex((visit) => visit.rows === own) + 1;
    return { name: same.length > 1 ? `${name}/${number}` : name, condition: name, rows: own.sort((a, b) => a - b) };
  });
  const fields = conditionsOf(series).filter(({ rows: own }) => firstOf(series, own).role === "field");
  return [...named, ...fields];
}
