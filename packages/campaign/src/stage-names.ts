import type { StageId } from "./result.ts";

/** The stages as headings. */
export const STAGE_NAMES: Readonly<Record<StageId, string>> = {
  background: "Background",
  separation: "Separation",
  calibration: "Calibration",
  "output-factors": "Output factors",
};
