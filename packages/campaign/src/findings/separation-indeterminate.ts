import type { Finding } from "../finding.ts";
import type { SeriesReadings } from "../readings.ts";

/** Too few fit conditions, or all with the same mixture of light. */
export function separationIndeterminate(typed: SeriesReadings, why: string): Finding {
  return {
    level: "error",
    code: "separation-indeterminate",
    message: `${typed.separation?.file ?? "separation"}: the fit conditions do not determine the separation (${why}).`,
    effect: "No stem ratio, and nothing that needs it.",
    remedy:
      "Give at least two conditions of one dose group the role fit, with clearly different lengths of fibre in the beam; or conditions of different known dose (dose_Gy).",
    where: { series: "separation", ...(typed.separation && { file: typed.separation.file }) },
  };
}
