import type { Finding } from "../finding.ts";
import type { SeriesReadings } from "../readings.ts";
import { significant } from "./in-words.ts";
import { readingPlace, readingPlaceInWords } from "./table-place.ts";

/**
 * A monitor reading that nothing can be divided by: zero, or of the other sign than the rest. Either polarity will do, but
 * throughout.
 */
export function monitorNotUsable(series: "separation" | "output-factors", typed: SeriesReadings): Finding | undefined {
  const table = typed[series];
  const rows = table?.readings.filter((reading) => !("dose_Gy" in reading) && reading.monitor !== undefined) ?? [];
  const sign = Math.sign(rows.find(({ monitor }) => monitor !== 0)?.monitor ?? 1);
  const wrong = rows.find(({ monitor }) => Math.sign(monitor!) !== sign);
  if (!table || !wrong) return undefined;
  return {
    level: "error",
    code: "monitor-not-usable",
    message: `${readingPlaceInWords(table, wrong)}: the monitor reads ${significant(wrong.monitor!, 4)}, and readings are divided by it.`,
    effect: "No result is given from this series on.",
    remedy: "Leave the reading out with a reason, correct its monitor, or leave the column monitor out altogether.",
    where: {
      series,
      reading: wrong.id,
      condition: wrong.condition,
      column: "monitor",
      ...readingPlace(table, wrong),
    },
    facts: { monitor: wrong.monitor! },
  };
}
