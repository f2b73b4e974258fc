import { COVERAGE, coverageFactor, pooledCovariance } from "@alcedo-dosimetry/metrology";
import { type ConditionRows, counting, type Reading, type Series } from "./readings.ts";

/** A field in which the monitor, per monitor unit, reads otherwise than in the reference field. */
export interface MonitorDifference {
  readonly condition: string;
  /** Mean of monitor/MU in the field over that in the reference, less one. */
  readonly difference: number;
  /** Its expanded uncertainty; NaN where there are no repeats. */
  readonly U: number;
}

/** Whether the monitor may normalise. */
export interface MonitorCheck {
  readonly seesField: boolean;
  /** The fields that say so, largest difference first. */
  readonly differences: readonly MonitorDifference[];
}

/** A difference that matters (common practice; proposed default). */
const LIMIT = 0.003;

/**
 * An output factor is dose per MU: the ratio monitor/MU may normalise fluctuation only. Where its mean under a field
 * differs from that under the reference by more than 0.3 % and more than U, the monitor sees the field (shading,
 * scatter), and the series is to be normalised by MU.
 *
 * @returns undefined where readings have no monitor or no monitor units.
 */
export function checkMonitor(
  series: Series,
  conditions: readonly (ConditionRows & { readonly role: "reference" | "field" })[],
): MonitorCheck | undefined {
  const ratio = ({ monitor, mu }: Reading) => (monitor === undefined || mu === undefined ? undefined : monitor / mu);
  const ratios = conditions.map(({ rows }) => counting(series, rows).map((row) => ratio(series.readings[row]!)));
  if (ratios.some((own) => own.some((value) => value === undefined))) return undefined;
  const {
    conditions: scatters,
    covariance,
    dof,
  } = pooledCovariance(
    ratios.map((own) => own.map((value) => [value!])),
    "relative",
  );
  const relative = covariance ? covariance[0]![0]! : Number.NaN;
  const k = dof === null ? Number.NaN : coverageFactor(COVERAGE, dof);
  const references = conditions.map((_, i) => i).filter((i) => conditions[i]!.role === "reference");
  const count = references.reduce((total, i) => total + scatters[i]!.count, 0);
  const mean = references.reduce((total, i) => total + scatters[i]!.means[0]! * scatters[i]!.count, 0) / count;
  const differences = conditions
    .map((condition, i) => ({
      condition,
      difference: scatters[i]!.means[0]! / mean - 1,
      U: k * Math.sqrt(relative / scatters[i]!.count + relative / count),
    }))
    // without repeats U is NaN and no difference can be told from chance
    .filter(({ condition: { role }, difference, U }) => role === "field" && Math.abs(difference) > Math.max(LIMIT, U))
    .map(({ condition: { name }, difference, U }) => ({ condition: name, difference, U }))
    .sort((a, b) => Math.abs(b.difference) - Math.abs(a.difference));
  return { seesField: differences.length > 0, differences };
}
