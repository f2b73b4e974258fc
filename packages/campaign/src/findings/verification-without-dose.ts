import type { Finding } from "../finding.ts";
import type { SeriesReadings } from "../readings.ts";
import { readingPlace, readingPlaceInWords } from "./table-place.ts";

/** A verification condition that nothing can be compared with. */
export function verificationWithoutDose(typed: SeriesReadings): Finding | undefined {
  const readings = typed.separation?.readings ?? [];
  const tied = readings.some(({ role, dose_Gy }) => role === "fit" && dose_Gy !== undefined);
  const fitted = new Set(readings.filter(({ role }) => role === "fit").map(({ doseGroup }) => doseGroup));
  const alone = readings.find(
    ({ role, doseGroup, dose_Gy }) => role === "verify" && !(dose_Gy === undefined ? fitted.has(doseGroup) : tied),
  );
  if (!alone) return undefined;
  const known = alone.dose_Gy !== undefined;
  return {
    level: "error",
    code: "verification-without-dose",
    message: known
      ? `${readingPlaceInWords(typed.separation!, alone)}: the verification ${alone.condition} has a known dose, but no fit condition has one to compare it with.`
      : `${readingPlaceInWords(typed.separation!, alone)}: the verification ${alone.condition} is in the dose group ${alone.doseGroup}, which has neither a fit condition nor a known dose.`,
    effect: "The separation is not evaluated: this condition has nothing to agree with.",
    remedy: known
      ? "Give dose_Gy for the fit conditions too, or leave it out here."
      : "Put it into the dose group of a fit condition, or give its dose in dose_Gy.",
    where: {
      series: "separation",
      reading: alone.id,
      condition: alone.condition,
      column: known ? "dose_Gy" : "dose_group",
      ...readingPlace(typed.separation!, alone),
    },
  };
}
