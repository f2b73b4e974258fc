import { type Evaluation, plain, type StageId } from "@alcedo-dosimetry/campaign";
import type { ConditionRow } from "./orders.ts";

type Evaluated = NonNullable<Evaluation["evaluated"]>;
type Net = NonNullable<Evaluated["separation"]>["net"]["conditions"][number];
type FieldReading = NonNullable<Evaluated["typed"]["output-factors"]>["readings"][number];

/** The conditions of each stage, in the order of the chain: what was read, and the names of what follows from it. */
export function conditionRows({ evaluated, nodes }: Evaluation): Partial<Record<StageId, ConditionRow[]>> {
  if (!evaluated) return {};
  const { separation, calibration, outputFactors, typed } = evaluated;
  /** Those of the ids that name a quantity of this evaluation. */
  const there = (ids: Readonly<Record<string, string>>) =>
    Object.fromEntries(Object.entries(ids).filter(([, id]) => nodes.has(id)));
  const row = (series: string, net: Net, more: Readonly<Record<string, string>> = {}): ConditionRow => ({
    condition: net.condition,
    count: net.count,
    signals: net.plain.map(({ value }) => value),
    ids: there({
      signal: `signal.${series}.${net.condition}`,
      dose: `dose.${series}.${net.condition}`,
      load: `stem-load.${series}.${net.condition}`,
      ...more,
    }),
  });
  const roles = new Map(typed.separation?.readings.map(({ condition, role }) => [condition, role]));
  const fields = new Map(typed["output-factors"]?.readings.map((reading) => [reading.condition, reading]));
  const seen = new Set<string>();
  return {
    ...(separation && {
      separation: separation.conditions.map((net) => ({
        ...row("separation", net, { verify: `separation.verify.${net.condition}` }),
        role: roles.get(net.condition) ?? net.role,
      })),
    }),
    ...(calibration && { calibration: calibration.net.conditions.map((net) => row("calibration", net)) }),
    ...(outputFactors && {
      "output-factors": outputFactors.net.conditions
        // a condition that was visited several times has one output factor
        .filter(({ condition }) => !seen.has(condition) && seen.add(condition))
        .map((net) => {
          const reading = fields.get(net.condition);
          return {
            ...row("output-factors", net, {
              factor: `output-factor.${net.condition}`,
              square: `equivalent-square.${net.condition}`,
              averaging: `volume-averaging.${net.condition}`,
              positioning: `positioning.${net.condition}`,
            }),
            ...(reading && { role: reading.role, field: fieldInWords(reading) }),
          };
        }),
    }),
  };
}

/** As measured at depth, or else as set. */
function fieldInWords({ shape, x_mm, y_mm, diameter_mm, fwhm_x_mm, fwhm_y_mm }: FieldReading): string {
  if (fwhm_x_mm !== undefined && fwhm_y_mm !== undefined)
    return fwhm_x_mm === fwhm_y_mm && shape === "circle"
      ? `⌀ ${plain(fwhm_x_mm)}`
      : `${plain(fwhm_x_mm)} × ${plain(fwhm_y_mm)}`;
  if (shape === "circle") return diameter_mm === undefined ? "" : `⌀ ${plain(diameter_mm)}`;
  return x_mm === undefined || y_mm === undefined ? "" : `${plain(x_mm)} × ${plain(y_mm)}`;
}
