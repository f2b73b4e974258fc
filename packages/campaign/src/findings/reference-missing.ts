import { type Finding, sourceInWords } from "../finding.ts";
import type { SeriesReadings } from "../readings.ts";

/** Output factors without a reading of the reference field. */
export function referenceMissing(typed: SeriesReadings): Finding | undefined {
  const outputs = typed["output-factors"];
  if (!outputs || outputs.readings.some(({ role }) => role === "reference")) return undefined;
  return {
    level: "error",
    code: "reference-missing",
    message: `${sourceInWords(outputs)}: no reading that counts has the role reference.`,
    effect: "No output factor can be given: there is nothing to divide by.",
    remedy: 'Write "reference" in the column role of the readings in the reference field.',
    where: {
      series: "output-factors",
      column: "role",
      file: outputs.file,
      ...(outputs.sheet !== undefined && { sheet: outputs.sheet }),
    },
  };
}
