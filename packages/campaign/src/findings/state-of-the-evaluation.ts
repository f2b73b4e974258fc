import { list } from "./in-words.ts";
import type { Rule } from "./rule.ts";

/** Readings that are taken as net signals. */
export const backgroundAbsent: Rule = {
  code: "background-absent",
  level: "notice",
  sees: "a campaign without a background series",
  check({ background }) {
    if (background) return [];
    return [
      {
        level: "notice",
        code: "background-absent",
        message: "The campaign has no background series: its readings are taken as net signals.",
        effect: "A background left in them would weigh most in the smallest fields.",
        remedy: "Add a background series, or see that the reader has already taken it away.",
      },
    ];
  },
};

/** Dose without a calibration. */
export const calibrationAbsent: Rule = {
  code: "calibration-absent",
  level: "notice",
  sees: "neither a calibration series nor a known dose in the separation",
  check({ calibration, separation, typed }) {
    if (!separation || calibration || separation.coefficient || typed.calibration) return [];
    return [
      {
        level: "notice",
        code: "calibration-absent",
        message: "Nothing ties the signal to dose: output factors are given, doses are not.",
        remedy: "Add a calibration series where doses are wanted.",
      },
    ];
  },
};

/** Assumptions that nobody stated. */
export const assumptionDefault: Rule = {
  code: "assumption-default",
  level: "notice",
  sees: "assumptions left at their defaults",
  check({ assumptions }) {
    const { defaulted } = assumptions;
    if (defaulted.length === 0) return [];
    return [
      {
        level: "notice",
        code: "assumption-default",
        message: `Left at their defaults: ${defaulted.map((key) => key.split(".").at(-1)).join(", ")}.`,
        remedy: "State in datapackage.json what you know better.",
        where: { file: "datapackage.json", key: "/alcedo/assumptions" },
        facts: { defaults: defaulted.join(" ") },
      },
    ];
  },
};

/** Factors that this version does not compute. */
export const correctionsNotComputed: Rule = {
  code: "corrections-not-computed",
  level: "notice",
  sees: "output factors whose volume averaging and positioning are taken as one",
  check({ outputFactors, typed }) {
    if (!outputFactors) return [];
    const stated = new Set(
      (typed["output-factors"]?.readings ?? []).filter((r) => r.k_volume !== undefined).map((r) => r.condition),
    );
    const open = outputFactors.fields.filter(({ net }) => !stated.has(net.name)).map(({ net }) => net.name);
    return [
      {
        level: "notice",
        code: "corrections-not-computed",
        message:
          open.length > 0
            ? `output-factors: volume averaging (${list(open)}) and positioning (all fields) are not yet computed; their factors are one, without uncertainty.`
            : "output-factors: positioning is not yet computed; its factor is one, without uncertainty.",
        effect: "For a tip of 1 mm in a field of 5 mm the output factor is low by about 1.4 % (Gaussian profile).",
        remedy: "Give k_volume and k_volume_u for fields of 10 mm and less.",
        where: { series: "output-factors", column: "k_volume" },
      },
    ];
  },
};

/** A reference set that is read and not yet compared. */
export const referenceSetNotCompared: Rule = {
  code: "reference-set-not-compared",
  level: "notice",
  sees: "a reference set in the campaign",
  check({ typed }) {
    const set = typed["reference-set"];
    if (!set) return [];
    return [
      {
        level: "notice",
        code: "reference-set-not-compared",
        message: `${set.file}: ${set.values.length === 1 ? "one reference value was read and is" : `${set.values.length} reference values were read and are`} not yet compared with the results.`,
        where: { series: "reference-set", file: set.file },
      },
    ];
  },
};
