import type { Evaluated } from "@alcedo-dosimetry/campaign";
import type { LightSeries } from "./series-words.ts";

/** The net signals of one condition, or of one visit to it. */
type NetCondition = NonNullable<Evaluated["separation"]>["net"]["conditions"][number];

/** The series that were reached, in the order of the chain, each with its conditions. */
export function netSeriesOf({
  separation,
  calibration,
  outputFactors,
}: Evaluated): { readonly series: LightSeries; readonly conditions: readonly NetCondition[] }[] {
  return [
    ...(separation ? [{ series: "separation" as const, conditions: separation.net.conditions }] : []),
    ...(calibration ? [{ series: "calibration" as const, conditions: calibration.net.conditions }] : []),
    ...(outputFactors ? [{ series: "output-factors" as const, conditions: outputFactors.net.conditions }] : []),
  ];
}
