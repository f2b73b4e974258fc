import { FAMILY_LEVEL } from "./false-alarms.ts";
import { significant } from "./in-words.ts";
import type { Rule } from "./rule.ts";

/** A condition whose repeats scatter more than those of the others. */
export const scatterUneven: Rule = {
  code: "scatter-uneven",
  level: "warning",
  sees: "a variance ratio too large for chance (F test, Šidák over conditions and channels)",
  threshold: { value: FAMILY_LEVEL / 4, unit: "1", source: "a share of 1 % per campaign, over four series" },
  check({ background, separation, calibration, outputFactors }) {
    const stages = [
      ["background", background?.wild],
      ["separation", separation?.net.wild],
      ["calibration", calibration?.net.wild],
      ["output-factors", outputFactors?.net.wild],
    ] as const;
    return stages.flatMap(([series, wild = []]) =>
      wild.map(({ condition, p }) => ({
        // set apart at p < 0.01 for its uncertainty; worth a warning only where chance hardly does it
        level: p < FAMILY_LEVEL / 4 ? ("warning" as const) : ("notice" as const),
        code: "scatter-uneven",
        message: `${series}: the repeats of ${condition} scatter more than those of the other conditions (p = ${significant(p, 2)}).`,
        effect: "It keeps its own, larger type A uncertainty; the others are pooled without it.",
        remedy:
          "Look for one reading that does not belong there; repeat the condition, or leave that reading out with a reason.",
        where: { series, condition },
        facts: { p },
      })),
    );
  },
};
