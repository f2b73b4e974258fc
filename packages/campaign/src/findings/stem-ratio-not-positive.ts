import type { Separation } from "@alcedo-dosimetry/dosimetry";
import type { Finding } from "../finding.ts";
import { significant } from "./in-words.ts";

/** ρ ≤ 0: one channel fell where the other rose, which no length of fibre does. */
export function stemRatioNotPositive({ stemRatio }: Separation): Finding | undefined {
  if (!stemRatio || stemRatio.value > 0) return undefined;
  return {
    level: "error",
    code: "stem-ratio-not-positive",
    message: `separation: the stem ratio is ${significant(stemRatio.value, 4)}; between the fit conditions one channel rises while the other falls, and stem light raises both.`,
    effect: "No coefficient, dose or output factor is given.",
    remedy:
      "See whether one channel saturates or was moved to another range between the conditions, and whether the conditions of one dose group really got the same dose.",
    where: { series: "separation" },
    facts: { stemRatio: stemRatio.value },
  };
}
