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
  check({ weights, coefficient, typed }) {
    if (!weights || coefficient || typed.calibration) return [];
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

/** Factors that cannot be computed without the tip's size. */
export const correctionsNotComputed: Rule = {
  code: "corrections-not-computed",
  level: "warning",
  sees: "output factors of a detector whose active volume and axis are not stated",
  check({ outputFactors }) {
    const tabled = outputFactors?.correctionTable?.volumeAveraging === "included";
    const open = outputFactors?.fields.filter(({ model, stated }) => model === "none" && (tabled || !stated)) ?? [];
    if (open.length === 0) return [];
    const unstated = "output-factors: the detector's activeVolume and axis are not both stated, so";
    const where = { file: "datapackage.json", key: "/alcedo/detector/activeVolume" };
    if (tabled)
      return [
        {
          level: "warning",
          code: "corrections-not-computed",
          message: `${unstated} positioning is not computed; its factor is one, without uncertainty.`,
          remedy: "State activeVolume and axis of the detector in datapackage.json.",
          where,
        },
      ];
    return [
      {
        level: "warning",
        code: "corrections-not-computed",
        message: `${unstated} volume averaging (${list(open.map(({ name }) => name))}) and positioning are not computed; their factors are one, without uncertainty.`,
        effect: "For a tip of 1 mm in a field of 5 mm the output factor is low by about 1.4 % (Gaussian profile).",
        remedy: "State activeVolume and axis of the detector in datapackage.json, or k_volume in the table.",
        where,
      },
    ];
  },
};
