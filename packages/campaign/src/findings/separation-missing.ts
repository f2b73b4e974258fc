import type { Finding } from "../finding.ts";
import type { StageId } from "../result.ts";

/** Readings that need the separation, in a campaign without one. */
export function separationMissing(series: StageId): Finding {
  return {
    level: "error",
    code: "separation-missing",
    message: `${series}: the campaign has no separation series, and without it the stem light cannot be taken away.`,
    effect: `No result is given for ${series}.`,
    remedy: "Add a separation series to the campaign.",
    where: { series },
  };
}
