import type { Rule } from "./rule.ts";

/** A series without a single repeat. */
export const typeAUnknown: Rule = {
  code: "type-a-unknown",
  level: "warning",
  sees: "a series in which no condition has more than one reading",
  check({ background, separation, calibration, outputFactors, typed }) {
    const stages = [
      ["background", background],
      ["separation", separation?.net],
      ["calibration", calibration?.net],
      ["output-factors", outputFactors?.net],
    ] as const;
    return stages
      .filter(([, stage]) => stage && stage.dof === undefined)
      .map(([series]) => ({
        level: "warning",
        code: "type-a-unknown",
        message: `${series}: no condition has repeats, so nobody knows how much a reading scatters.`,
        effect: "u is that of the known components alone; no coverage factor and no expanded uncertainty are given.",
        remedy: "Take at least three readings of one condition, better of each.",
        where: { series, ...(typed[series] && { file: typed[series].file }) },
      }));
  },
};
